package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"stopleaf/rebuild/check"
	"stopleaf/setup"
)

// checkRecord refuses a --record that cannot be, before anything is read.
func (c *call) checkRecord() error {
	name := c.set["record"]
	switch {
	case name == "" || name == "-":
		return &usageError{"--record needs the name of a new setup file", "such as --record tuesday.yaml"}
	case c.operands[0] == "-":
		return &usageError{"--record needs the setup in a file, not from standard input", ""}
	case c.has("look"):
		return &usageError{"--record and --look are both given", "a look is a part of its set, whose other lights were not metered: leave --look out"}
	case filepath.Ext(name) == "":
		c.set["record"] = name + ".yaml"
	case !looksLikeSetup(name):
		return &usageError{fmt.Sprintf("--record %q does not end in .yaml, as a setup file does", name), ""}
	}
	return nil
}

// recordToday writes a new setup file with today's readings. It never writes over
// a file that is there.
func (c *call) recordToday(l *loaded, today check.Today) error {
	name := c.set["record"]
	src, err := os.ReadFile(l.name)
	if err != nil {
		return &fileError{message: fmt.Sprintf("could not read %q: %s", l.name, reason(err))}
	}
	record, err := check.Record(src, l.setup, name, today)
	if err != nil {
		return err
	}
	if err := holds(name, record); err != nil {
		return err
	}
	if code, given := c.set["code"]; given {
		if record.Text, err = withCode(name, record.Text, code); err != nil {
			return err
		}
	} else if s, _ := setup.Parse(name, record.Text, setup.Options{NoPhotos: true, AllowOutside: true}); s != nil {
		c.sameCode(l.setup.Code, s.Code)
	}
	if err := writeFiles([]file{{name, record.Text}}, true); err != nil {
		return err
	}
	var b bytes.Buffer
	for _, line := range record.Said {
		writeWrapped(&b, "    ", line)
	}
	c.say("%s", strings.TrimRight("wrote "+name+"\n"+b.String(), "\n"))
	return nil
}

// holds refuses a record that would not be read as what was metered.
func holds(name string, record *check.Recorded) error {
	s, problems := setup.Parse(name, record.Text, setup.Options{NoPhotos: true, AllowOutside: true})
	if s == nil {
		return fmt.Errorf("what was metered could not be written down: %w", problems)
	}
	for _, f := range check.Run(s, record.Written).Lights {
		if f.Off != nil && math.Abs(*f.Off) > 0.001 {
			return fmt.Errorf("what was metered of %q could not be written down as it reads", f.Name)
		}
	}
	return nil
}
