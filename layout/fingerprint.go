package layout

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"sync"
)

// fingerprint is what a page is known by: pages that look alike have the same,
// and it changes with any line, letter or picture. Twelve hexadecimal digits of
// the SHA-256 of its display list, without links, which paper does not show.
func fingerprint(p *Page) string {
	buf := printBuffers.Get().(*[]byte)
	e := listEncoder{b: append((*buf)[:0], 2)} // 2: the second way of writing a display list
	e.ums(p.W, p.H)
	e.text(p.Label)
	e.items(p.Items)
	sum := sha256.Sum256(e.b)
	*buf = e.b
	printBuffers.Put(buf)
	s := hex.EncodeToString(sum[:6])
	return s[:4] + "-" + s[4:8] + "-" + s[8:]
}

// printBuffers are what display lists were written in, for the next.
var printBuffers = sync.Pool{New: func() any {
	b := make([]byte, 0, 32<<10)
	return &b
}}

// listEncoder writes a display list so that no two have the same bytes: each
// item begins with what it is, each number is a varint, and what may be of any
// length begins with its length.
type listEncoder struct {
	b  []byte
	at Point // the last of a path; most steps are short from it
}

// What an item is.
const (
	codeEnd = iota // of a group
	codePath
	codeText
	codeImage
	codeGroup
	codeClip
	codeCode
)

func (e *listEncoder) num(n int64) { e.b = binary.AppendVarint(e.b, n) }

func (e *listEncoder) ums(list ...Um) {
	for _, u := range list {
		e.num(int64(u))
	}
}

func (e *listEncoder) text(s string) {
	e.num(int64(len(s)))
	e.b = append(e.b, s...)
}

// flags writes so many marks, eight at most.
func (e *listEncoder) flags(list ...bool) {
	var n byte
	for i, f := range list {
		if f {
			n |= 1 << i
		}
	}
	e.b = append(e.b, n)
}

func (e *listEncoder) items(items []Item) {
	for _, it := range items {
		switch v := it.(type) {
		case *Path:
			e.path(v)
		case *Text:
			e.b = append(e.b, codeText)
			e.ums(v.X, v.Y, v.Cap)
			e.flags(v.Bold)
			e.b = append(e.b, byte(v.Grey))
			e.num(int64(v.Turn))
			e.num(v.Space)
			e.text(v.S)
		case *Image:
			e.b = append(e.b, codeImage)
			e.rect(v.Rect)
			e.num(int64(v.Orientation))
			sum := v.Sum()
			e.b = append(e.b, sum[:]...)
		case *Code:
			e.b = append(e.b, codeCode)
			e.rect(v.Rect)
			e.num(int64(v.Modules.Size))
			for y := range v.Modules.Size {
				for x := 0; x < v.Modules.Size; x += 8 {
					var eight [8]bool
					for i := 0; i < 8 && x+i < v.Modules.Size; i++ {
						eight[i] = v.Modules.Dark(x+i, y)
					}
					e.flags(eight[:]...)
				}
			}
		case *Group:
			if v.Clip == nil {
				e.b = append(e.b, codeGroup)
			} else {
				e.b = append(e.b, codeClip)
				e.rect(*v.Clip)
			}
			e.items(v.Items)
			e.b = append(e.b, codeEnd)
		}
	}
}

func (e *listEncoder) rect(r Rect) { e.ums(r.X, r.Y, r.W, r.H) }

func (e *listEncoder) path(v *Path) {
	e.b = append(e.b, codePath)
	e.flags(v.Stroke.Round, v.Fill != nil)
	e.ums(v.Stroke.Width)
	e.b = append(e.b, byte(v.Stroke.Grey))
	if v.Fill != nil {
		e.b = append(e.b, byte(*v.Fill))
	}
	e.num(int64(len(v.Stroke.Dash)))
	e.ums(v.Stroke.Dash...)
	e.num(int64(len(v.Segs)))
	for i := range v.Segs {
		s := &v.Segs[i]
		e.b = append(e.b, byte(s.Kind))
		for _, pt := range s.P[:s.Kind.points()] {
			e.num(int64(pt.X - e.at.X))
			e.num(int64(pt.Y - e.at.Y))
			e.at = pt
		}
	}
}
