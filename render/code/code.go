// Package code gives the shape of a QR code on a page to the translators: as a path of
// its dark modules, or as a picture of whole dots.
//
// It belongs here when it is about the form in which a format has a code. Which modules
// are dark is settled by then.
package code

import (
	"bytes"
	"fmt"

	"stopleaf/layout"
)

// run is dark modules side by side in a row.
type run struct{ x, y, n int }

// runs are those of a code, row by row.
func runs(c *layout.Code) (out []run) {
	n := c.Side()
	for y := range n {
		for x := 0; x < n; x++ {
			if !c.Dark(x, y) {
				continue
			}
			r := run{x: x, y: y}
			for x < n && c.Dark(x, y) {
				x++
				r.n++
			}
			out = append(out, r)
		}
	}
	return out
}

// Path is a code's dark modules as one filled path.
func Path(c *layout.Code) *layout.Path {
	black := layout.Black
	p := &layout.Path{Fill: &black, Kind: "code"}
	all := layout.Um(c.Side())
	at := func(x, y int) [3]layout.Point {
		return [3]layout.Point{{X: c.X + layout.Um(x)*c.W/all, Y: c.Y + layout.Um(y)*c.H/all}}
	}
	for _, r := range runs(c) {
		p.Segs = append(p.Segs,
			layout.Seg{Kind: layout.MoveTo, P: at(r.x, r.y)}, layout.Seg{Kind: layout.LineTo, P: at(r.x+r.n, r.y)},
			layout.Seg{Kind: layout.LineTo, P: at(r.x+r.n, r.y+1)}, layout.Seg{Kind: layout.LineTo, P: at(r.x, r.y+1)}, layout.Seg{Kind: layout.Close})
	}
	return p
}

// Data is the same path as the d of an SVG path, in modules from the corner of the quiet
// zone.
func Data(c *layout.Code) string {
	var b []byte
	x, y := 0, 0
	for _, r := range runs(c) {
		b = fmt.Appendf(b, "m%d %dh%dv1h-%dz", r.x-x, r.y-y, r.n, r.n)
		x, y = r.x, r.y
	}
	return string(b)
}

// dots is how many dots of a picture a module has, so that a reader of the file that
// draws it smaller smooths its edges: at one dot a module zbarimg reads no page that
// pdftoppm draws at 200 dpi, at four it reads all.
const dots = 4

// Bits is a code as a picture of one bit a dot, n dots a side, 1 for light; each row
// begins with a byte of its own.
func Bits(c *layout.Code) (rows []byte, n int) {
	n = c.Side() * dots
	stride := (n + 7) / 8
	rows = bytes.Repeat([]byte{0xFF}, stride*n)
	for y := range c.Side() {
		line := rows[y*dots*stride:][:stride]
		for x := range c.Side() {
			if c.Dark(x, y) {
				line[x*dots/8] &^= 0xF0 >> (x * dots % 8) // four dots are half a byte
			}
		}
		for i := 1; i < dots; i++ {
			copy(rows[(y*dots+i)*stride:], line)
		}
	}
	return rows, n
}
