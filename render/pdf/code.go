package pdf

import (
	"crypto/sha256"
	"fmt"

	"stopleaf/layout"
	"stopleaf/render/code"
)

// ofCode gives the picture of a code, with its quiet zone, a bit a dot; ISO 32000-1,
// 8.9.5.
func (ps *pictures) ofCode(c *layout.Code, plain bool) *picture {
	bits, n := code.Bits(c)
	p := ps.find(sha256.Sum256(bits))
	p.once.Do(func() {
		s := pack(bits, plain)
		p.objects = []object{{fmt.Sprintf("<</Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /DeviceGray /BitsPerComponent 1%s /Length %d>>",
			n, n, s.filter(), len(s.data)), s.data}}
	})
	return p
}
