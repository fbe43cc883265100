package layout

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
)

// fingerprint is what a page is known by: pages that look alike have the same,
// and it changes with any line, letter or picture. Twelve hexadecimal digits of
// the SHA-256 of its display list, without links, which paper does not show.
func fingerprint(p *Page) string {
	h := sha256.New()
	fmt.Fprintf(h, "1 %d %d %q\n", p.W, p.H, p.Label)
	write(h, p.Items)
	s := hex.EncodeToString(h.Sum(nil)[:6])
	return s[:4] + "-" + s[4:8] + "-" + s[8:]
}

func write(h hash.Hash, items []Item) {
	for _, it := range items {
		switch v := it.(type) {
		case *Path:
			fmt.Fprintf(h, "path %d %d %v %d %t", len(v.Segs), v.Stroke.Width, v.Stroke.Dash, v.Stroke.Grey, v.Stroke.Round)
			if v.Fill != nil {
				fmt.Fprintf(h, " %d", *v.Fill)
			}
			var b [8]byte
			for _, s := range v.Segs {
				h.Write([]byte{byte(s.Kind)})
				for _, pt := range s.P {
					for _, u := range [2]Um{pt.X, pt.Y} {
						for i := range b {
							b[i] = byte(u >> (8 * i))
						}
						h.Write(b[:])
					}
				}
			}
		case *Text:
			fmt.Fprintf(h, "text %d %d %d %t %d %d %q\n", v.X, v.Y, v.Cap, v.Bold, v.Grey, v.Turn, v.S)
		case *Image:
			fmt.Fprintf(h, "image %v %d %d %d %d %x\n", v.Rect, v.PxW, v.PxH, v.Channels, v.Orientation, sha256.Sum256(v.Data))
		case *Group:
			fmt.Fprintf(h, "group %d %v\n", len(v.Items), v.Clip != nil)
			if v.Clip != nil {
				fmt.Fprintf(h, "%v\n", *v.Clip)
			}
			write(h, v.Items)
		}
	}
}
