package files

import (
	"bytes"
	"encoding/binary"
)

// extensions are what of a JPEG's XMP did not fit one segment, put together: each part
// names the whole, its length and its place in it (Adobe, XMP Specification Part 3,
// 1.1.3.1; from memory).
func extensions(data []byte) (texts [][]byte) {
	const name = "http://ns.adobe.com/xmp/extension/\x00"
	const sum, head = 32, 32 + 4 + 4
	whole := map[string][]byte{}
	left := mostChars
	for at := 2; at+4 <= len(data) && data[at] == 0xFF; {
		mark, size := data[at+1], int(binary.BigEndian.Uint16(data[at+2:]))
		if size < 2 || at+2+size > len(data) || mark == 0xDA { // the pixels begin
			break
		}
		body, ours := bytes.CutPrefix(data[at+4:at+2+size], []byte(name))
		at += 2 + size
		if mark != 0xE1 || !ours || len(body) < head {
			continue
		}
		key := string(body[:head-4])
		long, from := int(binary.BigEndian.Uint32(body[sum:])), int(binary.BigEndian.Uint32(body[sum+4:]))
		if whole[key] == nil {
			if long < 1 || long > left {
				continue
			}
			left -= long
			whole[key] = make([]byte, long)
			texts = append(texts, whole[key])
		}
		if from >= 0 && from < long {
			copy(whole[key][from:], body[head:])
		}
	}
	return texts
}
