package text

import (
	"bytes"
	"os"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"github.com/go-pdf/fpdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"
)

func allRunes() []rune {
	var out []rune
	for _, s := range spans {
		for r := s.lo; r <= s.hi; r++ {
			out = append(out, r)
		}
	}
	return out
}

// The cut fonts and the table are what gen.go makes of the fonts it is given.
func TestFontsAreCurrent(t *testing.T) {
	runes := string(allRunes())
	assert.True(t, bytes.Equal(Font(false), fpdf.UTF8CutFont(bytes.Clone(dejavusanscondensed.TTF), runes)), "run go generate")
	assert.True(t, bytes.Equal(Font(true), fpdf.UTF8CutFont(bytes.Clone(dejavusanscondensedbold.TTF), runes)), "run go generate")
	_, err := os.Stat("fonts/LICENSE-DejaVu.txt")
	assert.NoError(t, err)
}

func TestRunesThatPagesNeed(t *testing.T) {
	need := "☐☑✓½⅓⅔¼¾Δ−≥≤□°±×–—‘’“”…•′″²Ωµ←↑→↓ÄÖÜäöüßÉéŁłŐőΑαЖж\u00A0"
	for _, r := range need {
		assert.True(t, Has(r), "%q", r)
	}
	for _, r := range "\x00\n\u00AD\u200B漢א😀\u202E" {
		assert.False(t, Has(r), "%q", r)
	}
}

// Every advance and every glyph is the one that golang.org/x/image/font/sfnt reads.
func TestTablesEqualSfnt(t *testing.T) {
	for _, bold := range []bool{false, true} {
		f, err := sfnt.Parse(Font(bold))
		require.NoError(t, err)
		upem := int64(f.UnitsPerEm())
		require.EqualValues(t, unitsPerEm, upem)
		for _, r := range allRunes() {
			g, err := f.GlyphIndex(nil, r)
			require.NoError(t, err)
			require.NotZero(t, g, "%q", r)
			require.EqualValues(t, g, Glyph(r), "%q", r)
			adv, err := f.GlyphAdvance(nil, g, fixed.I(int(upem)), font.HintingNone)
			require.NoError(t, err)
			units := int64(adv / 64)
			require.Equal(t, (units*1000+upem/2)/upem, Advance(r, bold), "%q", r)
		}
	}
}

// A capital H stands as high as the cap height says, in both faces. (The font's
// own table OS/2 is of a version that has no cap height.)
func TestCapHeight(t *testing.T) {
	for _, bold := range []bool{false, true} {
		segs, _ := Outline('H', bold)
		top := 0.0
		for _, s := range segs {
			top = min(top, s.P[0].Y)
		}
		assert.Equal(t, -float64(capUnits), top)
	}
	assert.InDelta(t, 0.729, CapFraction, 1e-5)
	assert.InDelta(t, 1800/0.72900390625, Em(1800), 1e-9)
}

func newFpdf(bold bool) *fpdf.Fpdf {
	f := fpdf.New("P", "mm", "A4", "")
	f.AddUTF8FontFromBytes("x", "", Font(bold))
	f.AddPage()
	f.SetFont("x", "", 1)
	return f
}

// fpdf, which places the text in a PDF, sums the same thousandths.
func TestWidthEqualsFpdf(t *testing.T) {
	for _, bold := range []bool{false, true} {
		f := newFpdf(bold)
		rapid.Check(t, func(t *rapid.T) {
			s := rapid.StringOfN(rapid.RuneFrom(allRunes()), 0, 60, -1).Draw(t, "s")
			require.EqualValues(t, f.GetStringSymbolWidth(s), Units(s, bold))
		})
	}
}

// Three widths worked by hand from the font's advances (hmtx, in 2048ths:
// H 1386, 0 1171, space 586): rounded to thousandths they are 677, 572, 286.
func TestWidthByHand(t *testing.T) {
	assert.EqualValues(t, 677, Units("H", false))
	assert.EqualValues(t, 677+572+286, Units("H 0", false))
	// em of a 7.290 mm cap height is 10.000 mm less 0.536 µm in 10 mm
	assert.EqualValues(t, (1535*7290*2048+1493*500)/(1493*1000), Width("H 0", 7290, false))
	assert.EqualValues(t, 0, Width("", 2500, false))
}

func TestWidthOfWhatIsNotClean(t *testing.T) {
	for _, s := range []string{"e\u0301", "a\tb", "x\x00y", "\xff\xfe", "😀", "a\u202Eb", "漢字"} {
		clean, _ := Clean(s)
		assert.Equal(t, Units(clean, false), Units(s, false), "%q", s)
	}
}

// No rune's ink leaves the line box that Ascent and Descent give.
func TestInkStaysInLineBox(t *testing.T) {
	const capUm = 2500
	up, down := 0.0, 0.0
	for _, bold := range []bool{false, true} {
		for _, r := range allRunes() {
			segs, _ := Outline(r, bold)
			for _, s := range segs {
				up, down = min(up, s.P[0].Y), max(down, s.P[0].Y)
			}
		}
	}
	scale := Em(capUm) / UnitsPerEm
	assert.LessOrEqual(t, -up*scale, float64(Ascent(capUm)))
	assert.LessOrEqual(t, down*scale, float64(Descent(capUm)))
	assert.Less(t, float64(Ascent(capUm)), -up*scale*1.01, "not much more than is needed")
}

func TestClean(t *testing.T) {
	cases := []struct {
		in, out string
		missing []rune
	}{
		{"Key light", "Key light", nil},
		{"", "", nil},
		{"cafe\u0301", "café", nil},
		{"a\tb\nc\r\nd", "a b c  d", nil},
		{"x\x00\x1By", "xy", nil},
		{"soft\u00ADhyphen", "softhyphen", nil},
		{"a\u202Eb\u200Bc\uFEFF", "abc", nil},
		{"☀\uFE0F", "□", []rune{'☀'}},
		{"smile 😀😀 漢", "smile □□ □", []rune{'😀', '漢'}},
		{"bad \xff\xfe end", "bad □ end", []rune{utf8.RuneError}},
		{"no\u00A0break", "no\u00A0break", nil},
	}
	for _, c := range cases {
		out, missing := Clean(c.in)
		assert.Equal(t, c.out, out, "%q", c.in)
		assert.Equal(t, c.missing, missing, "%q", c.in)
	}
}

func TestWrap(t *testing.T) {
	const c = 2500
	wide := func(s string) int64 { return Width(s, c, false) }
	cases := []struct {
		in    string
		width int64
		want  []string
	}{
		{"", 1000, nil},
		{"\n", 1000, nil},
		{"one two three", wide("one two"), []string{"one two", "three"}},
		{"one two three", wide("one two") - 1, []string{"one", "two", "three"}},
		{"one\n\ntwo\n", 50000, []string{"one", "", "two"}},
		{"one\r\ntwo", 50000, []string{"one", "two"}},
		{"mm no\u00A0break b", wide("no\u00A0break b"), []string{"mm", "no\u00A0break b"}},
		{"catch-light", wide("catch-lig"), []string{"catch-", "light"}},
		{"front/inner", wide("front/inn"), []string{"front/", "inner"}},
		{"at f/5.6 -1.7", wide("at f/5.6 -1"), []string{"at f/5.6", "-1.7"}},
		{"abcdef", wide("abc"), []string{"abc", "def"}},
		{"xy", 1, []string{"x", "y"}},
		{"  indented text", wide("  indented"), []string{"  indented", "text"}},
		{"a     b", wide("a"), []string{"a", "b"}},
	}
	for _, k := range cases {
		assert.Equal(t, k.want, Wrap(k.in, c, false, k.width), "%q", k.in)
	}
}

// Whatever the text and the width, nothing is lost, nothing is added, no line is
// too wide but a single rune, and the outcome is the same again.
func TestWrapLosesNothing(t *testing.T) {
	runes := append([]rune("     --//\n\u00A0"), allRunes()...)
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOfN(rapid.RuneFrom(runes), 0, 200, -1).Draw(t, "s")
		width := rapid.Int64Range(1, 80000).Draw(t, "width")
		bold := rapid.Bool().Draw(t, "bold")
		lines := Wrap(s, 1800, bold, width)
		assert.Equal(t, squeeze(s), squeeze(strings.Join(lines, "")))
		for _, l := range lines {
			if utf8.RuneCountInString(strings.TrimSpace(l)) > 1 {
				assert.LessOrEqual(t, Width(l, 1800, bold), width, "%q", l)
			}
		}
		assert.Equal(t, lines, Wrap(s, 1800, bold, width))
	})
}

// squeeze leaves out spaces and line ends, the only things a break may eat.
func squeeze(s string) string { return strings.NewReplacer(" ", "", "\n", "").Replace(s) }

func TestOutlinesOfAllRunes(t *testing.T) {
	blank := " \u00A0\u2007\u2009\u202F"
	for _, bold := range []bool{false, true} {
		for _, r := range allRunes() {
			segs, adv := Outline(r, bold)
			assert.Equal(t, Advance(r, bold), (int64(adv)*1000+unitsPerEm/2)/unitsPerEm, "%q", r)
			assert.Equal(t, strings.ContainsRune(blank, r), len(segs) == 0, "%q", r)
		}
	}
	box, _ := Outline(Box, false)
	missing, _ := Outline('漢', false)
	assert.Equal(t, box, missing)
}

// Long text takes time in proportion to its length.
func TestLongText(t *testing.T) {
	for _, unit := range []string{"W", "/a", "- ", " ", "漢", "e\u0301", "\u0301", "\xff", "a\n"} {
		s := strings.Repeat(unit, 200_000)
		start := time.Now()
		Wrap(s, 1800, false, 20000)
		assert.Less(t, time.Since(start), 3*time.Second, "%q", unit)
	}
}

func FuzzClean(f *testing.F) {
	for _, s := range []string{"Key", "\xff", "e\u0301\u0302", "😀\u200D", "a\nb", strings.Repeat("W", 10_000)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		clean, _ := Clean(s)
		for _, r := range clean {
			if !Has(r) {
				t.Fatalf("%q keeps %q", s, r)
			}
		}
		again, missing := Clean(clean)
		if again != clean || missing != nil {
			t.Fatalf("%q is not clean after one pass", s)
		}
		for _, l := range Wrap(s, 1800, false, 20000) {
			if c, _ := Clean(l); c != l {
				t.Fatalf("a line of %q is not clean", s)
			}
		}
	})
}

func BenchmarkWidth(b *testing.B) {
	for b.Loop() {
		Width("octabox 1.2, grid 40, inner and front diffuser", 2500, false)
	}
}

// The place of every rune is where the runes are counted one after another, and
// no rune beside them has one.
func TestPlaces(t *testing.T) {
	n := 0
	for place, r := range Runes() {
		require.Equal(t, n, place)
		require.Equal(t, n, Place(r), "%q", r)
		n++
	}
	require.Equal(t, Count, n)
	for _, s := range spans {
		for _, r := range []rune{s.lo - 1, s.hi + 1} {
			if !strings.ContainsRune(string(allRunes()), r) {
				require.False(t, Has(r), "%q", r)
				require.Equal(t, Place(Box), Place(r))
			}
		}
	}
	for range Runes() {
		break // it can be left
	}
}

// The spaces that keep words together are as wide as those that do not.
func TestNoBreakSpace(t *testing.T) {
	for _, bold := range []bool{false, true} {
		assert.Equal(t, Advance(' ', bold), Advance('\u00A0', bold))
	}
}

// What measures no more than unitsWithin is what FromUnits puts within the width.
func TestUnitsWithin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		capUm := rapid.Int64Range(0, 50_000).Draw(t, "cap")
		width := rapid.Int64Range(-3, 2_000_000).Draw(t, "width")
		most := unitsWithin(width, capUm)
		units := rapid.Int64Range(0, 1_000_000).Draw(t, "units")
		if capUm > 0 {
			units = max(0, most) + rapid.Int64Range(-2, 2).Draw(t, "near")
		}
		if units >= 0 {
			require.Equal(t, FromUnits(units, capUm) <= width, units <= most, "%d", units)
		}
	})
}
