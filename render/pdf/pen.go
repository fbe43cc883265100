package pdf

import (
	"slices"

	"stopleaf/layout"
	"stopleaf/layout/text"
	"stopleaf/render/internal/paper"
)

// pen is what the contents have set so far, so that it is not said again; zero
// is nothing known.
type pen struct {
	stroke struct {
		known bool
		layout.Stroke
	}
	fill struct {
		known bool
		grey  layout.Grey
	}
	font struct {
		cap  layout.Um
		bold bool
	}
}

// stroke sets the line. A dash pattern of odd length means the same here and in
// SVG: it is gone through twice.
func (d *drawing) stroke(s layout.Stroke) {
	now := &d.now.stroke
	if !now.known || s.Grey != now.Grey {
		d.out = appendGrey(d.out, s.Grey, 'G')
	}
	if !now.known || s.Width != now.Width {
		d.out = append(paper.AppendMm(d.out, s.Width), " w\n"...)
	}
	if !now.known || s.Round != now.Round {
		if s.Round {
			d.out = append(d.out, "1 J 1 j\n"...)
		} else {
			d.out = append(d.out, "0 J 0 j\n"...)
		}
	}
	if !now.known || !slices.Equal(s.Dash, now.Dash) {
		d.out = append(d.out, '[')
		for i, u := range s.Dash {
			if i > 0 {
				d.out = append(d.out, ' ')
			}
			d.out = paper.AppendMm(d.out, u)
		}
		d.out = append(d.out, "] 0 d\n"...)
	}
	now.known, now.Stroke = true, s
}

func (d *drawing) fill(g layout.Grey) {
	if now := &d.now.fill; !now.known || now.grey != g {
		d.out = appendGrey(d.out, g, 'g')
		now.known, now.grey = true, g
	}
}

func appendGrey(b []byte, g layout.Grey, op byte) []byte {
	b = paper.AppendNum(b, float64(g)/255, 4)
	return append(b, ' ', op, '\n')
}

// font sets the face and the size, by the height of its capitals.
func (d *drawing) font(bold bool, capHeight layout.Um) {
	now := &d.now.font
	if now.cap == capHeight && now.bold == bold {
		return
	}
	now.cap, now.bold = capHeight, bold
	d.out = append(append(append(d.out, '/'), fontName(bold)...), ' ')
	d.out = append(paper.AppendNum(d.out, text.Em(int64(capHeight))/1000, 8), " Tf "...)
}
