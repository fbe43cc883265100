package pdf

import (
	"bufio"
	"crypto/sha256"
	"fmt"
	"hash"
	"io"
	"strconv"
	"strings"
)

// file is a PDF under way: how much of it is written and where each object
// begins in it.
type file struct {
	out     *bufio.Writer
	sum     hash.Hash // of all that is written
	at      int64
	offsets []int64 // by object number; 0 is not used
	err     error
}

// The objects that others name before they can be written.
const (
	pagesObject = 1 // the root of the tree of pages
	fontsObject = 2 // the fonts by their names in the contents
	reserved    = 3 // the first number of any other
)

// header has a second line so that nothing takes the file for text.
const header = "%PDF-1.7\n%\xE2\xE3\xCF\xD3\n"

func newFile(w io.Writer) *file {
	f := &file{out: bufio.NewWriterSize(w, 16<<10), sum: sha256.New(), offsets: make([]int64, reserved)}
	f.write([]byte(header))
	return f
}

func (f *file) write(b []byte) {
	f.sum.Write(b) // a hash takes everything
	if _, err := f.out.Write(b); err != nil && f.err == nil {
		f.err = err
	}
	f.at += int64(len(b))
}

// add writes an object and gives its number.
func (f *file) add(body string) int {
	n := f.next()
	f.offsets = append(f.offsets, 0)
	f.put(n, body)
	return n
}

// put writes an object under a number that it has already.
func (f *file) put(n int, body string) {
	f.offsets[n] = f.at
	f.write([]byte(strconv.Itoa(n) + " 0 obj\n" + body + "\nendobj\n"))
}

// addStream writes a stream with more in its dictionary and gives its number.
func (f *file) addStream(more string, s stream) int {
	return f.addObject("<</Length "+strconv.Itoa(len(s.data))+s.filter()+more+">>", s.data)
}

// addObject writes a stream with its whole dictionary and gives its number.
func (f *file) addObject(dict string, data []byte) int {
	n := f.next()
	f.offsets = append(f.offsets, f.at)
	f.write([]byte(strconv.Itoa(n) + " 0 obj\n" + dict + "\nstream\n"))
	f.write(data)
	f.write([]byte("\nendstream\nendobj\n"))
	return n
}

// next is the number that add will give.
func (f *file) next() int { return len(f.offsets) }

func ref(n int) string { return strconv.Itoa(n) + " 0 R" }

func refs(list []int) string {
	var b []byte
	for i, n := range list {
		if i > 0 {
			b = append(b, ' ')
		}
		b = append(strconv.AppendInt(b, int64(n), 10), " 0 R"...)
	}
	return string(b)
}

// end writes the table and the trailer. The identity is a hash of all before.
func (f *file) end(root, info int) error {
	sum, table := f.sum.Sum(nil), f.at
	var b strings.Builder
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(f.offsets))
	for _, at := range f.offsets[1:] {
		fmt.Fprintf(&b, "%010d 00000 n \n", at)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d /Root %s /Info %s /ID [<%x> <%x>]>>\nstartxref\n%d\n%%%%EOF\n",
		len(f.offsets), ref(root), ref(info), sum[:16], sum[:16], table)
	f.write([]byte(b.String()))
	if f.err != nil {
		return f.err
	}
	return f.out.Flush()
}
