package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"stopleaf/rebuild/compare"
	"stopleaf/setup"
)

func runCompare(c *call) error {
	a, b, err := c.loadTwo()
	if err != nil {
		return err
	}
	problems, inputs := gather([]*loaded{a, b})
	asJSON := c.has("json") || strings.EqualFold(filepath.Ext(c.set["output"]), ".json")
	if problems.HasErrors() || !asJSON || c.jsonProblems() {
		if err := c.report(c.stderr, problems); err != nil {
			return err
		}
	}
	if problems.HasErrors() {
		return errReported
	}
	r := compare.Compare(compare.Side{Setup: a.setup, Numbers: a.numbers}, compare.Side{Setup: b.setup, Numbers: b.numbers})
	if asJSON {
		return c.result(compareJSON(r, problems), inputs)
	}
	return c.result(compareText(r, c.has("all")), inputs)
}

// loadTwo reads A and B. One file is both, as written and in a look.
func (c *call) loadTwo() (a, b *loaded, err error) {
	var names []string
	for _, op := range c.operands {
		found, err := expand([]string{op})
		switch {
		case err != nil:
			return nil, nil, err
		case len(found) > 1:
			return nil, nil, &usageError{fmt.Sprintf("compare takes one setup on each side, and the folder %q has several", op), "name one of them"}
		}
		names = append(names, found...)
	}
	one := len(names) == 1 || sameFile(names[0], names[1])
	switch {
	case one && len(names) == 1 && !c.has("look") && !c.has("look-a") && !c.has("look-b"):
		return nil, nil, &usageError{"compare needs two setups, or one and --look", "stopleaf compare A.yaml B.yaml, stopleaf compare A.yaml --look \"No hair\""}
	case one && names[0] == "-":
		return nil, nil, &usageError{"standard input cannot be read twice", "name a file"}
	case c.has("look") && c.has("look-b") && (c.has("look-a") || one):
		return nil, nil, &usageError{"--look has no setup left to be for", "keep --look-a and --look-b"}
	}
	if one {
		names = []string{names[0], names[0]}
	}
	missing := "" // the one of two that has not the look of both
	in := func(own string, shared bool) func(*setup.Setup) (*setup.Setup, error) {
		return func(s *setup.Setup) (*setup.Setup, error) {
			switch {
			case c.has(own):
				return c.inLook(s, own)
			case !shared || !c.has("look"):
				return s, nil
			}
			with, err := c.inLook(s, "look")
			if err == nil || one || missing != "" || c.has("look-a") || c.has("look-b") {
				return with, err
			}
			missing = s.File
			return s, nil
		}
	}
	if a, err = c.loadAs(names[0], in("look-a", !one), setup.Check); err != nil {
		return nil, nil, err
	}
	if b, err = c.loadAs(names[1], in("look-b", true), setup.Check); err != nil {
		return nil, nil, err
	}
	if missing != "" {
		c.say("%q has no look %q: it is compared as written", missing, c.set["look"])
	}
	return a, b, nil
}

// sameFile reports whether two operands are one file.
func sameFile(a, b string) bool {
	if a == b {
		return true
	}
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

// compareText gives what differs in words, then as a table.
func compareText(r *compare.Result, all bool) []byte {
	var b bytes.Buffer
	for _, side := range []struct {
		name string
		s    *setup.Setup
	}{{"A", r.A.Setup}, {"B", r.B.Setup}} {
		b.WriteString(strings.Join(strings.Fields(side.name+" "+side.s.Code), "  ") + "  " + side.s.Title)
		if side.s.Made != "" {
			b.WriteString(", made " + side.s.Made)
		}
		b.WriteString("\n")
	}
	b.WriteString("\n")
	for _, n := range r.Notes {
		writeWrapped(&b, "note: ", n.Text)
	}
	for _, w := range r.Words() {
		writeWrapped(&b, "- ", w)
	}
	within := fmt.Sprintf("within %s stop, %s cm and %s°", decimals(compare.Stops, 1), decimals(compare.Length*100, 0), decimals(compare.Angle, 0))
	rest := strings.Join(r.Rest(), ", ")
	switch {
	case r.Same():
		writeWrapped(&b, "", "The two are the same "+within+": "+rest)
	case rest != "":
		writeWrapped(&b, "", "The rest is the same "+within+": "+rest)
	}
	for _, who := range []string{"A", "B"} {
		if list := r.Unsaid(who); len(list) > 0 {
			writeWrapped(&b, "", who+" does not say: "+strings.Join(list, "; "))
		}
	}
	compareTable(&b, r, all)
	return b.Bytes()
}

// compareTable lists the facts that differ or do not compare, or all.
func compareTable(b *bytes.Buffer, r *compare.Result, all bool) {
	rows := [][]string{{"", "", "A", "B", "change"}}
	put := func(name string, facts []compare.Fact, differs, alone bool) {
		for i := range facts {
			f := &facts[i]
			shown := f.Differs() || f.Incomparable() || differs && f.Echoes() || alone && f.Key == "delta"
			if !f.Known() || !all && !shown {
				continue
			}
			row := []string{name, f.Name, f.TextA, f.TextB, f.TextChange}
			for i := 2; i < 4; i++ {
				if row[i] == "" {
					row[i] = unknown
				}
			}
			if f.Incomparable() {
				row[4] = "does not compare"
			}
			rows, name = append(rows, row), ""
		}
	}
	for _, list := range [][]compare.Pair{r.Lights, r.Grip} {
		for i := range list {
			put(list[i].Name(), list[i].Facts, list[i].Differs(), list[i].Alone())
		}
	}
	for i := range r.Set {
		put(r.Set[i].Name, r.Set[i].Facts, r.Set[i].Differs(), false)
	}
	if len(rows) == 1 {
		return
	}
	remark := "differences do not compare"
	if zero := r.Zero(); zero != "" {
		remark = "differences in stops from " + zero
	}
	fmt.Fprintf(b, "\nFigures  (%s; left and right as the camera sees)\n", remark)
	writeTable(b, rows, "lllll")
}

// compareOut is the JSON of "compare --json".
type compareOut struct {
	Stopleaf  int                           `json:"stopleaf"`
	A         sideOut                       `json:"a"`
	B         sideOut                       `json:"b"`
	Tolerance toleranceOut                  `json:"tolerance"`
	Same      bool                          `json:"same"` // nothing that both say differs
	From      fromOut                       `json:"from"`
	Mirrored  bool                          `json:"mirrored"`
	Words     []string                      `json:"words"`
	Notes     []compare.Note                `json:"notes"`
	Lights    []pairOut                     `json:"lights"`
	Grip      []pairOut                     `json:"grip"`
	Set       map[string]map[string]factOut `json:"set"`
	Problems  []problemOut                  `json:"problems"`
}

type sideOut struct {
	Code  string  `json:"code"`
	Title *string `json:"title"`
	Look  *string `json:"look"` // null for the set as written
	Made  *string `json:"made"`
}

type toleranceOut struct {
	Stops   float64 `json:"stops"`
	LengthM float64 `json:"length_m"`
	Degrees float64 `json:"angle_deg"`
}

// fromOut is what differences in stops are from, a light or "ambient"; null
// where they do not compare.
type fromOut struct {
	A *string `json:"a"`
	B *string `json:"b"`
}

type pairOut struct {
	A       *compare.Item      `json:"a"` // null for one that only B has
	B       *compare.Item      `json:"b"`
	Matched *string            `json:"matched"` // "name", "role", "place"; null for one alone
	Same    bool               `json:"same"`
	Stops   *float64           `json:"stops"`   // how much brighter in B; null where unknown or not comparable
	MovedM  *float64           `json:"moved_m"` // between its two places
	Facts   map[string]factOut `json:"facts"`
}

// factOut is one fact; a and b are null where not known, change and same also
// where the two do not compare.
type factOut struct {
	A      any      `json:"a"`
	B      any      `json:"b"`
	Change *float64 `json:"change"` // b - a; null for words
	Same   *bool    `json:"same"`
}

func compareJSON(r *compare.Result, problems setup.Problems) []byte {
	side := func(s *setup.Setup) sideOut {
		return sideOut{s.Code, known(s.TitleAsWritten()), known(s.Look), known(s.Made)}
	}
	out := compareOut{
		Stopleaf: contract, A: side(r.A.Setup), B: side(r.B.Setup),
		Tolerance: toleranceOut{compare.Stops, compare.Length, compare.Angle},
		Same:      r.Same(), From: fromOut{known(r.From[0]), known(r.From[1])}, Mirrored: r.Mirrored,
		Words: append([]string{}, r.Words()...), Notes: append([]compare.Note{}, r.Notes...),
		Lights: pairsOut(r.Lights), Grip: pairsOut(r.Grip), Set: map[string]map[string]factOut{},
		Problems: problemList(distinct(problems), relativeTo(r.A.Setup.File)),
	}
	for i := range r.Set {
		out.Set[r.Set[i].Name] = factsOut(r.Set[i].Facts)
	}
	return marshal(out)
}

func pairsOut(list []compare.Pair) []pairOut {
	out := []pairOut{}
	for i := range list {
		p := &list[i]
		out = append(out, pairOut{p.A, p.B, known(p.How), !p.Differs(), p.Stops, p.Moved, factsOut(p.Facts)})
	}
	return out
}

func factsOut(list []compare.Fact) map[string]factOut {
	out := map[string]factOut{}
	for _, f := range list {
		out[f.Key] = factOut{f.A, f.B, f.Change, f.Same}
	}
	return out
}
