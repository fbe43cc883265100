package main

import (
	"bytes"
	"cmp"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"stopleaf/binder"
	"stopleaf/binder/find"
	"stopleaf/exposure"
	"stopleaf/exposure/apex"
)

func runList(c *call) error {
	paths := c.operands
	if len(paths) == 0 {
		paths = []string{"."}
	}
	shelf, err := c.shelf(paths, func(it *binder.Item) {
		n := exposure.Compute(it.Setup.Input(nil))
		it.Of, it.Setup = binder.Summarize(it.Setup, &n), nil
	})
	if err != nil {
		return err
	}
	problems := shelfErrors(shelf, true)
	if err := c.report(c.stderr, problems); err != nil {
		return err
	}
	list := kept[binder.Summary](shelf)
	sortList(list, c.set["by"])
	out := listText(list)
	if c.asJSON() {
		out = marshal(listOut{contract, setupsOut(list), problemList(problems, filepath.ToSlash)})
	}
	if err := c.result(out, shelf.Files()); err != nil {
		return err
	}
	if problems.HasErrors() {
		return errReported
	}
	return nil
}

// sortList orders by code unless another order is said, a title without its case
// and accents; of equals by file. By date
// the newest comes first, what has no date last.
func sortList(list []binder.Summary, order string) {
	slices.SortStableFunc(list, func(a, b binder.Summary) int {
		first := 0
		switch order {
		case "title":
			first = slices.Compare(find.Words(a.Title), find.Words(b.Title))
		case "made":
			first = strings.Compare(b.Made, a.Made)
		}
		return cmp.Or(first, binder.CompareCodes(a.Code, b.Code), strings.Compare(a.File, b.File))
	})
}

func listText(list []binder.Summary) []byte {
	var b bytes.Buffer
	rows := [][]string{{"code", "title", "made", "lights", "ratio", "base range", "tags"}}
	for _, s := range list {
		ratio := unknown
		if s.KeyToFill != nil {
			ratio = decimals(*s.KeyToFill, 1) + " : 1"
		}
		rows = append(rows, []string{orUnknown(s.Code), orUnknown(s.Title), orUnknown(s.Made), strconv.Itoa(s.Lights), ratio,
			shortRange(s.Style, s.BaseRange), strings.Join(s.Tags, ", ")})
	}
	writeTable(&b, rows, "lllrrll")
	return b.Bytes()
}

// shortRange is the range rounded inward: "f/4 to f/11", "none".
func shortRange(style apex.Style, r exposure.BaseRange) string {
	switch {
	case r.LowAv == nil && len(r.LowBy) > 0 && len(r.HighBy) > 0:
		return "none"
	case r.LowAv == nil || r.HighAv == nil:
		return unknown
	}
	low, high, ok := style.Inward(*r.LowAv, *r.HighAv)
	if !ok {
		return "none"
	}
	return style.Reading(low) + " to " + style.Reading(high)
}

// listOut is the JSON of "list --json".
type listOut struct {
	Stopleaf int           `json:"stopleaf"`
	Setups   []listedSetup `json:"setups"`
	Problems []problemOut  `json:"problems"`
}

type listedSetup struct {
	Code      string             `json:"code"`
	Title     *string            `json:"title"`
	Made      *string            `json:"made"`
	By        *string            `json:"by"`
	Lights    int                `json:"lights"`
	KeyToFill *float64           `json:"key_to_fill"`
	BaseRange exposure.BaseRange `json:"base_range"`
	HighestM  *float64           `json:"highest_m"` // of the set, above the floor
	Tags      []string           `json:"tags"`
	Looks     []string           `json:"looks"`
	File      string             `json:"file"`
}

func setupsOut(list []binder.Summary) []listedSetup {
	out := []listedSetup{}
	for _, s := range list {
		out = append(out, listedSetup{s.Code, known(s.Title), known(s.Made), known(s.By), s.Lights, s.KeyToFill, s.BaseRange,
			s.HighestM, append([]string{}, s.Tags...), append([]string{}, s.Looks...), filepath.ToSlash(s.File)})
	}
	return out
}
