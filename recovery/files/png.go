package files

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
)

// pngTexts are the texts of a PNG's iTXt chunks, W3C PNG Third Edition, 11.3.3.4.
func pngTexts(data []byte) (texts [][]byte) {
	const head, tail, most = 8, 4, 4 << 20
	left := most
	for data = data[8:]; len(data) >= head+tail; {
		size := int64(binary.BigEndian.Uint32(data))
		if size > int64(len(data)-head-tail) {
			break
		}
		body := data[head : head+int(size)]
		if string(data[4:head]) == "iTXt" {
			if text := international(body, left); text != nil {
				texts = append(texts, text)
				left -= len(text)
			}
		}
		data = data[head+int(size)+tail:]
	}
	return texts
}

// international is the text of an iTXt chunk, at most so many bytes of it.
func international(body []byte, most int) []byte {
	_, rest, ok := bytes.Cut(body, []byte{0})
	if !ok || len(rest) < 2 {
		return nil
	}
	packed := rest[0] == 1
	_, rest, _ = bytes.Cut(rest[2:], []byte{0})
	_, rest, ok = bytes.Cut(rest, []byte{0})
	switch {
	case !ok:
		return nil
	case !packed:
		return rest[:min(len(rest), most)]
	}
	z, err := zlib.NewReader(bytes.NewReader(rest))
	if err != nil {
		return nil
	}
	text, _ := io.ReadAll(io.LimitReader(z, int64(most))) // what is cut short fails its check
	return text
}
