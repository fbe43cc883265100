package layout

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"

	"stopleaf/templates"
)

// format is a page format: a paper, its type sizes and the arrangements of
// named blocks that are tried on it, in order. All lengths in millimetres.
type format struct {
	Name   string
	For    string // the document it is for
	Width  float64
	Height float64
	Margin float64 // kept clear of ink; without a frame, the accents of a first line may reach 0.7 mm into it
	Frame  bool    // a line around the page, as on a drawing
	Gap    float64 // between blocks
	// Sheet is the paper that several pages of this format are laid out on, to
	// be cut apart; none when its width is 0.
	Sheet cutSheet
	Type  struct {
		Text    float64 // names, figures, cautions
		Target  float64 // the targets in the table of lights
		Title   float64
		Code    float64
		Balloon float64
	}
	// Codes is how wide a code that holds the setup may be, its quiet zone
	// included; a setup that needs more has several.
	Codes float64
	// Strip and StripNext are the fields of the title block on the first and
	// on further sides: title, owner, date, scale, units, recorded, code,
	// sheet. Empty is all of them.
	Strip     []string
	StripNext []string `yaml:"strip next"`
	// Sides are tried in order: the first on which everything fits is taken,
	// after blocks have left it in the order of its Give for the next side,
	// where they are stacked in the order of Next.
	// Filler goes to the last side where there is room left, else nowhere.
	Sides   []node
	Next    []node
	Filler  []node
	own     bool     // a person's own: what does not fit it is refused
	leftOut []string // of a person's own: blocks and fields that are never printed
}

// cutSheet is a paper that cards are cut from. They stand in its middle.
type cutSheet struct {
	Width, Height float64
	Margin        float64 // from its edge to the outermost cards, at least
	Across, Down  int
}

// node is one block, or blocks across or down. A block given as a bare name is
// that block with nothing further said.
type node struct {
	Block   string
	As      string     // its name in Give and Next when a block stands twice
	Across  []node     //
	Down    []node     //
	Width   float64    // mm; 0 shares what is left
	Share   float64    // how much of what is left; 1 unless said
	Least   float64    // mm, the least height of a block that stretches
	Columns [][]string // table of lights: the fields of each column, stacked
	Short   bool       // cautions: the short form, one after another on a line
	Flow    bool       // a row on a further side: its columns may go on on the next, each by itself
	Run     bool       // cautions: in full, one after another on a line
	Give    []string   // of a whole side: the blocks that may turn over, first to go first
	auto    bool       // a table that only stands where others do not give its fields
}

// UnmarshalYAML takes a bare name for a block.
func (n *node) UnmarshalYAML(y *yaml.Node) error {
	if y.Kind == yaml.ScalarNode {
		n.Block = y.Value
		return nil
	}
	type plain node
	return y.Decode((*plain)(n))
}

// leavesOut says whether a block or field is never printed.
func (f *format) leavesOut(name string) bool { return holds(f.leftOut, name) }

func (n node) name() string {
	if n.As != "" {
		return n.As
	}
	return n.Block
}

// Papers lists the built-in papers of the card.
func Papers() []string {
	names, err := templates.List("formats")
	if err != nil {
		return nil
	}
	var out []string
	for _, n := range names {
		if s, ok := strings.CutPrefix(n, "card-"); ok {
			out = append(out, strings.TrimSuffix(s, ".yaml"))
		}
	}
	return out
}

// builtIn are what reads the formats, once each, by document and paper; nobody
// writes to a format that it gives.
var builtIn sync.Map

// loadFormat reads a built-in format, once.
func loadFormat(document, paper string) (*format, error) {
	name := document + "-" + paper
	read, ok := builtIn.Load(name)
	if !ok {
		read, _ = builtIn.LoadOrStore(name, sync.OnceValues(func() (*format, error) { return readFormat(document, paper) }))
	}
	known, err := read.(func() (*format, error))()
	if err != nil {
		return nil, err
	}
	f := *known
	return &f, nil
}

// Ahead reads a document's built-in format before it is asked for; it may run
// beside anything else.
func Ahead(document, paper string) { _, _ = loadFormat(document, paper) } // its error comes when it is asked for

func readFormat(document, paper string) (*format, error) {
	b, err := templates.Read("formats/" + document + "-" + paper + ".yaml")
	if err != nil {
		return nil, unknownPaper(paper, Papers())
	}
	f := &format{Name: paper, For: document, Frame: true, Gap: 2, Codes: defaultCodes}
	if err := yaml.Unmarshal(b, f); err != nil {
		return nil, fmt.Errorf("format %s-%s: %w", document, paper, err)
	}
	return f, nil
}

func unknownPaper(paper string, known []string) error {
	return fmt.Errorf("paper %q is not known; there are %s", paper, strings.Join(known, ", "))
}

// prune keeps the blocks that want says yes to; some is false when none is
// left.
func (n node) prune(want func(name string) bool) (out node, some bool) {
	if n.Block != "" {
		return n, want(n.name())
	}
	out = n
	out.Across, out.Down = nil, nil
	for _, c := range n.Across {
		if c, ok := c.prune(want); ok {
			out.Across = append(out.Across, c)
		}
	}
	for _, c := range n.Down {
		if c, ok := c.prune(want); ok {
			out.Down = append(out.Down, c)
		}
	}
	return out, len(out.Across)+len(out.Down) > 0
}

// keep makes a filler a block like any other, that stays on the first side if
// it is there and goes to a further one if it is not.
func (f *format) keep(name string) {
	for i, n := range f.Filler {
		if n.name() == name {
			f.Next = append(slices.Clip(f.Next), n)
			f.Filler = slices.Delete(slices.Clone(f.Filler), i, i+1)
			break
		}
	}
	f.Sides = slices.Clone(f.Sides)
	for i := range f.Sides {
		f.Sides[i].Give = slices.DeleteFunc(slices.Clone(f.Sides[i].Give), func(s string) bool { return s == name })
	}
}
