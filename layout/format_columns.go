package layout

import (
	"fmt"
	"slices"
	"strings"

	"stopleaf/setup"
	"stopleaf/setup/grammar"
)

// tableName is what a table is called by its fields.
func tableName(columns [][]string) string {
	has := func(fields ...string) bool {
		return slices.ContainsFunc(columns, func(c []string) bool {
			return slices.ContainsFunc(fields, func(f string) bool { return holds(c, f) })
		})
	}
	switch {
	case has("dial", "modifier", "meter"):
		return "lights"
	case has("target"):
		return "targets"
	case has("place", "measure", "clock", "height"):
		return "places"
	}
	return "lights"
}

// columns reads the fields of each column of a table.
func (r *formatReader) columns(v setup.Value, table string) [][]string {
	var out [][]string
	var all []string
	allowed := grammar.LightFields
	if table == "today" {
		allowed = r.words("columns")
	}
	whole := v.Whole()
	for _, c := range v.Items() {
		fields, good := r.known(c, allowed)
		whole = whole && good
		if !c.IsText() && len(c.Items()) == 0 && c.Whole() {
			r.Err(c.Pos(), "no-field", "a column has no field", "name one of: "+strings.Join(allowed, ", "))
		}
		for _, f := range fields {
			if holds(all, f) {
				r.Err(c.Pos(), "twice", fmt.Sprintf("%q stands in two columns", f), "take one out")
			}
			all = append(all, f)
		}
		r.apart(c, fields)
		out = append(out, fields)
	}
	switch {
	case whole && !holds(all, "number"):
		r.Err(v.Pos(), "no-field", "a table of lights has no \"number\"", "lights are found on the drawing by their numbers")
	case whole && table == "today" && !slices.ContainsFunc(grammar.TodayFields, func(f string) bool { return holds(all, f) }):
		r.Err(v.Pos(), "no-field", "\"today\" has neither \"reads\" nor \"set\"", "they are its spaces to fill in; a table without them is the block lights")
	}
	return out
}

// apart refuses what cannot stand in one column: beside targets and dials, which
// are there for each base, or beside a space to fill in.
func (r *formatReader) apart(c setup.Value, fields []string) {
	base := holds(fields, "target") || holds(fields, "dial")
	for _, f := range fields {
		switch {
		case holds(grammar.TodayFields, f) && len(fields) > 1:
			r.Err(c.Pos(), "not-here", fmt.Sprintf("%q stands in a column with something else, and is a space to fill in", f), "give it a column of its own")
		case base && f != "target" && f != "dial":
			r.Err(c.Pos(), "not-here", fmt.Sprintf("%q stands in a column with targets or dials, which is there for each base", f), "give it a column of its own")
		}
	}
}

// defaultColumns are those of a table of lights that names none, for a width of
// so many millimetres; nil for what is no table.
func defaultColumns(table string, width float64) [][]string {
	switch table {
	case "lights":
		if width < 100 {
			return [][]string{{"number"}, {"light", "modifier", "meter"}, {"difference"}, {"target", "dial"}}
		}
		return [][]string{{"number"}, {"light", "modifier"}, {"difference", "meter"}, {"target", "dial"}}
	case "targets":
		return [][]string{{"number"}, {"name"}, {"difference"}, {"target"}}
	case "places":
		switch {
		case width < 100:
			return [][]string{{"number"}, {"name", "place", "measure"}, {"height", "aim", "throw"}}
		case width < 150:
			return [][]string{{"number"}, {"name", "clock"}, {"place", "measure"}, {"height", "aim"}, {"throw"}}
		}
		return [][]string{{"number"}, {"name"}, {"place"}, {"measure"}, {"clock"}, {"height"}, {"aim"}, {"throw"}}
	case "today":
		if width < 130 {
			return [][]string{{"number"}, {"name", "difference"}, {"target", "dial"}, {"reads"}, {"set"}}
		}
		return [][]string{{"number"}, {"name"}, {"difference"}, {"target", "dial"}, {"reads"}, {"set"}}
	}
	return nil
}
