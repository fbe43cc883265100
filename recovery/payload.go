package recovery

import (
	"bytes"
	"compress/flate"
	"crypto/sha256"
	_ "embed"
	"errors"
	"fmt"
	"io"
	"sync"
)

// dictionary1 is what version 1 of a code takes as having been said already.
// Never change it: codes on paper need it.
//
//go:embed dictionary1.txt
var dictionary1 []byte

const (
	version    = 1
	headBytes  = 1 + len(Fingerprint{})
	mostPacked = 64 << 10 // bytes of payload that are looked at
	mostFile   = 1 << 20  // bytes of a setup file, as package setup bounds them
)

// Fingerprint tells one canonical file from another.
type Fingerprint [4]byte

// String is how paper shows a fingerprint: "7F3A 91C2".
func (f Fingerprint) String() string { return fmt.Sprintf("%X %X", f[:2], f[2:]) }

// FingerprintOf is the fingerprint of a canonical file.
func FingerprintOf(canonical []byte) (f Fingerprint) {
	sum := sha256.Sum256(canonical)
	copy(f[:], sum[:])
	return f
}

// pack makes the payload of a canonical file.
func pack(canonical []byte) []byte {
	var b bytes.Buffer
	b.WriteByte(version)
	f := FingerprintOf(canonical)
	b.Write(f[:])
	w := packers.Get().(*flate.Writer)
	w.Reset(&b)
	w.Write(canonical) // into memory: no error
	w.Close()
	packers.Put(w)
	return b.Bytes()
}

// packers hold tables of a megabyte, for the next payload.
var packers = sync.Pool{New: func() any {
	w, err := flate.NewWriterDict(nil, flate.BestCompression, dictionary1)
	if err != nil {
		panic(err) // the level is one there is
	}
	return w
}}

// The errors of a payload that is no setup.
var (
	errShort    = errors.New("it is cut short")
	errChecksum = errors.New("its checksum does not hold: part of it was misread")
	errTooLarge = errors.New("it unfolds to more than a setup file can hold")
)

// unpack gives the canonical file of a payload. It takes bounded time and memory
// whatever the bytes are.
func unpack(payload []byte) ([]byte, error) {
	switch {
	case len(payload) < headBytes:
		return nil, errShort
	case payload[0] != version:
		return nil, fmt.Errorf("it is of version %d, and this program reads version %d; a newer stopleaf may read it", payload[0], version)
	case len(payload) > mostPacked:
		return nil, errTooLarge
	}
	r := flate.NewReaderDict(bytes.NewReader(payload[headBytes:]), dictionary1)
	file, err := io.ReadAll(io.LimitReader(r, mostFile+1))
	switch {
	case len(file) > mostFile:
		return nil, errTooLarge
	case errors.Is(err, io.ErrUnexpectedEOF):
		return nil, errShort
	case err != nil:
		return nil, errChecksum
	}
	if f := FingerprintOf(file); !bytes.Equal(f[:], payload[1:headBytes]) {
		return nil, errChecksum
	}
	return file, nil
}
