package find

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"stopleaf/setup"
)

// What a word is worth where it stands.
const (
	inTitle = 8 // and the code
	inTags  = 4
	inNames = 2 // names, roles, modifiers, heads, hazards, kinds of subject and background
	inNotes = 1 // notes, what to look for, captions
)

// How a phrase stands in a field.
const (
	begins = 3
	whole  = 4
)

// field is one text of a setup, in folded words.
type field struct {
	weight int
	words  []string
}

// has reports how a phrase stands in the field: its words one after the other, the
// last at least begun; 0 when it does not.
func (f *field) has(phrase []string) int {
	best := 0
	last := len(phrase) - 1
	for i := 0; i+last < len(f.words); i++ {
		fits := true
		for j, w := range phrase[:last] {
			fits = fits && f.words[i+j] == w
		}
		switch end := f.words[i+last]; {
		case !fits || !strings.HasPrefix(end, phrase[last]):
		case end == phrase[last]:
			return whole
		default:
			best = begins
		}
	}
	return best
}

// fieldsOf gathers everything a setup says that a person may look for; what is
// private is not among it.
func fieldsOf(s *setup.Setup) []field {
	var out []field
	put := func(weight int, texts ...string) {
		for _, t := range texts {
			if w := Words(t); len(w) > 0 {
				out = append(out, field{weight, w})
			}
		}
	}
	put(inTitle, s.TitleAsWritten(), s.Code)
	put(inTags, s.Tags...)
	put(inNames, s.Hazards...)
	put(inNames, s.LookNames()...)
	put(inNames, s.By)
	put(inNotes, s.Notes, s.Camera.Note, s.Camera.LookFor, s.Subject.Note, s.Subject.LookFor)
	if s.Subject.Given {
		put(inNames, s.Subject.Kind, s.Subject.Posture)
	}
	if b := s.Background; b != nil {
		put(inNames, b.Kind, b.Tone)
		put(inNotes, b.Note, b.LookFor)
	}
	for i := range s.Lights {
		l := &s.Lights[i]
		put(inNames, l.Name, l.Role)
		put(inNames, modifierTexts(l)...)
		put(inNames, headTexts(l)...)
		put(inNotes, l.Note, l.LookFor)
	}
	for i := range s.Grip {
		g := &s.Grip[i]
		put(inNames, g.Name, g.Kind, g.Colour)
		put(inNotes, g.Note, g.LookFor)
	}
	for _, p := range s.Photos {
		put(inNotes, p.Caption)
	}
	return out
}

func modifierTexts(l *setup.Light) []string {
	m := l.Modifier
	if m == nil {
		return nil
	}
	out := []string{m.Kind, m.Gear}
	if m.Gel != nil {
		out = append(out, m.Gel.Name)
	}
	return out
}

func headTexts(l *setup.Light) []string {
	var out []string
	if l.Head != nil {
		out = append(out, l.Head.Name, l.Head.Kind)
	}
	if l.Pack != nil {
		out = append(out, l.Pack.Pack.Name)
	}
	return out
}

// unmarked are letters that are one with their mark.
var unmarked = strings.NewReplacer("ø", "o", "æ", "ae", "œ", "oe", "ß", "ss", "đ", "d", "ð", "d", "þ", "th", "ł", "l", "ı", "i", "ħ", "h")

// Words parts a text into words without case or accents: what is neither letter
// nor digit parts them.
func Words(text string) []string {
	return strings.FieldsFunc(fold(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// fold takes case and accents off.
func fold(text string) string {
	plain := true
	for i := 0; i < len(text); i++ {
		plain = plain && text[i] < 0x80
	}
	if plain {
		return strings.ToLower(text)
	}
	marked := norm.NFKD.String(text)
	return unmarked.Replace(strings.ToLower(strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return r
	}, marked)))
}
