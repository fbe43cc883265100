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

// packer is a compressor with what it writes to. It takes a megabyte, so it is
// kept for the next stream.
type packer struct {
	z   *zlib.Writer
	out bytes.Buffer
}

var packers = sync.Pool{New: func() any {
	z, _ := zlib.NewWriterLevel(io.Discard, zlib.BestSpeed) // a level that there is
	return &packer{z: z}
}}

// pack compresses a stream unless it is to be plain.
func pack(data []byte, plain bool) stream {
	if plain {
		return stream{data: data}
	}
	p := packers.Get().(*packer)
	defer packers.Put(p)
	p.out.Reset()
	p.z.Reset(&p.out)
	_, _ = p.z.Write(data) // memory takes everything
	_ = p.z.Close()
	return stream{data: bytes.Clone(p.out.Bytes()), packed: true}
}
