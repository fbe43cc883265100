package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"stopleaf/exposure"
	"stopleaf/rebuild/adapt"
	"stopleaf/rebuild/heads"
	"stopleaf/setup"
)

// adaptFlags are the flags that say what to adapt to, in the order in which the
// head of the new file names them.
var adaptFlags = []string{"base", "iso", "shutter", "ceiling", "room", "scale-distances", "swap", "swap-modifier", "mirror", "face", "lens"}

func runAdapt(c *call) error {
	out, err := c.adaptOutput()
	if err != nil {
		return err
	}
	said := c.adaptSaid()
	if said == "" {
		return &usageError{"adapt needs to know what to adapt to", "such as --base f/4, --mirror or --ceiling 2.4; stopleaf help adapt lists them"}
	}
	name := c.operands[0]
	if err := readable(name); err != nil {
		return err
	}
	src, err := c.source(name)
	if err != nil {
		return err
	}
	opt := setup.Options{AllowOutside: c.has("allow-outside"), SkipPhotos: true}
	s, problems := setup.Parse(name, src, opt)
	if s == nil || problems.HasErrors() || len(problems) > 0 && !c.jsonProblems() {
		if err := c.report(c.stderr, problems); err != nil {
			return err
		}
	}
	if s == nil || problems.HasErrors() {
		return errReported
	}
	o, err := c.adaptOptions(s)
	if err != nil {
		return err
	}
	o.Said, o.Name, o.Read = said, out, opt
	if o.Made, err = sourceDay(); err != nil {
		return err
	}
	if asksHeads(s, o) {
		if o.Learned, err = learnFor(s, opt); err != nil {
			return err
		}
	}
	r, err := adapt.Adapt(s, src, o)
	if err != nil {
		return c.adaptRefused(err)
	}
	if code, given := c.set["code"]; given {
		if r.Source, err = withCode(name, r.Source, code); err != nil {
			return err
		}
		r.Changes = append([]adapt.Change{{Item: "setup", What: "code", From: s.Code, To: code, Why: "as asked"}}, r.Changes...)
	} else if out != "" && out != "-" {
		c.sameCode(s.Code, r.Setup.Code)
	}
	return c.adapted(s, r, out)
}

// adaptOutput is where the new file goes; "" with --dry-run.
func (c *call) adaptOutput() (string, error) {
	out, given := c.set["output"]
	switch {
	case c.has("dry-run") && given:
		return "", &usageError{"--dry-run writes nothing, and -o is given", "leave one of the two out"}
	case c.has("dry-run"):
		return "", nil
	case !given:
		return "", &usageError{"adapt needs -o NEW.yaml, the file to write", "or --dry-run, to see what would change"}
	case out == "-" && c.has("json"):
		return "", &usageError{"-o - and --json both want standard output", "write the setup to a file"}
	case out == "-":
		return out, nil
	case out == "":
		return "", &usageError{"-o is given an empty name", ""}
	}
	if filepath.Ext(out) == "" {
		out += ".yaml"
	}
	if !looksLikeSetup(out) {
		return "", &usageError{fmt.Sprintf("%q does not end in .yaml, as a setup file does", out), ""}
	}
	return out, nil
}

// adaptSaid is what the new file says of how it was made.
func (c *call) adaptSaid() string {
	var said []string
	for _, name := range adaptFlags {
		if v, given := c.set[name]; given {
			if f, _ := findFlag(name, c.cmd); f.value == "" {
				said = append(said, "--"+name)
			} else {
				said = append(said, "--"+name+" "+shellWord(v))
			}
		}
	}
	return strings.Join(said, " ")
}

// source is the text of a setup, read once.
func (c *call) source(name string) ([]byte, error) {
	if name != "-" {
		info, err := os.Stat(name)
		if err == nil && info.IsDir() {
			return nil, &usageError{fmt.Sprintf("adapt takes one setup, and %q is a folder", name), "name one of the files in it"}
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return nil, &fileError{message: fmt.Sprintf("could not read %q: %s", name, reason(err))}
		}
		return data, nil
	}
	data, err := io.ReadAll(io.LimitReader(c.stdin, 1<<21))
	if err != nil {
		return nil, &fileError{message: "could not read standard input: " + reason(err)}
	}
	return data, nil
}

// sourceDay is the day of SOURCE_DATE_EPOCH, "" without it: there is no clock.
func sourceDay() (string, error) {
	text := os.Getenv("SOURCE_DATE_EPOCH")
	if text == "" {
		return "", nil
	}
	seconds, err := strconv.ParseInt(text, 10, 64)
	if err != nil || seconds < 0 || seconds > 253402300799 {
		return "", &usageError{fmt.Sprintf("SOURCE_DATE_EPOCH %q is not a count of seconds", text), ""}
	}
	return time.Unix(seconds, 0).UTC().Format("2006-01-02"), nil
}

// asksHeads reports whether what heads give may be of use: other gear, or a flash
// without a power.
func asksHeads(s *setup.Setup, o adapt.Options) bool {
	if len(o.Heads)+len(o.Modifiers) > 0 {
		return true
	}
	for i := range s.Lights {
		if l := &s.Lights[i]; l.Source == exposure.Flash && l.Power == nil && l.Head != nil && l.Head.Name != "" {
			return true
		}
	}
	return false
}

// learnFor learns what heads give: from the setup's own gear where that says so,
// else from every setup in its folder.
func learnFor(s *setup.Setup, opt setup.Options) (*heads.Table, error) {
	opt.NoPhotos = true
	list := []*setup.Setup{s}
	if s.File == "-" || writtenOutput(s) {
		return heads.Learn(list), nil
	}
	names, err := setupsIn(filepath.Dir(s.File))
	if err != nil {
		return heads.Learn(list), nil
	}
	for _, name := range names {
		if filepath.Clean(name) == filepath.Clean(s.File) {
			continue
		}
		if other, _ := setup.Read(name, opt); other != nil {
			list = append(list, other)
		}
	}
	return heads.Learn(list), nil
}

func writtenOutput(s *setup.Setup) bool {
	for i := range s.GearHeads {
		if len(s.GearHeads[i].Outputs) > 0 {
			return true
		}
	}
	for i := range s.Lights {
		if h := s.Lights[i].Head; h != nil && len(h.Outputs) > 0 {
			return true
		}
	}
	return false
}

// adaptRefused says an option that cannot be carried out: a wrong command line, or
// a file that lacks something.
func (c *call) adaptRefused(err error) error {
	var no *adapt.Refusal
	if errors.As(err, &no) {
		if no.Pos.File == "" {
			return &usageError{"--" + no.Option + ": " + no.Message, no.Hint}
		}
		p := setup.Problem{Pos: no.Pos, Level: setup.Error, Code: "cannot-adapt", Message: "--" + no.Option + ": " + no.Message, Hint: no.Hint}
		if err := c.report(c.stderr, setup.Problems{p}); err != nil {
			return err
		}
		return errReported
	}
	var problems setup.Problems
	if errors.As(err, &problems) {
		if err := c.report(c.stderr, problems); err != nil {
			return err
		}
		return errReported
	}
	return err
}

// adaptOut is the JSON of "adapt --json".
type adaptOut struct {
	Stopleaf int            `json:"stopleaf"`
	From     string         `json:"from"` // the code of the old setup
	Changes  []adapt.Change `json:"changes"`
	Problems []problemOut   `json:"problems"` // what could not be kept
}

// adapted writes what was made, then says what could not be kept.
func (c *call) adapted(s *setup.Setup, r *adapt.Result, out string) error {
	switch {
	case out == "-":
		if err := c.print(r.Source); err != nil {
			return err
		}
	case out != "":
		if err := c.writeNew(file{out, r.Source}, s.Files); err != nil {
			return err
		}
	}
	if c.has("json") {
		if err := c.print(marshal(adaptOut{contract, s.Code, r.Changes, problemList(distinct(r.Warned), relativeTo(s.File))})); err != nil {
			return err
		}
	} else if out == "" {
		if err := c.print(changesTable(r.Changes)); err != nil {
			return err
		}
	}
	if out != "" && out != "-" {
		c.say("wrote %s: %s", out, countOf(len(r.Changes), "change"))
	}
	if len(r.Warned) == 0 {
		return nil
	}
	if err := c.report(c.stderr, r.Warned); err != nil {
		return err
	}
	return errReported
}

// writeNew writes a file that is not there yet.
func (c *call) writeNew(f file, inputs []string) error {
	if err := guardInputs([]file{f}, inputs); err != nil {
		return err
	}
	return writeFiles([]file{f}, true)
}

func countOf(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

func changesTable(changes []adapt.Change) []byte {
	var b bytes.Buffer
	if len(changes) == 0 {
		b.WriteString("nothing changes\n")
		return b.Bytes()
	}
	rows := [][]string{{"", "what", "from", "to", "why"}}
	for _, ch := range changes {
		rows = append(rows, []string{ch.Item, ch.What, orNone(ch.From), orNone(ch.To), ch.Why})
	}
	writeTable(&b, rows, "lllll")
	return b.Bytes()
}

func orNone(s string) string {
	if s == "" {
		return "-"
	}
	return s
}
