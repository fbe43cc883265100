package main

import (
	"bytes"
	"fmt"
	"strings"

	"stopleaf/setup"
)

func runProof(c *call) error {
	found, err := c.inFolders()
	if err != nil {
		return err
	}
	list, err := c.load(setup.Proof)
	if err != nil {
		return err
	}
	problems, inputs := gather(list)
	problems = append(problems, found...)
	problems = distinct(problems)
	var b bytes.Buffer
	if err := c.report(&b, problems); err != nil {
		return err
	}
	errs, warnings, missing := count(problems)
	if !c.jsonProblems() {
		b.WriteString(verdict(len(list), errs, warnings, missing) + "\n")
	}
	if err := c.result(b.Bytes(), inputs); err != nil {
		return err
	}
	if errs > 0 || c.has("strict") && warnings > 0 {
		return errReported
	}
	return nil
}

func count(ps setup.Problems) (errs, warnings, missing int) {
	for _, p := range ps {
		switch p.Level {
		case setup.Error:
			errs++
		case setup.Warning:
			warnings++
		default:
			missing++
		}
	}
	return errs, warnings, missing
}

// verdict sums the findings up in one line.
func verdict(setups, errs, warnings, missing int) string {
	var parts []string
	for _, p := range []struct {
		n         int
		one, many string
	}{
		{errs, "1 error", "%d errors"},
		{warnings, "1 warning", "%d warnings"},
		{missing, "1 thing a rebuild would miss", "%d things a rebuild would miss"},
	} {
		switch {
		case p.n == 1:
			parts = append(parts, p.one)
		case p.n > 1:
			parts = append(parts, fmt.Sprintf(p.many, p.n))
		}
	}
	if len(parts) == 0 {
		parts = []string{"nothing is wrong or missing"}
	}
	if setups > 1 {
		return fmt.Sprintf("%d setups: %s", setups, strings.Join(parts, ", "))
	}
	return strings.Join(parts, ", ")
}
