package main

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"stopleaf/kit"
	"stopleaf/layout"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

// runPack says what to bring for the setups: as text, as JSON, or on pages.
func runPack(c *call) error {
	d := &drawer{call: c, ending: "-pack.pdf"}
	pages, err := d.packPages()
	if err != nil {
		return err
	}
	list, inputs, err := c.kit()
	if err != nil {
		return err
	}
	switch {
	case pages:
		d.house = list.Setups[0].House
		doc, err := c.kitList(list)
		if err != nil {
			return err
		}
		return d.save(c.set["output"], doc, inputs)
	case c.has("json") || ending(c.set["output"]) == ".json":
		return c.result(packJSON(list), inputs)
	}
	text, err := packText(list)
	if err != nil {
		return err
	}
	return c.result(text, inputs)
}

func ending(name string) string { return strings.ToLower(filepath.Ext(name)) }

// packPages reports whether pages are asked for, and refuses a name that says
// nothing and flags that are for pages alone.
func (d *drawer) packPages() (bool, error) {
	name, given := d.set["output"]
	switch ext := ending(name); {
	case !given || name == "-" || ext == ".txt" || ext == ".json":
		for _, flag := range []string{"paper", "dpi", "lang", "no-source"} {
			if d.has(flag) {
				return false, &usageError{"--" + flag + " is for pages, and none are made", "add -o NAME.pdf, or leave --" + flag + " out"}
			}
		}
		return false, nil
	case d.has("json"):
		return false, &usageError{fmt.Sprintf("--json and -o %q do not go together", name), "such as -o NAME.json"}
	}
	return true, d.checkName()
}

// kit reads the setups, without their photos. Any mistake ends it: a list that
// lacks what a broken setup needs is no list.
func (c *call) kit() (*kit.List, []string, error) {
	problems, err := c.inFolders()
	if err != nil {
		return nil, nil, err
	}
	problems = slices.DeleteFunc(problems, func(p setup.Problem) bool { return p.Code == "code-twice" }) // a thing is packed once
	var setups []*setup.Setup
	var inputs []string
	seen := map[string]bool{}
	for _, name := range c.operands {
		if real := realPath(name); !seen[real] {
			seen[real] = true
		} else {
			continue
		}
		if err := readable(name); err != nil {
			return nil, nil, err
		}
		s, found := setup.Read(name, setup.Options{AllowOutside: c.has("allow-outside"), Stdin: c.stdin, NoPhotos: true})
		problems = append(problems, found...)
		if s != nil {
			setups, inputs = append(setups, s), append(inputs, s.Files...)
			problems = append(problems, layout.Glyphs(s)...)
		}
	}
	if err := c.report(c.stderr, problems); err != nil {
		return nil, nil, err
	}
	if problems.HasErrors() {
		return nil, nil, errReported
	}
	return kit.For(setups...), inputs, nil
}

// realPath is a file's own name, however it is reached.
func realPath(name string) string {
	if name == "-" {
		return name
	}
	real, err := filepath.EvalSymlinks(name)
	if err == nil {
		real, err = filepath.Abs(real)
	}
	if err != nil {
		return name
	}
	return real
}

// kitList lays a list out on pages.
func (c *call) kitList(list *kit.List) (*layout.Document, error) {
	first := list.Setups[0]
	words, err := c.wording(first)
	if err != nil {
		return nil, err
	}
	doc, err := layout.Pack(list, words, layout.PackOptions{Paper: c.paper(first)})
	if err != nil {
		return nil, err
	}
	if !c.has("no-source") {
		var sources []*layout.Source
		for _, s := range list.Setups {
			sources = append(sources, layout.NewSource(s))
		}
		for i := range doc.Pages {
			doc.Pages[i].Sources = sources
		}
	}
	return doc, stampDate(doc)
}

// packText is the list for a terminal, in English.
func packText(list *kit.List) ([]byte, error) {
	words, err := templates.Load("en")
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	var called []string
	for _, s := range list.Setups {
		called = append(called, strings.TrimSpace(s.Code+" "+s.Title))
	}
	writeWrapped(&b, "Kit for ", strings.Join(called, "; "))
	b.WriteString("\n")
	rows := [][]string{{"", "qty", "what", "kg", "for"}}
	kind := kit.Kind("")
	for i, row := range layout.KitRows(list, words) {
		it := &list.Items[i]
		sort := ""
		if it.Kind != kind {
			kind, sort = it.Kind, row.Sort
		}
		kg := "–"
		if it.NoMass == 0 {
			kg = strconv.FormatFloat(it.Kg, 'f', 1, 64)
		}
		rows = append(rows, []string{sort, row.Count, row.What, kg, row.For})
	}
	for i, what := range list.Always {
		sort := ""
		if i == 0 {
			sort = "always"
		}
		rows = append(rows, []string{sort, "", what, "", ""})
	}
	writeTable(&b, rows, "lrlrl")
	b.WriteString("\nWeight: " + layout.PackWeight(list, words) + "\n")
	if len(list.Setups) == 1 {
		b.WriteString("Mains load: " + layout.PackLoad(list.Setups[0], words) + "\n")
		return b.Bytes(), nil
	}
	b.WriteString("Mains load:\n")
	rows = nil
	for _, s := range list.Setups {
		rows = append(rows, []string{"  " + kit.Called(s), layout.PackLoad(s, words)})
	}
	writeTable(&b, rows, "ll")
	b.WriteString("\n")
	writeWrapped(&b, "", "Each thing as many times as the setup that needs most of it; under \"for\" a figure in brackets where a setup needs fewer.")
	return b.Bytes(), nil
}

// packOut is the JSON of "pack --json".
type packOut struct {
	Stopleaf int            `json:"stopleaf"`
	Setups   []packSetupOut `json:"setups"`
	Items    []packItemOut  `json:"items"`
	Always   []string       `json:"always"`
	WeightKg float64        `json:"weight_kg"` // of what has a mass
	NoMass   int            `json:"no_mass"`   // how many things have none
	MainsA   float64        `json:"mains_a"`   // the most that one setup draws, as far as it is known
}

type packSetupOut struct {
	Code    string   `json:"code"`
	Title   string   `json:"title"`
	File    string   `json:"file"`
	MainsA  float64  `json:"mains_a"`
	Volts   *float64 `json:"volts"`
	Unknown []string `json:"unknown"` // lights on the mains whose current is not known
}

type packItemOut struct {
	Kind    string     `json:"kind"`
	What    string     `json:"what"`
	N       int        `json:"n"`
	AtLeast bool       `json:"at_least"`
	Kg      float64    `json:"kg"`
	NoMass  int        `json:"no_mass"`
	For     []askedOut `json:"for"`
}

type askedOut struct {
	Setup string   `json:"setup"`
	N     int      `json:"n"`
	Of    []string `json:"of"` // its lights and grip items
}

func packJSON(list *kit.List) []byte {
	words, err := templates.Load("en")
	if err != nil {
		panic(err) // embedded
	}
	kg, without := list.Weight()
	out := packOut{Stopleaf: contract, Setups: []packSetupOut{}, Items: []packItemOut{}, Always: append([]string{}, list.Always...), WeightKg: nano(kg), NoMass: without}
	for _, s := range list.Setups {
		load := safety.MainsOf(s)
		row := packSetupOut{Code: s.Code, Title: s.Title, File: filepath.ToSlash(s.File), MainsA: nano(load.Amps), Unknown: []string{}}
		if load.Volts > 0 {
			row.Volts = &load.Volts
		}
		for _, n := range load.Unknown {
			row.Unknown = append(row.Unknown, s.Lights[n-1].Name)
		}
		out.MainsA = math.Max(out.MainsA, row.MainsA)
		out.Setups = append(out.Setups, row)
	}
	for i, row := range layout.KitRows(list, words) {
		it := &list.Items[i]
		item := packItemOut{Kind: string(it.Kind), What: row.What, N: it.N, AtLeast: it.AtLeast, Kg: nano(it.Kg), NoMass: it.NoMass, For: []askedOut{}}
		for _, a := range it.Asked {
			s := list.Setups[a.Setup]
			item.For = append(item.For, askedOut{Setup: kit.Called(s), N: a.N, Of: append([]string{}, kit.Names(s, a.Of)...)})
		}
		out.Items = append(out.Items, item)
	}
	return marshal(out)
}
