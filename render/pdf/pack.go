package pdf

import (
	"bytes"
	"encoding/binary"
	"hash/adler32"

	"github.com/klauspost/compress/flate"
)

// stream is what stands between the words stream and endstream.
type stream struct {
	data   []byte
	packed bool
}

func (s stream) filter() string {
	if s.packed {
		return " /Filter /FlateDecode"
	}
	return ""
}

// pack compresses a stream, as RFC 1950 has it, or copies one that is to be plain. The
// compressor keeps nothing between streams, so a run that writes one page does
// not pay for tables of a megabyte.
func pack(data []byte, plain bool) stream {
	if plain {
		return stream{data: bytes.Clone(data)}
	}
	var b bytes.Buffer
	b.Grow(len(data)/3 + 64)
	b.WriteString("\x78\x01")                       // deflate in a window of 32 kB, in the fastest way
	_ = flate.StatelessDeflate(&b, data, true, nil) // memory takes everything
	return stream{data: binary.BigEndian.AppendUint32(b.Bytes(), adler32.Checksum(data)), packed: true}
}
