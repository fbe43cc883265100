package pdf

import (
	"bytes"
	"compress/zlib"
	"io"
	"sync"
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

// packers keeps compressors, which are dear to make: each takes a megabyte.
var packers = sync.Pool{New: func() any {
	z, _ := zlib.NewWriterLevel(io.Discard, zlib.BestSpeed) // a level that there is
	return z
}}

// pack compresses a stream unless it is to be plain.
func pack(data []byte, plain bool) stream {
	if plain {
		return stream{data: data}
	}
	var b bytes.Buffer
	b.Grow(len(data) / 4)
	z := packers.Get().(*zlib.Writer)
	defer packers.Put(z)
	z.Reset(&b)
	_, _ = z.Write(data) // memory takes everything
	_ = z.Close()
	return stream{data: b.Bytes(), packed: true}
}
