package main

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"stopleaf/rebuild/check"
	"stopleaf/setup"
)

// checkOut is the JSON of "check --json".
type checkOut struct {
	Stopleaf int     `json:"stopleaf"`
	Code     string  `json:"code"`
	Title    *string `json:"title"`
	Look     *string `json:"look"`
	*check.Result
	Problems []problemOut `json:"problems"`
}

func checkJSON(l *loaded, r *check.Result) []byte {
	s := l.setup
	return marshal(checkOut{
		Stopleaf: contract, Code: s.Code, Title: known(s.TitleAsWritten()), Look: known(s.Look), Result: r,
		Problems: problemList(distinct(l.problems), relativeTo(s.File)),
	})
}

// checkText is what a person reads: what is the matter and what to do in words,
// then the table.
func checkText(s *setup.Setup, r *check.Result) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s\n", strings.TrimSpace(s.Code+"  "+s.Title))
	writeWrapped(&b, "", checkToday(s, r))
	fmt.Fprintf(&b, "\n%s\n", checkSummary(r))
	if common := r.Common; common != nil {
		b.WriteString("\n")
		writeWrapped(&b, "", common.Text)
		checkRemedies(&b, common.Remedies)
	}
	checkEach(&b, r)
	checkTable(&b, s, r)
	checkToMeter(&b, r)
	if saysDial(r) {
		b.WriteString("\n")
		writeWrapped(&b, "", "Dials: the first mark is where the record puts it today. If yours shows another, set that first and meter again.")
	}
	return b.Bytes()
}

// checkEach says of each light that is off what to do about it; two of a pair
// that are off alike are told once.
func checkEach(b *bytes.Buffer, r *check.Result) {
	for i := 0; i < len(r.Lights); i++ {
		f := &r.Lights[i]
		if len(f.Remedies) == 0 {
			continue
		}
		lead, be, own := strings.TrimSpace(numbers(f.Numbers)+" "+f.Name), "is", f.Remedies
		if i+1 < len(r.Lights) && alike(f, &r.Lights[i+1]) {
			i++
			lead, be = lead+" and "+strings.TrimSpace(numbers(r.Lights[i].Numbers)+" "+r.Lights[i].Name), "are each"
		}
		b.WriteString("\n")
		switch {
		case f.Within:
			lead += fmt.Sprintf(" %s right as things are.", be)
		default:
			lead += fmt.Sprintf(" %s %s.", be, f.Words())
		}
		if f.Unchanged {
			lead += " As recorded, that light gives just this at today's ISO and shutter: it is the base that is another."
		}
		writeWrapped(b, "", lead)
		checkRemedies(b, own)
	}
}

// alike reports whether what is to be done about two lights is the same.
func alike(f, g *check.Finding) bool {
	return f.Words() == g.Words() && f.Within == g.Within && slices.EqualFunc(f.Remedies, g.Remedies, func(a, b check.Remedy) bool { return a.Text == b.Text })
}

// saysDial reports whether a mark is named where a dial is taken to stand.
func saysDial(r *check.Result) bool {
	says := func(list []check.Remedy) bool {
		return slices.ContainsFunc(list, func(m check.Remedy) bool { return m.Kind == "dial" && m.From != "" })
	}
	return r.Common != nil && says(r.Common.Remedies) || slices.ContainsFunc(r.Lights, func(f check.Finding) bool { return says(f.Remedies) })
}

// checkToday is what today's readings are held against.
func checkToday(s *setup.Setup, r *check.Result) string {
	var facts []string
	style := s.Style()
	switch {
	case r.BaseFrom == "reading":
		facts = append(facts, fmt.Sprintf("today %s reads %s, and that is the base", r.Zero, style.Reading(*r.BaseAv)))
	case r.BaseFrom == "said":
		facts = append(facts, fmt.Sprintf("today's base is %s", r.Base))
	default:
		facts = append(facts, "today the readings are differences from "+r.Zero)
	}
	if k := s.Exposure.KeyAv; k != nil && r.BaseAv != nil {
		facts[0] += fmt.Sprintf(" (recorded at %s)", style.Reading(*k))
	}
	if r.ISO != nil {
		facts = append(facts, "ISO "+decimals(*r.ISO, 0))
	}
	if r.ShutterS != nil {
		facts = append(facts, seconds(*r.ShutterS))
	}
	return capital(strings.Join(facts, ", "))
}

func checkSummary(r *check.Result) string {
	given, off := 0, 0
	for _, f := range r.Lights {
		if f.Off != nil {
			given++
		}
		if !f.Within {
			off++
		}
	}
	switch {
	case given == 0:
		return "Nothing to compare yet."
	case off == 0 && given == 1:
		return "The one light compared is right."
	case given == 1:
		return "The one light compared is off."
	case off == 0:
		return fmt.Sprintf("All %d are right.", given)
	}
	verb := "are"
	if off == 1 {
		verb = "is"
	}
	return fmt.Sprintf("%d of %d %s off.", off, given, verb)
}

func numbers(ns []int) string {
	var out []string
	for _, n := range ns {
		out = append(out, strconv.Itoa(n))
	}
	return strings.Join(out, "+")
}

// checkRemedies lists what to do, what is best first.
func checkRemedies(b *bytes.Buffer, list []check.Remedy) {
	for i, r := range list {
		text := r.Text
		if i > 0 && list[i-1].Kind != "follow" {
			first, n := utf8.DecodeRuneInString(text)
			text = "Or: " + string(unicode.ToLower(first)) + text[n:]
		}
		writeWrapped(b, "    ", text)
	}
}

func checkTable(b *bytes.Buffer, s *setup.Setup, r *check.Result) {
	rows := [][]string{{"", "light", "should read", "reads", "off", "what to do"}}
	for i := range r.Lights {
		f := &r.Lights[i]
		row := []string{numbers(f.Numbers), f.Name, f.Should, f.Reads, f.Words(), ""}
		switch {
		case f.Off == nil:
			row[4] = "the base"
			if r.Common != nil && r.Common.Cause == "zero" {
				row[5] = "see above"
			}
		case len(f.Remedies) > 0:
			row[5] = f.Remedies[0].Short
		case !f.Within:
			row[5] = "see above"
		case row[4] == "0":
			row[4] = "right"
		default:
			row[5] = "leave it"
		}
		rows = append(rows, row)
	}
	b.WriteString("\n")
	writeTable(b, rows, "rlllll")
}

// checkToMeter lists what was not given, with what it should read.
func checkToMeter(b *bytes.Buffer, r *check.Result) {
	if len(r.ToMeter) == 0 {
		return
	}
	var list []string
	for _, f := range r.ToMeter {
		item := strings.TrimSpace(numbers(f.Numbers) + " " + f.Name)
		if f.Should != "" {
			item += " " + f.Should
		}
		list = append(list, item)
	}
	b.WriteString("\n")
	writeWrapped(b, "", "Still to be metered: "+strings.Join(list, "; ")+".")
}
