package pdf

import (
	"crypto/sha256"
	"fmt"

	"stopleaf/layout"
)

// ofCode gives the picture of a code, a bit a module and the quiet zone with it; ISO
// 32000-1, 8.9.5.
func (ps *pictures) ofCode(c *layout.Code, plain bool) *picture {
	n := c.Side()
	wide := (n + 7) / 8
	bits := make([]byte, n*wide) // dark is 0
	for y := range n {
		row := bits[y*wide : (y+1)*wide]
		for x := range n {
			if !c.Dark(x, y) {
				row[x/8] |= 0x80 >> (x % 8)
			}
		}
	}
	p := ps.find(sha256.Sum256(bits))
	p.once.Do(func() {
		s := pack(bits, plain)
		p.objects = []object{{fmt.Sprintf("<</Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /DeviceGray /BitsPerComponent 1%s /Length %d>>",
			n, n, s.filter(), len(s.data)), s.data}}
	})
	return p
}
