// Package code gives the shape of a QR code on a page to the translators: as a path of
// its dark modules, or as a picture of one dot a module.
//
// It belongs here when it is about the form in which a format has a code. Which modules
// are dark is settled by then.
package code

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"

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

// Picture is a code as a PNG of one dot a module, with its quiet zone.
func Picture(c *layout.Code) (*layout.Image, error) {
	n := c.Side()
	img := image.NewPaletted(image.Rect(0, 0, n, n), color.Palette{color.White, color.Black})
	for _, r := range runs(c) {
		for i := range r.n {
			img.SetColorIndex(r.x+i, r.y, 1)
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return nil, err
	}
	return &layout.Image{Rect: c.Rect, Format: "png", Data: b.Bytes(), PxW: n, PxH: n, Channels: 1, Orientation: 1, Alt: c.Alt}, nil
}
