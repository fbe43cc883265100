// Package icc turns the pixels of a picture that carries a colour profile into
// sRGB. It reads what cameras and raw developers embed: profiles that are three
// primaries and a curve for each channel, or one curve for grey (ICC.1:2010,
// 8.3 and 8.4), and the tables of four printing inks (8.6). Other tables from
// colour to colour are refused with ErrTables.
package icc

import (
	"encoding/binary"
	"errors"
	"math"
)

// Space is what the channels of the picture stand for.
type Space string

// The spaces, as written in a profile's header (ICC.1:2010, table 19).
const (
	RGB  Space = "RGB "
	Grey Space = "GRAY"
	CMYK Space = "CMYK"
)

// ErrTables is a profile that is no set of primaries and curves.
var ErrTables = errors.New("the colour profile is a table")

// errDamaged is a profile that does not hold together.
var errDamaged = errors.New("the colour profile is damaged")

// Profile is what was read of a profile: the curve of each channel and, of RGB,
// the primaries; of inks a table.
type Profile struct {
	Space  Space
	curves []curve // one for grey, three for RGB
	matrix matrix  // linear RGB to XYZ under D50, columns are the primaries
	lut    *lut    // of inks
}

// The white of the profile connection space, D50 (ICC.1:2010, 7.2.16).
var d50 = [3]float64{0.9642, 1, 0.8249}

const headerSize = 128

// Parse reads a profile. One of tables that are not followed gives its space
// together with ErrTables.
func Parse(b []byte) (*Profile, error) {
	if len(b) < headerSize+4 || string(b[36:40]) != "acsp" {
		return nil, errDamaged
	}
	p := &Profile{Space: Space(b[16:20])}
	tags, err := readTags(b)
	if err != nil {
		return nil, err
	}
	switch {
	case p.Space == RGB && string(b[20:24]) == "XYZ ":
		return p, p.readRGB(tags)
	case p.Space == Grey:
		return p, p.readCurves(tags, "kTRC")
	}
	if p.Space == CMYK && string(b[20:24]) == "Lab " {
		return p, p.readInks(tags)
	}
	return p, ErrTables
}

// readInks reads the table that keeps colours as they are, else the one that
// makes pictures look alike.
func (p *Profile) readInks(tags map[string][]byte) (err error) {
	for _, name := range []string{"A2B1", "A2B0"} {
		if t, there := tags[name]; there {
			p.lut, err = readLUT(t)
			return err
		}
	}
	return ErrTables
}

// readTags gives the bytes of each tag; a tag that is not whole is left out.
func readTags(b []byte) (map[string][]byte, error) {
	const most = 1000 // far beyond any profile
	n := uint64(binary.BigEndian.Uint32(b[headerSize:]))
	if n > most || headerSize+4+12*n > uint64(len(b)) {
		return nil, errDamaged
	}
	tags := make(map[string][]byte, n)
	for i := range n {
		e := b[headerSize+4+12*i:]
		at, size := uint64(binary.BigEndian.Uint32(e[4:])), uint64(binary.BigEndian.Uint32(e[8:]))
		if at+size <= uint64(len(b)) {
			tags[string(e[:4])] = b[at : at+size]
		}
	}
	return tags, nil
}

func (p *Profile) readRGB(tags map[string][]byte) error {
	for i, name := range []string{"rXYZ", "gXYZ", "bXYZ"} {
		t, there := tags[name]
		if !there {
			return ErrTables
		}
		if len(t) < 20 || string(t[:4]) != "XYZ " {
			return errDamaged
		}
		for j := range 3 {
			p.matrix[j][i] = fixed(t[8+4*j:])
		}
	}
	if err := p.adapt(); err != nil {
		return err
	}
	return p.readCurves(tags, "rTRC", "gTRC", "bTRC")
}

// adapt brings the primaries to the white of the connection space. A profile's
// are there already (ICC.1:2010, 9.2.44 and annex E), but some old ones keep
// the white of the monitor.
func (p *Profile) adapt() error {
	white := p.matrix.times([3]float64{1, 1, 1})
	off := 0.0
	for i := range 3 {
		off = max(off, math.Abs(white[i]-d50[i]))
	}
	if !(white[0] > 0.2 && white[1] > 0.2 && white[2] > 0.05 && off < 2) {
		return errDamaged
	}
	if off > 0.01 {
		p.matrix = adaptation(white, d50).by(p.matrix)
	}
	return nil
}

func (p *Profile) readCurves(tags map[string][]byte, names ...string) error {
	for _, name := range names {
		t, there := tags[name]
		if !there {
			return ErrTables
		}
		c, err := readCurve(t)
		if err != nil {
			return err
		}
		p.curves = append(p.curves, c)
	}
	return nil
}

// fixed reads an s15Fixed16Number (ICC.1:2010, 4.6).
func fixed(b []byte) float64 {
	return float64(int32(binary.BigEndian.Uint32(b))) / 65536
}

// AdobeRGB is the space that a camera means by "R03" in its Exif block when it
// embeds no profile: primaries and the exponent 2 51/256 of Adobe RGB (1998)
// Color Image Encoding, 4.3, under D65, adapted to D50.
func AdobeRGB() *Profile {
	gamma := curve{kind: power, param: [7]float64{2.19921875, 1, 0, 1}}
	p := &Profile{Space: RGB, curves: []curve{gamma, gamma, gamma}}
	p.matrix = adaptation(d65, d50).by(primaries([3][2]float64{{0.64, 0.33}, {0.21, 0.71}, {0.15, 0.06}}, d65))
	return p
}
