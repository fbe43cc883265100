package setup

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/setup/grammar"
)

func TestParts(t *testing.T) {
	for text, want := range map[string][]string{
		"55 left, 1.4 m, 2.15 high":    {"55 left", "1.4 m", "2.15 high"},
		"55 left, 1,4 m, 2,15 high":    {"55 left", "1,4 m", "2,15 high"},
		"55 left,1.4 m":                {"55 left", "1.4 m"},
		"7:30,1.4":                     {"7:30", "1.4"},
		"1.4,2.15":                     {"1.4", "2.15"},
		"octabox 1,2, grid 40":         {"octabox 1,2", "grid 40"},
		"octabox 1.2,grid 40":          {"octabox 1.2", "grid 40"},
		"softbox 0,9 x 0,6":            {"softbox 0,9 x 0,6"},
		"":                             {""},
		",":                            {"", ""},
		"1,2,3":                        {"1", "2", "3"},
		"20 m, 1,5 mm²":                {"20 m", "1,5 mm²"},
		"inner and front diffuser, 1,": {"inner and front diffuser", "1", ""},
	} {
		assert.Equal(t, want, parts(text), text)
	}
}

func TestParseNumber(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		want       float64
	}{
		{"16", "A", 16}, {"16 A", "A", 16}, {"6.3amps", "A", 6.3}, {"850 mA", "A", 0.85}, {"5400 K", "K", 5400}, {"35 %", "%", 35},
		{"1,5 mm²", "mm²", 1.5}, {"1.5 mm2", "mm²", 1.5}, {"4 kg", "kg", 4}, {"800 g", "kg", 0.8}, {"10 lb", "kg", 4.5359237},
		{"-100", "mired", -100}, {"\u2212100 mired", "mired", -100}, {"+20", "mired", 20}, {"2 kW", "W", 2000}, {"400 J", "Ws", 400}, {"400 Ws", "Ws", 400},
		{"40°", "°", 40}, {"40 degrees", "°", 40}, {"0", "", 0}, {".5", "", 0.5},
	} {
		v, err := parseNumber(c.text, c.unit)
		require.NoError(t, err, c.text)
		assert.InDelta(t, c.want, v, 1e-9, c.text)
	}
	for _, text := range []string{"", "A", "1e3", "0x10", "1_000", "010", "nan", ".nan", "inf", "-.inf", "1.2.3", "1 2", "--1", "16 V", strings.Repeat("9", 400)} {
		_, err := parseNumber(text, "A")
		assert.Error(t, err, text)
	}
}

func TestParseAngle(t *testing.T) {
	for text, want := range map[string]float64{
		"55 left": -55, "55 LEFT": -55, "120 right": 120, "55° left": -55, "55deg left": -55, "55 degrees left": -55, "55 camera left": -55, "55 to the right": 55,
		"55 L": -55, "0": 0, "180": 180, "12,5 right": 12.5,
	} {
		deg, side, err := parseAngle(text)
		require.NoError(t, err, text)
		if side != 0 {
			deg *= float64(side)
		}
		assert.InDelta(t, want, deg, 1e-12, text)
	}
	for _, text := range []string{"", "left", "-55", "181 left", "55 up", "55 66 left", "left 55 right", "nan left"} {
		_, _, err := parseAngle(text)
		assert.Error(t, err, text)
	}
}

// TestSplit: a message's own colon does not part it.
func TestSplit(t *testing.T) {
	for said, want := range map[string][2]string{
		`"a: b" is no reading: write f/8`: {`"a: b" is no reading`, "write f/8"},
		`"a\": b" is wrong: write: it`:    {`"a\": b" is wrong`, "write: it"},
		`too long`:                        {"too long", ""},
		`too long: write less`:            {"too long", "write less"},
		`"a: b" is wrong`:                 {`"a: b" is wrong`, ""},
		`"`:                               {`"`, ""},
	} {
		message, hint := SplitMessage(errors.New(said))
		assert.Equal(t, want, [2]string{message, hint}, said)
	}
}

func TestNearest(t *testing.T) {
	known := grammar.Find("exposure").Names()
	for slip, want := range map[string]string{
		"shuter": "shutter", "shutters": "shutter", "sutter": "shutter", "aperature": "aperture", "whitebalance": "white balance",
		"syn": "sync", "base": "bases", "ISO": "iso", "kye": "key", "xyz": "", "distance": "", "": "", "a": "",
		strings.Repeat("key", 100): "",
	} {
		assert.Equal(t, want, Nearest(slip, known), slip)
	}
	assert.Equal(t, 1, edits("shutter", "shuttre"), "a swap is one slip")
	assert.Equal(t, 3, edits("", "key"))
	assert.Equal(t, 0, edits("käse", "käse"))
}

func TestCanonical(t *testing.T) {
	for text, want := range map[string]string{
		"look for": "look for", "Look-For": "look for", "LOOK__FOR": "look for", " look  for ": "look for", "-": "", "iso": "iso",
	} {
		assert.Equal(t, want, grammar.Canonical(text), text)
	}
}

func TestLineEnds(t *testing.T) {
	for _, src := range []string{"title: T\rlights:\r  - {role: kee, delta: x}\r", "title: T\u2028x\nlights:\n  - {role: kee, delta: x}\n"} {
		_, problems := parse(src)
		require.NotEmpty(t, problems)
		assert.Equal(t, 3, problems[len(problems)-1].Pos.Line, "%v", problems)
	}
}

// TestNoBreakIndent: lines copied from a web page are often indented with
// no-break spaces.
func TestNoBreakIndent(t *testing.T) {
	s, problems := parse("title: T\nlights:\n\u00a0\u00a0- role: key\n \u00a0 \u00a0note: a\u00a0b\n")
	require.NotNil(t, s, "%v", problems)
	assert.Equal(t, "a\u00a0b", s.Lights[0].Note)
}

func TestEdits(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"a", "", 1}, {"card", "crad", 1}, {"card", "cart", 1},
		{"proof", "prof", 1}, {"kitten", "sitting", 3}, {"fläche", "flache", 1},
	} {
		assert.Equal(t, c.want, edits(c.a, c.b), "%s %s", c.a, c.b)
		assert.Equal(t, c.want, edits(c.b, c.a), "%s %s", c.b, c.a)
	}
}

// American wire gauge: 14 is 2.08 mm², 12 is 3.31 mm², 18 is 0.823 mm² (the
// published areas of ASTM B258, from memory).
func TestLeadByGauge(t *testing.T) {
	for gauge, want := range map[string]float64{"14 AWG": 2.08, "12awg": 3.31, "18 AWG": 0.823, "1.5 mm²": 1.5} {
		s, problems := Parse("x.yaml", []byte("title: T\nmains: {circuits: [{name: A, lead: {length: 15, section: "+gauge+"}}]}\nlights:\n  - {name: K, role: key, circuit: A}\n"), Options{})
		require.NotNil(t, s, "%v", problems)
		assert.InDelta(t, want, *s.Mains.Circuits[0].Lead.Section, 0.005, gauge)
	}
}
