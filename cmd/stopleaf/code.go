package main

import (
	"fmt"

	"stopleaf/setup"
	"stopleaf/setup/edit"
)

// withCode is the text of a new setup file with a code of its own.
func withCode(name string, text []byte, code string) ([]byte, error) {
	no := &usageError{fmt.Sprintf("--code %q is no code that a setup can have", code), "such as --code B-015"}
	src, err := edit.Open(name, text)
	if err != nil {
		return nil, err
	}
	if err := src.Set(edit.Path{"code"}, code); err != nil {
		return nil, no
	}
	out, err := src.Bytes()
	if err != nil {
		return nil, err
	}
	if s, _ := setup.Parse(name, out, setup.Options{NoPhotos: true, AllowOutside: true}); s == nil || s.Code != code {
		return nil, no
	}
	return out, nil
}

// sameCode tells of a new file that has the old one's code: a binder of both would
// refuse the second.
func (c *call) sameCode(was, is string) {
	if was != "" && was == is {
		c.say("it keeps the code %s, and a binder takes a code once; give it its own with --code", is)
	}
}
