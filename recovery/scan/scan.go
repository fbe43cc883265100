// Package scan finds codes (QR, ISO/IEC 18004) in the grey pixels of a scanned or
// photographed page and gives their texts.
//
// It belongs here when it is about pixels. What modules say belongs to
// recovery/symbol, what a text says to recovery.
//
// From the outside in: the picture is halved again and again, and on each scale finder
// patterns are sought along rows (finder.go). Three that can be the corners of a code
// are fitted to the pixels, and give its size (frame.go). From there every alignment
// pattern is sought, each by those around it that were found, so that a page that is not
// flat is followed (mesh.go). Modules are averaged and held against the light around them
// (sample.go), under several assumptions until the error correction holds.
//
// What is done is bounded by counts, not by time, so that the same picture gives the
// same on every machine.
package scan

import (
	"image"

	"stopleaf/recovery/symbol"
)

// MostPixels is how many pixels of a picture are looked at: what is larger is made
// smaller first. A page of A4 at 300 dpi has 8.7 million, a module of 0.4 mm then 4.7 a
// side.
const MostPixels = 16_000_000

// The bounds of the work on one picture.
const (
	mostSeen    = 3000 // places on one scale that look like a finder pattern
	mostFinders = 60   // of them, the clearest
	mostTriples = 400  // that are looked at closely
	mostPairs   = 150  // of two finders whose third is not seen
	mostTries   = 40   // codes that are sampled in vain
	mostCodes   = 64   // that are read
)

// Result is what a picture shows.
type Result struct {
	Texts   []string          // of the codes that were read, each once, from the top to the foot
	Where   []image.Rectangle // around each, in pixels of the picture
	Unread  int               // codes that are there and could not be read
	Foreign int               // codes that were read and hold what stopleaf never writes
}

// Read reads the codes in a picture.
func Read(img *image.Gray) Result {
	g := reduced(img)
	s := &scanner{levels: pyramid(g)}
	if g.w > 0 {
		s.scale = float64(img.Rect.Dx() / g.w)
	}
	s.scales()
	return s.result()
}

// found is a code, or where one seems to be.
type found struct {
	quad [4]point // its corners on the first scale, in order around it
	text string
	err  error
}

// scanner is the work on one picture.
type scanner struct {
	levels []*grey
	scale  float64 // pixels of the picture in one of the first scale
	codes  []found // that were read
	failed []found
	tries  int
}

// scales looks for codes on every scale, the whole picture first: that is where
// pages are.
func (s *scanner) scales() {
	var all [][]finder
	for i, g := range s.levels {
		finders := findFinders(g)
		scale := float64(int(1) << i)
		for j := range finders {
			finders[j].at = finders[j].at.times(scale)
			finders[j].module *= scale
		}
		all = append(all, finders)
		s.each(triples(finders))
	}
	for _, finders := range all {
		s.each(pairs(finders))
	}
}

// each tries what can be the corners of codes.
func (s *scanner) each(list []triple) {
	for _, t := range list {
		if s.tries >= mostTries || len(s.codes) >= mostCodes {
			return
		}
		if !s.known(t) {
			s.try(t)
		}
	}
}

// known tells whether a corner of a triple is one of a code that was read.
func (s *scanner) known(t triple) bool {
	for _, f := range t.finders() {
		for _, c := range s.codes {
			if inside(c.quad, f.at) {
				return true
			}
		}
	}
	return false
}

// try reads the code that a triple is the corners of.
func (s *scanner) try(t triple) {
	level := 0 // where a module has from three to eight pixels
	for level+1 < len(s.levels) && t.module()/float64(int(1)<<level) >= 8 {
		level++
	}
	scale := 1 / float64(int(1)<<level)
	c, ok := locate(s.levels[level], t.scaled(scale))
	if !ok {
		return
	}
	text, err := c.read()
	if err == errNoCode {
		return
	}
	s.tries++
	f := found{text: text, err: err}
	n := float64(c.n)
	for i, p := range []point{{0, 0}, {n, 0}, {n, n}, {0, n}} {
		f.quad[i] = c.at(p.x, p.y).times(1 / scale)
	}
	if err == nil || err == symbol.ErrForeign {
		s.codes = append(s.codes, f)
		return
	}
	s.failed = append(s.failed, f)
}

// result puts together what was found.
func (s *scanner) result() (r Result) {
	seen := map[string]bool{}
	order(s.codes)
	for _, c := range s.codes {
		switch {
		case c.err != nil:
			r.Foreign++
		case !seen[c.text]:
			seen[c.text] = true
			r.Texts = append(r.Texts, c.text)
			r.Where = append(r.Where, around(c.quad, s.scale))
		}
	}
	var apart []found // failed codes that are not a read one seen otherwise
	for _, f := range s.failed {
		if !overlaps(f, s.codes) && !overlaps(f, apart) {
			apart = append(apart, f)
		}
	}
	r.Unread = len(apart)
	return r
}
