package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"stopleaf/layout"
	"stopleaf/recovery"
	"stopleaf/recovery/files"
	"stopleaf/setup"
)

// recovered is a setup that was got back.
type recovered struct {
	files.Found
	from string // the file that it was in; "" for the text of codes
	code string
	data []byte // what is written
	as   string // ", as it was written", or nothing
}

// runRecover gets setups back from what was drawn of them.
func runRecover(c *call) error {
	list, broken, err := c.recoverAll()
	if err != nil {
		return err
	}
	if wanted, given := c.set["code"]; given && len(list) > 0 {
		var some []*recovered
		for _, r := range list {
			if strings.EqualFold(r.code, wanted) {
				some = append(some, r)
			}
		}
		if len(some) == 0 {
			return &usageError{fmt.Sprintf("no setup there has the code %q; there are %s", wanted, codesOf(list)), ""}
		}
		list = some
	}
	if len(list) == 0 {
		return errReported
	}
	if err := c.saveRecovered(list); err != nil {
		return err
	}
	if broken {
		return errReported
	}
	return nil
}

// code is the text of one code, or of several, and where it was.
type code struct {
	text, from string // from is a file; "-" is standard input
	pictured   bool
}

// recoverAll reads every file, says what is wrong with it, and gives each setup
// once, the one with its comments first.
func (c *call) recoverAll() (list []*recovered, broken bool, err error) {
	var codes []code
	add := func(f files.Found, from string) {
		for _, r := range list {
			if r.Fingerprint == f.Fingerprint {
				if r.Written == nil && f.Written != nil {
					r.Found, r.from = f, from
				}
				return
			}
		}
		list = append(list, &recovered{Found: f, from: from})
	}
	for _, name := range c.operands {
		data, err := c.readBounded(name)
		if err != nil {
			return nil, false, err
		}
		r := files.Read(data)
		for _, f := range r.Found {
			add(f, name)
		}
		for _, err := range r.Errs {
			broken = true
			c.say("%s: %v", name, err)
		}
		for _, text := range r.Codes {
			codes = append(codes, code{text, name, r.Pictured})
		}
	}
	found, errs := readCodes(codes)
	for _, err := range errs {
		broken = true
		c.say("%v", err)
	}
	for _, f := range found {
		add(f, "")
	}
	for _, r := range list {
		r.settle()
	}
	return list, broken, nil
}

// readCodes reads codes from all files together, for one setup may be spread over
// several. What is wrong is said of the files it can be wrong in.
func readCodes(codes []code) (out []files.Found, errs []error) {
	var texts []string
	for _, k := range codes {
		texts = append(texts, k.text)
	}
	found, wrong := recovery.Read(texts)
	if len(texts) > 0 && len(found)+len(wrong) == 0 {
		wrong = append(wrong, fmt.Errorf("no code of stopleaf is in it; one begins with %q", recovery.Mark+":"))
	}
	for _, err := range wrong {
		errs = append(errs, fmt.Errorf("%s: %w", origin(codes), err))
	}
	for _, f := range found {
		var from []code
		for _, i := range f.From {
			from = append(from, codes[i])
		}
		out = append(out, files.Found{Found: f, Way: origin(from)})
	}
	return out, errs
}

// origin says where codes were: "a code in the picture scan.png", "2 codes in the
// pictures 1.jpg and 2.jpg", "the text of codes".
func origin(codes []code) string {
	var pictures []string
	for _, k := range codes {
		if !k.pictured {
			return "the text of codes"
		}
		if k.from != "-" && !slices.Contains(pictures, k.from) {
			pictures = append(pictures, k.from)
		}
	}
	what, where := "a code", " in a picture"
	if len(codes) > 1 {
		what = fmt.Sprintf("%d codes", len(codes))
	}
	switch last := len(pictures) - 1; {
	case last == 0:
		where = " in the picture " + pictures[0]
	case last > 0:
		where = " in the pictures " + strings.Join(pictures[:last], ", ") + " and " + pictures[last]
	}
	return what + where
}

// readBounded reads a file, or standard input, up to the bound and a byte more.
func (c *call) readBounded(name string) ([]byte, error) {
	in := c.stdin
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, &fileError{message: fmt.Sprintf("could not read %q: %s", name, reason(err))}
		}
		defer f.Close()
		in = f
	}
	data, err := io.ReadAll(io.LimitReader(in, files.Most+1))
	if err != nil {
		return nil, &fileError{message: fmt.Sprintf("could not read %q: %s", name, reason(err))}
	}
	return data, nil
}

// settle chooses what is written: the setup as it was written, with its code, gear
// and house in it, when that is the same setup; else the canonical file.
func (r *recovered) settle() {
	r.data = r.File
	if s := alone(r.File); s != nil {
		r.code = s.Code
	}
	if r.Written == nil {
		return
	}
	own := selfContained(r.Written, r.File)
	if s := alone(own); s != nil && bytes.Equal(s.Canonical(setup.Nothing), r.File) {
		r.data, r.as = own, ", as it was written"
	}
}

// alone reads a setup that no folder is around; nil where it has mistakes.
func alone(src []byte) *setup.Setup {
	s, _ := setup.Parse(string(filepath.Separator)+"setup.yaml", src, setup.Options{NoPhotos: true, AllowOutside: true})
	return s
}

var gearLine = regexp.MustCompile(`(?mi)^(gear|"gear"|'gear')[ \t]*:[ \t]*[^ \t\r\n#][^\r\n]*\r?\n?`)

// selfContained is a setup as it was written with what of its canonical file came
// from elsewhere: the gear in place of its file's name, the code and the house
// behind the rest.
func selfContained(written, canonical []byte) []byte {
	end := "\n"
	out := gearLine.ReplaceAllLiteral(written, topBlock(canonical, "gear"))
	for _, key := range []string{"code", "house"} {
		if len(topBlock(out, key)) == 0 {
			if block := topBlock(canonical, key); len(block) > 0 {
				out = append(bytes.TrimRight(out, "\r\n"), end...)
				out = append(out, block...)
			}
		}
	}
	return out
}

// topBlock is a key at the start of a line with its value, up to the next.
func topBlock(src []byte, key string) []byte {
	var out []byte
	for line := range bytes.Lines(src) {
		switch {
		case bytes.HasPrefix(line, []byte(key+":")):
			out = append(out, line...)
		case out != nil && (line[0] == ' ' || line[0] == '\n'):
			out = append(out, line...)
		case out != nil:
			return out
		}
	}
	return out
}

// saveRecovered writes the setups, one to a file or standard output, several each
// to its own in a folder, and says how each was got.
func (c *call) saveRecovered(list []*recovered) error {
	name := c.set["output"]
	info, err := os.Stat(name)
	folder := name != "" && (err == nil && info.IsDir() || strings.HasSuffix(name, "/") || strings.HasSuffix(name, string(filepath.Separator)))
	if !folder && len(list) > 1 {
		return &usageError{fmt.Sprintf("there are %d setups: %s", len(list), codesOf(list)), "take one with --code, or all with -o FOLDER/"}
	}
	if !folder && (name == "" || name == "-") {
		c.sayRecovered(list[0], "")
		return c.print(list[0].data)
	}
	var out []file
	taken := map[string]bool{}
	for _, r := range list {
		to := name
		if folder {
			base := layout.FileName(r.code)
			for n := 2; taken[strings.ToLower(base)]; n++ {
				base = layout.FileName(r.code) + "-" + strconv.Itoa(n)
			}
			taken[strings.ToLower(base)] = true
			to = filepath.Join(name, base+".yaml")
		}
		out = append(out, file{to, r.data})
	}
	if folder {
		if err := os.MkdirAll(name, 0o777); err != nil {
			return cannotWrite(name, err)
		}
	}
	if err := guardInputs(out, c.operands); err != nil {
		return err
	}
	if err := writeFiles(out, true); err != nil {
		return err
	}
	for i, r := range list {
		c.sayRecovered(r, out[i].name)
	}
	return nil
}

func (c *call) sayRecovered(r *recovered, to string) {
	text := r.code + " from " + r.Way
	if r.from != "" && r.from != "-" {
		text += " of " + r.from
	}
	if text += r.as; to != "" {
		text = "wrote " + to + ": " + text
	}
	c.say("%s; its fingerprint %s holds", text, r.Fingerprint)
}

func codesOf(list []*recovered) string {
	var codes []string
	for _, r := range list {
		codes = append(codes, r.code)
	}
	return strings.Join(codes, ", ")
}
