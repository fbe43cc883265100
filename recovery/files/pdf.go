package files

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"stopleaf/recovery"
)

// The key that stopleaf gives its embedded files, and what its value begins with;
// render/pdf writes them. Streams stay objects of their own, and their keys as they
// are, when another program saves a PDF again, so the file's tables are not needed.
const (
	markKey       = "/XXStopleaf"
	markCanonical = "canonical-"
	markWritten   = "written-"
)

// The bounds of a PDF's attachments, in bytes.
const (
	mostDict  = 4 << 10
	mostFile  = 1 << 20
	mostFiles = 256 << 20 // of all together
	mostMarks = 100_000
	mostErrs  = 5 // that are told
)

var (
	errBroken = errors.New("an attachment is damaged or cut short")
	errLarge  = errors.New("its attachments unfold to more than setups can hold")
	length    = lazy(`/Length\s+(\d+)(\s+\d+\s+R)?`)
	filter    = lazy(`/Filter\s*\[?\s*/(\w+)\s*\]?`)
)

// lazy compiles an expression where it is first needed: other commands start without.
func lazy(expression string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expression) })
}

// readPDF looks for the embedded files of stopleaf in a PDF.
func readPDF(data []byte) (found []Found, errs []error) {
	at := map[recovery.Fingerprint]int{} // 1 + place in found
	written := map[recovery.Fingerprint][]byte{}
	left := mostFiles
	for pos, n := 0, 0; n < mostMarks; n++ {
		i := bytes.Index(data[pos:], []byte(markKey))
		if i < 0 {
			break
		}
		pos += i + len(markKey)
		kind, print, file, err := embedded(data, pos, min(left, mostFile))
		if left -= len(file); left <= 0 {
			return nil, []error{errLarge}
		}
		switch {
		case err != nil && len(errs) == mostErrs:
		case err != nil:
			errs = append(errs, err)
		case kind == markWritten:
			written[print] = file
		case recovery.FingerprintOf(file) != print:
			errs = append(errs, fmt.Errorf("an attachment is not what it was: its fingerprint is not %s", print))
		case at[print] == 0:
			found = append(found, Found{Found: recovery.Found{File: file, Fingerprint: print}, Way: "an attachment"})
			at[print] = len(found)
		}
	}
	for i := range found {
		found[i].Written = written[found[i].Fingerprint]
	}
	switch {
	case len(found)+len(errs) > 0:
	case bytes.Contains(data, []byte("/Encrypt")):
		errs = []error{errors.New("it is encrypted; save it without a password first")}
	default:
		errs = []error{errNone}
	}
	return found, errs
}

// embedded reads the embedded file whose dictionary has the mark before pos. With
// an error the file is what was gone through in vain.
func embedded(data []byte, pos, most int) (kind string, print recovery.Fingerprint, file []byte, err error) {
	from := max(0, pos-mostDict)
	if i := bytes.LastIndex(data[from:pos], []byte("obj")); i >= 0 {
		from += i
	}
	after := data[pos:min(len(data), pos+mostDict)]
	end := bytes.Index(after, []byte("stream"))
	if end < 0 {
		return "", print, nil, errBroken
	}
	dict := string(data[from : pos+end])
	if kind, print, err = readMark(string(after[:end])); err != nil {
		return "", print, nil, err
	}
	body := data[pos+end+len("stream"):]
	body = bytes.TrimPrefix(bytes.TrimPrefix(body, []byte("\r")), []byte("\n"))
	size := -1
	if m := length().FindStringSubmatch(dict); m != nil && m[2] == "" {
		size, err = strconv.Atoi(m[1])
	} else {
		body = body[:min(len(body), 2*mostFile)]
		if size = bytes.Index(body, []byte("endstream")); size < 0 {
			return "", print, body, errBroken
		}
	}
	if err != nil || size < 0 || size > len(body) {
		return "", print, nil, errBroken
	}
	file, err = unfolded(body[:size], dict, most)
	return kind, print, file, err
}

// readMark reads the value of the mark: "/canonical-7F3A91C2".
func readMark(s string) (kind string, print recovery.Fingerprint, err error) {
	s = strings.TrimPrefix(strings.TrimLeft(s, " \t\r\n"), "/")
	for _, kind := range []string{markCanonical, markWritten} {
		digits, ok := strings.CutPrefix(s, kind)
		if !ok || len(digits) < 2*len(print) {
			continue
		}
		n, err := strconv.ParseUint(digits[:2*len(print)], 16, 32)
		if err != nil {
			return "", print, errBroken
		}
		for i := range print {
			print[i] = byte(n >> (8 * (len(print) - 1 - i)))
		}
		return kind, print, nil
	}
	return "", print, errors.New("an attachment is marked in a way that this program does not know; a newer stopleaf may read it")
}

// unfolded undoes a stream's filter.
func unfolded(body []byte, dict string, most int) ([]byte, error) {
	m := filter().FindStringSubmatch(dict)
	switch {
	case m == nil && len(body) > most:
		return nil, errLarge
	case m == nil:
		return body, nil
	case m[1] != "FlateDecode":
		return nil, fmt.Errorf("an attachment is packed with %.20q, which is not read", m[1])
	}
	z, err := zlib.NewReader(bytes.NewReader(body))
	if err != nil {
		return nil, errBroken
	}
	file, err := io.ReadAll(io.LimitReader(z, int64(most)+1))
	switch {
	case len(file) > most:
		return file, errLarge
	case err != nil:
		return file, errBroken
	}
	return file, nil
}
