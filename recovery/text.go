package recovery

import (
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Mark begins the text of every code.
const Mark = "STOPLEAF"

// MostParts is how many codes one setup may be spread over.
const MostParts = 16

// Texts gives the texts of the codes that hold a canonical file: one of at most
// most characters, or as few alike as are needed. The error says that more than
// MostParts would be.
func Texts(canonical []byte, most int) ([]string, error) {
	payload := pack(canonical)
	if one := Mark + ":" + base45(payload); len(one) <= most {
		return []string{one}, nil
	}
	f := FingerprintOf(canonical)
	for n := 2; n <= MostParts; n++ {
		share := (len(payload) + n - 1) / n
		texts := make([]string, 0, n)
		fits := true
		for i := 0; i < n; i++ {
			from, to := min(i*share, len(payload)), min((i+1)*share, len(payload))
			text := fmt.Sprintf("%s %d/%d %X:%s", Mark, i+1, n, f[:], base45(payload[from:to]))
			texts = append(texts, text)
			fits = fits && len(text) <= most
		}
		if fits {
			return texts, nil
		}
	}
	return nil, fmt.Errorf("the setup needs more than %d codes of %d characters", MostParts, most)
}

// Text is the text of one code, however long, that holds a canonical file: for
// files, which have more room than paper.
func Text(canonical []byte) string { return Mark + ":" + base45(pack(canonical)) }

// Found is a setup that was found in the texts of codes.
type Found struct {
	File        []byte // the canonical setup file
	Fingerprint Fingerprint
	From        []int // which of the texts it was in
}

// part is the text of one code, read.
type part struct {
	n, of int // 1 of 1 for a code that holds all
	f     Fingerprint
	body  string // Base45; spaces at its end may have been lost
	from  int    // the text that it was in
}

// set is a setup whose parts come in one by one.
type set struct {
	f     Fingerprint
	of    int
	parts map[int]part
}

// Read gives the setups that texts hold, each once: those of single codes, then
// those of several, in the order in which they are first seen. A text may hold
// several codes, and lines may be broken anywhere. What is no code of ours is passed
// over; the errors say what is wrong with a code that is: damaged, of a later
// version, with parts missing.
func Read(texts []string) (found []Found, errs []error) {
	seen := map[Fingerprint]bool{}
	keep := func(from []int, file []byte, err error) {
		if err != nil {
			errs = append(errs, err)
			return
		}
		if f := FingerprintOf(file); !seen[f] {
			seen[f] = true
			found = append(found, Found{file, f, from})
		}
	}
	var sets []*set
	for i, text := range texts {
		for _, code := range codes(text) {
			p, err := readPart(code)
			p.from = i
			switch {
			case err != nil:
				errs = append(errs, err)
			case p.of == 1:
				file, err := padded(p.body, unpack)
				keep([]int{i}, file, err)
			default:
				sets = addPart(sets, p)
			}
		}
	}
	for _, s := range sets {
		if !seen[s.f] {
			file, err := s.joined()
			keep(s.from(), file, err)
		}
	}
	return found, errs
}

// codes cuts a text into the codes in it, without what broke its lines.
func codes(text string) (out []string) {
	text = strings.NewReplacer("\n", "", "\r", "", "\t", "").Replace(text)
	pieces := strings.Split(text, Mark)
	for _, p := range pieces[1:] {
		if p != "" && (p[0] == ':' || p[0] == ' ') {
			out = append(out, p)
		}
	}
	return out
}

// readPart reads what follows the mark.
func readPart(text string) (part, error) {
	head, body, ok := strings.Cut(text, ":")
	if !ok {
		return part{}, fmt.Errorf("a code has nothing after %q", Mark+head)
	}
	if head == "" {
		return part{n: 1, of: 1, body: body}, nil
	}
	bad := fmt.Errorf("a code begins %q, which is not understood", Mark+head[:min(len(head), 30)])
	fields := strings.Fields(head)
	if len(fields) != 2 {
		return part{}, bad
	}
	first, last, ok := strings.Cut(fields[0], "/")
	n, err1 := strconv.Atoi(first)
	of, err2 := strconv.Atoi(last)
	id, err3 := hex.DecodeString(fields[1])
	p := part{n: n, of: of, body: body}
	if !ok || err1 != nil || err2 != nil || err3 != nil || len(id) != len(p.f) || n < 1 || n > of || of < 2 || of > MostParts {
		return part{}, bad
	}
	copy(p.f[:], id)
	return p, nil
}

func addPart(sets []*set, p part) []*set {
	for _, s := range sets {
		if s.f == p.f && s.of == p.of {
			if len(p.body) > len(s.parts[p.n].body) {
				s.parts[p.n] = p
			}
			return sets
		}
	}
	return append(sets, &set{f: p.f, of: p.of, parts: map[int]part{p.n: p}})
}

// from are the texts that the parts were in, each once.
func (s *set) from() (list []int) {
	for i := 1; i <= s.of; i++ {
		if p, ok := s.parts[i]; ok && !slices.Contains(list, p.from) {
			list = append(list, p.from)
		}
	}
	return list
}

// joined puts the parts together. All but the last are equally long.
func (s *set) joined() ([]byte, error) {
	var gone []string
	longest := 0
	for i := 1; i <= s.of; i++ {
		p, ok := s.parts[i]
		if !ok {
			gone = append(gone, strconv.Itoa(i))
		}
		if i < s.of {
			longest = max(longest, len(p.body))
		}
	}
	if gone != nil {
		return nil, fmt.Errorf("setup %s stands in %d codes, and of these %s could not be read", s.f, s.of, strings.Join(gone, ", "))
	}
	var payload []byte
	for i := 1; i < s.of; i++ {
		body := s.parts[i].body
		b, err := padded(body+strings.Repeat(" ", longest-len(body)), same)
		if err != nil {
			return nil, fmt.Errorf("code %d of %d of setup %s: %w", i, s.of, s.f, err)
		}
		payload = append(payload, b...)
	}
	return padded(s.parts[s.of].body, func(b []byte) ([]byte, error) { return unpack(append(payload[:len(payload):len(payload)], b...)) })
}

func same(b []byte) ([]byte, error) { return b, nil }

// padded reads Base45, and what it holds, with as many spaces at its end as may
// have been lost there. The error is that of the text as it stands.
func padded(body string, then func([]byte) ([]byte, error)) (out []byte, first error) {
	for pad := 0; pad <= 3; pad++ {
		b, err := unbase45(body + strings.Repeat(" ", pad))
		if err == nil {
			if out, err = then(b); err == nil {
				return out, nil
			}
		}
		if first == nil || errors.Is(first, errBase45) {
			first = err
		}
	}
	return nil, first
}
