package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParse(t *testing.T) {
	for line, want := range map[string]map[string]string{
		"card a.yaml -o b.pdf":           {"output": "b.pdf"},
		"card -ob.pdf a.yaml":            {"output": "b.pdf"},
		"card -o=b.pdf a.yaml":           {"output": "b.pdf"},
		"card --output=b.pdf a.yaml":     {"output": "b.pdf"},
		"card --output b.pdf -- a.yaml":  {"output": "b.pdf"},
		"card a.yaml -o -":               {"output": "-"},
		"card --paper A4 a.yaml":         {"paper": "a4"},
		"plan a.yaml --scale 1:20":       {"scale": "1:20"},
		"card a.yaml --rulers --watch":   {"rulers": "yes", "watch": "yes"},
		"numbers -json a.yaml":           {"json": "yes"},
		"new a.yaml --from":              {"from": ""},
		"card a.yaml --problems json":    {"problems": "json"},
		"card --base f/4,f/5.6 a.yaml":   {"base": "f/4,f/5.6"},
		"card a.yaml --allow-outside":    {"allow-outside": "yes"},
		"plan --view=SIDE a.yaml -o x.x": {"view": "side", "output": "x.x"},
	} {
		c, err := parse(strings.Fields(line))
		require.NoError(t, err, line)
		assert.Equal(t, want, c.set, line)
		assert.Equal(t, []string{"a.yaml"}, c.operands, line)
	}
}

func TestParseMistakes(t *testing.T) {
	for line, want := range map[string][2]string{
		"":                              {"no command given", "stopleaf help"},
		"crad a.yaml":                   {`no command "crad"`, `did you mean "card"?`},
		"tuesday.yaml":                  {`no command "tuesday.yaml"`, "stopleaf card tuesday.yaml"},
		"frobnicate":                    {`no command "frobnicate"`, "the commands are card, "},
		"card":                          {"card needs SETUP...", "stopleaf help card"},
		"card a.yaml --papr a5":         {`card has no flag "--papr"`, `did you mean "--paper"?`},
		"card a.yaml --json":            {`card has no flag "--json"`, "it has --output"},
		"schema --json":                 {`schema has no flag "--json"`, "it has --output"},
		"card a.yaml -x":                {`card has no flag "-x"`, "it has --output"},
		"card a.yaml -o":                {"--output needs a value: --output FILE", ""},
		"card a.yaml --rulers=no":       {"--rulers takes no value", ""},
		"card a.yaml --paper a55":       {`--paper "a55" is not known; allowed: a5, a4, a6, letter, half-letter, 4x6, 5x8`, `did you mean "a5"?`},
		"card a.yaml -o x -o y":         {"--output is given twice", ""},
		"plan Bread maker.yaml":         {`plan takes SETUP, and "maker.yaml" is too much`, "quote a name"},
		"schema house now":              {`schema takes [KIND], and "now" is too much`, ""},
		"plan a.yaml --view above":      {`--view "above" is not known; allowed: overhead, side`, ""},
		"card a.yaml --problems=xml":    {`--problems "xml" is not known; allowed: text, json`, ""},
		"numbers a.yaml --strict":       {`numbers has no flag "--strict"`, "it has"},
		"card a.yaml --alow-outside=no": {`card has no flag "--alow-outside"`, `did you mean "--allow-outside"?`},
	} {
		_, err := parse(strings.Fields(line))
		var usage *usageError
		require.ErrorAs(t, err, &usage, line)
		assert.Contains(t, usage.message, want[0], line)
		assert.Contains(t, usage.hint, want[1], line)
	}
}

// Whatever is typed, parse answers.
func FuzzParse(f *testing.F) {
	f.Add("card a.yaml -o b.pdf --paper=a4 -- -x")
	f.Add("- -- --= -= -o= --output")
	f.Fuzz(func(t *testing.T, line string) {
		c, err := parse(strings.Split(line, " "))
		require.True(t, (c == nil) != (err == nil) || c != nil && err != nil)
	})
}

func TestEveryFlagIsUsedAndKnown(t *testing.T) {
	used := map[string]bool{"help": true}
	for _, cmd := range commandTable() {
		for _, name := range cmd.flags {
			_, ok := findFlag(name, &cmd)
			assert.True(t, ok, "%s lists the unknown flag %q", cmd.name, name)
			used[name] = true
		}
		code, out, _ := ran("help", cmd.name)
		assert.Equal(t, exitDone, code)
		assert.Contains(t, out, capital(cmd.summary))
		code, again, _ := ran(cmd.name, "--help")
		assert.Equal(t, exitDone, code)
		assert.Equal(t, out, again)
	}
	for _, f := range flagTable() {
		assert.True(t, used[f.name], "no command takes %q", f.name)
	}
}

func TestDecimals(t *testing.T) {
	for _, c := range []struct {
		x      float64
		places int
		want   string
	}{
		{0.125, 2, "0.13"}, {-0.004, 2, "0.00"}, {-1.25, 1, "-1.3"}, {2.675, 2, "2.68"}, {3, 0, "3"}, {1.1, 1, "1.1"},
	} {
		assert.Equal(t, c.want, decimals(c.x, c.places))
	}
}
