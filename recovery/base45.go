package recovery

import (
	"errors"
	"strings"
)

// alphabet is that of Base45 (RFC 9285), which is the alphanumeric mode's of
// ISO/IEC 18004.
const alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"

// base45 writes two bytes as three characters, the least figure first, and a
// single last byte as two.
func base45(b []byte) string {
	var out strings.Builder
	out.Grow((len(b)*3 + 1) / 2)
	for ; len(b) >= 2; b = b[2:] {
		n := int(b[0])<<8 | int(b[1])
		out.WriteByte(alphabet[n%45])
		out.WriteByte(alphabet[n/45%45])
		out.WriteByte(alphabet[n/45/45])
	}
	if len(b) == 1 {
		out.WriteByte(alphabet[int(b[0])%45])
		out.WriteByte(alphabet[int(b[0])/45])
	}
	return out.String()
}

var errBase45 = errors.New("its text is damaged")

// unbase45 reads what base45 wrote.
func unbase45(s string) ([]byte, error) {
	if len(s)%3 == 1 {
		return nil, errBase45
	}
	out := make([]byte, 0, len(s)/3*2+1)
	for ; len(s) > 0; s = s[min(3, len(s)):] {
		n, unit := 0, 1
		for i := 0; i < min(3, len(s)); i++ {
			d := strings.IndexByte(alphabet, s[i])
			if d < 0 {
				return nil, errBase45
			}
			n += d * unit
			unit *= 45
		}
		switch {
		case len(s) >= 3 && n <= 0xffff:
			out = append(out, byte(n>>8), byte(n))
		case len(s) == 2 && n <= 0xff:
			out = append(out, byte(n))
		default:
			return nil, errBase45
		}
	}
	return out, nil
}
