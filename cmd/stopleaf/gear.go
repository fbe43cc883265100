package main

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"stopleaf/exposure/apex"
	"stopleaf/rebuild/heads"
	"stopleaf/setup"
)

// runGear says what each head was found to give through each modifier. A setup
// with mistakes is told, and the others count.
func runGear(c *call) error {
	if c.has("json") && c.has("write") {
		return &usageError{"--json and --write do not go together", "--write proposes lines of a gear file, which is YAML"}
	}
	if len(c.operands) == 0 {
		c.operands = []string{"."}
	}
	shelf, err := c.shelf(c.operands, nil)
	if err != nil {
		return err
	}
	problems := slices.DeleteFunc(shelf.All(), func(p setup.Problem) bool { return p.Level != setup.Error || p.Code == "code-twice" })
	if err := c.report(c.stderr, problems); err != nil {
		return err
	}
	setups := shelf.Setups()
	var inputs []string
	for _, s := range setups {
		inputs = append(inputs, s.Files...)
	}
	t := heads.Learn(setups)
	var out []byte
	switch {
	case c.has("write"):
		out = proposedGear(t)
	case c.has("json") || strings.EqualFold(filepath.Ext(c.set["output"]), ".json"):
		out = gearJSON(t, problems)
	default:
		out = gearText(t)
	}
	if err := c.result(out, inputs); err != nil {
		return err
	}
	if problems.HasErrors() {
		return errReported
	}
	return nil
}

func quoted(names []string) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = strconv.Quote(n)
	}
	return out
}

// gearText is the table for a person.
func gearText(t *heads.Table) []byte {
	var b bytes.Buffer
	if len(t.Outputs) == 0 {
		fmt.Fprintf(&b, "Nothing to tell of any head: no light in %s has its head, power, modifier, place and reading\n"+
			"written down, and the gear has no \"output\".\n", many(t.Setups, "setup"))
	} else {
		b.WriteString("What each head gives at 1 m, full power, ISO 100 (est.)\n\n")
		writeTable(&b, gearRows(t), "llllll")
		b.WriteString("\n")
		writeWrapped(&b, "", "est.: each light is carried to 1 m by the emission of its own modifier, an even rectangle or disc, which close in is no "+
			"point; a bowl or a bare head goes by the inverse square. Of several lights it is the median. The spread is from what the output says, "+
			"or else that median, to the record furthest from it: of two lights, half of what is between them; of one record there is none.")
		disagreements(&b, t)
	}
	leftOut(&b, t)
	return b.Bytes()
}

func gearRows(t *heads.Table) [][]string {
	rows := [][]string{{"head", "through", "its output", "the lights", "from", "spread"}}
	for i := range t.Outputs {
		o := &t.Outputs[i]
		row := []string{o.Called(), o.Modifier, "–", "–", gearFrom(o), "–"}
		if o.Written {
			row[2] = apex.Tenths(o.Av)
		}
		if av, ok := o.OfLights(); ok {
			row[3] = apex.Tenths(av)
		}
		if o.Spread != nil {
			row[5] = fmt.Sprintf("%.1f", *o.Spread+1e-9)
		}
		rows = append(rows, row)
	}
	return rows
}

func many(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// gearFrom says how many records there are: "1 output line, 3 lights in 2 setups".
func gearFrom(o *heads.Output) string {
	lights, setups := o.Lights()
	var parts []string
	if lines := len(o.Records) - lights; lines > 0 {
		parts = append(parts, many(lines, "output line"))
	}
	if lights > 0 {
		parts = append(parts, many(lights, "light")+" in "+many(setups, "setup"))
	}
	return strings.Join(parts, ", ")
}

// aTenth is the least that counts as a disagreement, in stops: what rounds to it.
const aTenth = 0.05

// disagreements points at the record of each output that is furthest from it,
// the worst first.
func disagreements(b *bytes.Buffer, t *heads.Table) {
	var list []*heads.Output
	for i := range t.Outputs {
		if o := &t.Outputs[i]; o.Spread != nil && *o.Spread >= aTenth-1e-9 {
			list = append(list, o)
		}
	}
	slices.SortStableFunc(list, func(x, y *heads.Output) int { return cmp.Compare(*y.Spread, *x.Spread) })
	if len(list) == 0 {
		return
	}
	b.WriteString("\nWhat disagrees most\n")
	for _, o := range list {
		writeWrapped(b, "  ", disagreement(o))
	}
}

func disagreement(o *heads.Output) string {
	where := o.Called() + " through " + o.Modifier
	far := o.Furthest()
	if far == nil {
		a, z := &o.Records[0], &o.Records[1]
		return fmt.Sprintf("%s and %s are %s apart for %s: %s and %s at 1 m. With two, neither can be called wrong.",
			recordText(a), recordText(z), stops(math.Abs(a.Av-z.Av)), where, apex.Tenths(a.Av), apex.Tenths(z.Av))
	}
	than := "the median of " + many(len(o.Records), "light")
	if o.Written {
		than = "the output"
	}
	more := "more"
	if far.Off < 0 {
		more = "less"
	}
	return fmt.Sprintf("%s is %s %s than %s for %s: %s at 1 m, not %s.", recordText(far), stops(math.Abs(far.Off)), more, than, where,
		apex.Tenths(far.Av), apex.Tenths(o.Av))
}

func stops(v float64) string {
	text := fmt.Sprintf("%.1f", v+1e-9)
	if text == "1.0" {
		return text + " stop"
	}
	return text + " stops"
}

// recordText is where a record stands, and the name of its light.
func recordText(r *heads.Record) string {
	if r.Written {
		return r.Pos.String() + " \"output\""
	}
	return fmt.Sprintf("%s %q", r.Pos, r.Light)
}

// fewPlaces is how many places are listed for one reason.
const fewPlaces = 3

// leftOut says what did not count, by what it lacks, the commonest first.
func leftOut(b *bytes.Buffer, t *heads.Table) {
	if len(t.LeftOut) == 0 {
		return
	}
	by := map[string][]heads.LeftOut{}
	var reasons []string
	for _, l := range t.LeftOut {
		if by[l.Why] == nil {
			reasons = append(reasons, l.Why)
		}
		by[l.Why] = append(by[l.Why], l)
	}
	slices.SortStableFunc(reasons, func(x, y string) int { return cmp.Or(len(by[y])-len(by[x]), cmp.Compare(x, y)) })
	fmt.Fprintf(b, "\nLeft out, since something would have to be guessed: %d\n", len(t.LeftOut))
	for _, why := range reasons {
		var places []string
		for _, l := range by[why] {
			if len(places) == fewPlaces && len(by[why]) > fewPlaces+1 {
				places = append(places, fmt.Sprintf("and %d more", len(by[why])-fewPlaces))
				break
			}
			r := heads.Record{Pos: l.Pos, Light: l.Light, Written: l.Light == ""}
			places = append(places, recordText(&r))
		}
		writeWrapped(b, fmt.Sprintf("  %3d  ", len(by[why])), why+": "+strings.Join(places, ", "))
	}
}
