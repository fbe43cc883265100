package find

import (
	"fmt"
	"slices"
	"strings"

	"stopleaf/setup"
	"stopleaf/setup/grammar"
)

// Filter is a row of the table of filters, for help.
type Filter struct {
	Name string
	Use  string // as help shows it
	Help string
	make func(f *written) (func(*candidate) bool, error)
}

// Filters is every filter.
func Filters() []Filter {
	return []Filter{
		{"lights", "lights<=3", "how many lights, pairs counted as two", number(count)},
		{"ratio", "ratio>=4", "key to fill, as printed to a tenth", number(ratio)},
		{"ceiling", "ceiling<=2.4", "the highest point of the set, m unless said, as far as the file says", length(func(c *candidate) *float64 { return c.summary.HighestM })},
		{"made", "made>=2025", "the date, to the year, month or day", made},
		{"base", "base:f/2.8", "can be run at: within the heads' range, or what the key was recorded to read", base},
		{"has", "has:grid", strings.Join(hasNames(), ", "), has},
		{"title", "title:flour", "words of the title", texts(func(s *setup.Setup) []string { return []string{s.TitleAsWritten()} })},
		{"code", "code:B-014", "the code", texts(func(s *setup.Setup) []string { return []string{s.Code} })},
		{"tag", "tag:portrait", "words of a tag", texts(func(s *setup.Setup) []string { return s.Tags })},
		{"role", "role:hair", "the role of a light", texts(ofLights(func(l *setup.Light) []string { return []string{l.Role} }))},
		{"name", "name:card", "the name of a light or grip item", texts(names)},
		{"modifier", "modifier:octabox", "a modifier, by kind, gear name or gel", modifier},
		{"head", "head:compact", "a head or pack", texts(ofLights(headTexts))},
		{"subject", "subject:person", "the kind of subject", texts(func(s *setup.Setup) []string {
			if !s.Subject.Given {
				return nil
			}
			return []string{s.Subject.Kind, s.Subject.Posture}
		})},
		{"hazard", "hazard:water", "a hazard", texts(func(s *setup.Setup) []string { return s.Hazards })},
	}
}

// written is a filter as it was typed: NAME, an operator, what follows.
type written struct {
	text, name, op, value string
}

// operators, the longest first.
var operators = []string{"<=", ">=", "<", ">", "=", ":"}

// parse takes a filter apart; ok is false for a word.
func parse(text string) (f written, ok bool) {
	i := strings.IndexAny(text, "<>=:")
	if i <= 0 || strings.ContainsFunc(text[:i], func(r rune) bool { return r < 'A' || r > 'z' || r > 'Z' && r < 'a' }) {
		return written{}, false
	}
	for _, op := range operators {
		if value, found := strings.CutPrefix(text[i:], op); found {
			return written{text, strings.ToLower(text[:i]), op, strings.TrimSpace(value)}, true
		}
	}
	return written{}, false
}

// Parse reads what is looked for, a word, a phrase or a filter in each argument.
// The error says what is wrong with one and what is allowed.
func Parse(args []string) (*Query, error) {
	q := &Query{}
	table := Filters()
	for _, arg := range args {
		f, isFilter := parse(arg)
		if !isFilter {
			if phrase := Words(arg); len(phrase) > 0 {
				q.terms = append(q.terms, term{text: arg, phrase: phrase})
				continue
			}
			return nil, fmt.Errorf("%q holds no word to look for", arg)
		}
		i := slices.IndexFunc(table, func(row Filter) bool { return strings.TrimSuffix(row.Name, "s") == strings.TrimSuffix(f.name, "s") })
		if i < 0 {
			return nil, unknownFilter(f.name, table)
		}
		if f.value == "" {
			return nil, fmt.Errorf("%q does not say what to look for: write %s", arg, table[i].Use)
		}
		test, err := table[i].make(&f)
		if err != nil {
			return nil, err
		}
		q.terms = append(q.terms, term{text: arg, filter: test})
	}
	return q, nil
}

func unknownFilter(name string, table []Filter) error {
	var known []string
	for _, f := range table {
		known = append(known, f.Name)
	}
	return fmt.Errorf("no filter is called %q: %s", name, setup.Suggest(name, known))
}

// texts makes a filter of texts, one of which must hold what is written.
func texts(of func(*setup.Setup) []string) func(*written) (func(*candidate) bool, error) {
	return func(f *written) (func(*candidate) bool, error) {
		phrase, err := f.phrase()
		if err != nil {
			return nil, err
		}
		return func(c *candidate) bool { return holds(of(c.setup), phrase) }, nil
	}
}

// phrase is the value in words.
func (f *written) phrase() ([]string, error) {
	phrase := Words(f.value)
	switch {
	case f.op != ":" && f.op != "=":
		return nil, fmt.Errorf("%q compares words: write %s:%s", f.text, f.name, f.value)
	case len(phrase) == 0:
		return nil, fmt.Errorf("%q holds no word to look for", f.text)
	}
	return phrase, nil
}

func holds(texts, phrase []string) bool {
	return slices.ContainsFunc(texts, func(t string) bool {
		f := field{words: Words(t)}
		return f.has(phrase) > 0
	})
}

func ofLights(of func(*setup.Light) []string) func(*setup.Setup) []string {
	return func(s *setup.Setup) []string {
		var out []string
		for i := range s.Lights {
			out = append(out, of(&s.Lights[i])...)
		}
		return out
	}
}

func names(s *setup.Setup) []string {
	out := ofLights(func(l *setup.Light) []string { return []string{l.Name} })(s)
	for i := range s.Grip {
		out = append(out, s.Grip[i].Name)
	}
	return out
}

// modifier takes another name of a kind too: modifier:octa finds an octabox.
func modifier(f *written) (func(*candidate) bool, error) {
	phrase, err := f.phrase()
	if err != nil {
		return nil, err
	}
	kind := grammar.FindKind(f.value)
	return func(c *candidate) bool {
		return slices.ContainsFunc(c.setup.Lights, func(l setup.Light) bool {
			return holds(modifierTexts(&l), phrase) || kind != nil && l.Modifier != nil && grammar.FindKind(l.Modifier.Kind) == kind
		})
	}, nil
}
