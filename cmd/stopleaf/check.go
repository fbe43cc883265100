package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/rebuild/check"
	"stopleaf/setup"
)

// errLine ends a command whose line has mistakes that were printed already.
var errLine = errors.New("the command line has mistakes")

func runCheck(c *call) error {
	if c.has("code") && !c.has("record") {
		return &usageError{"--code is the code of the file that --record writes, and no --record is given", "add --record NEW.yaml, or leave --code out"}
	}
	if err := c.checkSetupFirst(); err != nil {
		return err
	}
	today, err := c.today()
	if err != nil {
		return err
	}
	l, err := c.loadOne(c.operands[0], func(*setup.Setup, *exposure.Numbers) setup.Problems { return nil })
	if err != nil {
		return err
	}
	if l.problems.HasErrors() {
		if err := c.report(c.stderr, l.problems); err != nil {
			return err
		}
		return errReported
	}
	if bases, given := c.set["base"]; given {
		chosen, err := l.setup.ChooseBases(bases)
		if err != nil || len(chosen) != 1 {
			return &usageError{"check takes one --base, what is set up today", "such as --base f/8"}
		}
		today.BaseAv = &chosen[0].Av
	}
	inputs := l.files()
	readings, err := c.readingsFile()
	if err != nil {
		return err
	}
	r := check.NewReader(l.setup, today.ISO, today.ShutterS)
	if name, given := c.set["readings"]; given {
		r.File(name, readings)
		inputs = append(inputs, name)
	}
	for _, word := range c.operands[1:] {
		r.Word(word)
	}
	var problems setup.Problems
	today.Readings, problems = r.Readings()
	l.problems = append(l.problems, problems...)
	if err := c.mistakes(l, today); err != nil {
		return err
	}
	return c.checked(l, today, inputs)
}

// checked prints what the readings say, and writes them down where asked to.
func (c *call) checked(l *loaded, today check.Today, inputs []string) error {
	result := check.Run(l.setup, today)
	l.problems = append(l.problems, result.Doubts()...)
	asJSON := c.has("json") || strings.EqualFold(filepath.Ext(c.set["output"]), ".json")
	if !asJSON || c.jsonProblems() {
		if err := c.report(c.stderr, l.problems); err != nil {
			return err
		}
	}
	out := checkText(l.setup, &result)
	if asJSON {
		out = checkJSON(l, &result)
	}
	if err := c.result(out, inputs); err != nil {
		return err
	}
	if c.has("record") {
		if err := c.recordToday(l, today); err != nil {
			return err
		}
	}
	if !result.Within {
		return errReported
	}
	return nil
}

// checkSetupFirst refuses a line that begins with a reading, or has no readings.
func (c *call) checkSetupFirst() error {
	first := c.operands[0]
	info, err := os.Stat(first)
	switch {
	case err != nil && first != "-" && strings.Contains(first, "=") && !looksLikeSetup(first):
		return &usageError{fmt.Sprintf("check needs the setup before the readings, and %q is one", first), "stopleaf check tuesday.yaml Key=f/8 Fill=f/5.6"}
	case err == nil && info.IsDir():
		return &usageError{fmt.Sprintf("check takes one setup, and %q is a folder", first), "name one of the setups in it"}
	case len(c.operands) == 1 && !c.has("readings"):
		return &usageError{"check needs a reading", "stopleaf check " + shellWord(first) + " Key=f/8 Fill=f/5.6, or --readings FILE"}
	case c.has("record"):
		return c.checkRecord()
	case first == "-" && c.set["readings"] == "-":
		return &usageError{"the setup and the readings cannot both come from standard input", ""}
	}
	return nil
}

// today understands what the flags say of today.
func (c *call) today() (check.Today, error) {
	var out check.Today
	number := func(name string, parse func(string) (float64, error)) (*float64, error) {
		text, given := c.set[name]
		if !given {
			return nil, nil
		}
		v, err := parse(text)
		if err != nil {
			message, hint := setup.SplitMessage(err)
			return nil, &usageError{"--" + name + ": " + message, hint}
		}
		return &v, nil
	}
	var err error
	if out.ISO, err = number("iso", apex.ParseISO); err != nil {
		return out, err
	}
	if out.ShutterS, err = number("shutter", func(s string) (float64, error) { return apex.ParseTime(s, apex.Notation{Comma: true}) }); err != nil {
		return out, err
	}
	if out.Tolerance, err = number("tolerance", apex.ParseStops); err != nil {
		return out, err
	}
	return out, c.checkBase()
}

// mostReadings bounds a file of readings, bytes; what is longer is refused by the
// reader.
const mostReadings = 1<<20 + 1

// readingsFile reads the file that --readings names.
func (c *call) readingsFile() ([]byte, error) {
	name, given := c.set["readings"]
	if !given {
		return nil, nil
	}
	if name == "-" {
		data, err := io.ReadAll(io.LimitReader(c.stdin, mostReadings))
		if err != nil {
			return nil, &fileError{message: "could not read standard input: " + reason(err)}
		}
		return data, nil
	}
	f, err := os.Open(name)
	if err == nil {
		defer f.Close()
		var data []byte
		if data, err = io.ReadAll(io.LimitReader(f, mostReadings)); err == nil {
			return data, nil
		}
	}
	e := &fileError{message: fmt.Sprintf("could not read %q: %s", name, reason(err))}
	if errors.Is(err, fs.ErrNotExist) {
		e.hint = nearFile(name)
	}
	return nil, e
}

// mistakes reports what is wrong with the readings: a mistake in a word of the
// command line makes that wrong, one in the file is an input with problems.
func (c *call) mistakes(l *loaded, today check.Today) error {
	if !l.problems.HasErrors() && check.NeedsBase(l.setup, today) {
		where := l.setup.File
		if len(c.operands) == 1 {
			where = c.set["readings"]
		}
		l.problems = append(l.problems, needsBase(l.setup, where))
	}
	if !l.problems.HasErrors() {
		return nil
	}
	if err := c.report(c.stderr, l.problems); err != nil {
		return err
	}
	for _, p := range l.problems {
		if p.Level == setup.Error && p.Pos.Line == 0 && p.Pos.File != c.set["readings"] {
			return errLine
		}
	}
	return errReported
}

// needsBase asks for what the zero reads.
func needsBase(s *setup.Setup, where string) setup.Problem {
	name, whose := s.Exposure.Zero, s.Exposure.Zero
	if key := s.Key(); key != nil && whose == "" {
		name, whose = key.Name, "the key"
	}
	word := name + "=f/8"
	if shellWord(name) != name {
		word = shellWord(word)
	}
	return setup.Problem{Pos: setup.Pos{File: where}, Level: setup.Error, Code: "no-base",
		Message: fmt.Sprintf("what %s reads today is not given, and the other readings cannot be held against anything without it", whose),
		Hint:    fmt.Sprintf("add %s, or --base f/8 where it was set to read that", word)}
}
