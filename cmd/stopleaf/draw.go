package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
	"unicode"

	"stopleaf/layout"
	"stopleaf/render/pdf"
	"stopleaf/render/raster"
	"stopleaf/render/svg"
	"stopleaf/setup"
	"stopleaf/templates"
)

func runCard(c *call) error {
	if err := c.checkFormat(); err != nil {
		return err
	}
	c.ahead("card", "a5")
	return c.drawing("cards.pdf", "-card.pdf", c.layCard)
}

// ahead reads what the pages of a document will need, most likely, while the
// setups are read.
func (c *call) ahead(document, paper string) {
	if set, given := c.set["paper"]; given {
		paper = set
	}
	lang := "en"
	if set, given := c.set["lang"]; given {
		lang = set
	}
	go func() {
		layout.Ahead(document, paper)
		_, _ = templates.Load(lang) // its error comes when it is asked for
	}()
}

func runPlan(c *call) error {
	if _, err := c.scale(); err != nil {
		return err
	}
	if c.set["view"] == "side" {
		return c.drawing("", "-side.svg", c.layPlan)
	}
	return c.drawing("", "-plan.svg", c.layPlan)
}

func (c *call) layCard(jobs []layout.Job) (*layout.Document, error) {
	return layout.Card(jobs, layout.CardOptions{Paper: c.paper(jobs[0].Setup), Rulers: c.has("rulers"), Codes: c.has("code"), NoBack: c.toPicture(), Format: c.format})
}

// toPicture says whether pages go to files of one page each, which hold the setup as
// data: no further file is made for the codes alone.
func (c *call) toPicture() bool {
	return contains([]string{".svg", ".png", ".jpg", ".jpeg"}, ending(c.set["output"]))
}

func (c *call) layPlan(jobs []layout.Job) (*layout.Document, error) {
	scale, err := c.scale()
	if err != nil {
		return nil, err
	}
	return layout.Plan(jobs[0], layout.PlanOptions{View: c.set["view"], Scale: scale, Paper: c.set["paper"]})
}

// scale reads --scale: 20 for "1:20", 0 when it is not given.
func (c *call) scale() (int, error) {
	text, given := c.set["scale"]
	if !given {
		return 0, nil
	}
	_, after, found := strings.Cut(strings.ReplaceAll(text, "/", ":"), ":")
	n, err := strconv.Atoi(after)
	if !found || !strings.HasPrefix(text, "1") || err != nil || n < 1 || n > 1000 {
		return 0, &usageError{fmt.Sprintf("--scale %q is not a scale; it is written 1:N, N from 1 to 1000", text), "such as --scale 1:20"}
	}
	return n, nil
}

// drawing is a command that makes pages: once, or with --watch again and again.
// many names the output of several setups, ending follows the name of one.
func (c *call) drawing(many, ending string, lay func([]layout.Job) (*layout.Document, error)) error {
	d := &drawer{call: c, many: many, ending: ending, lay: lay}
	if err := d.checkName(); err != nil {
		return err
	}
	if c.has("watch") {
		return d.watch()
	}
	_, err := d.draw()
	return err
}

// drawer makes one document from the setups of a call.
type drawer struct {
	*call
	many, ending string
	lay          func([]layout.Job) (*layout.Document, error)
	house        *setup.House // of the first setup; nil for none
}

// checkName refuses an output that no document can be written to, before
// anything is read.
func (d *drawer) checkName() error {
	name, given := d.set["output"]
	if given && name == "" {
		return &usageError{"-o has an empty name", "leave it out, or name a file that ends in " + endings}
	}
	format, err := d.format(name)
	if err != nil {
		return err
	}
	_, err = d.dpi(format)
	return err
}

// endings are what the name of a document may end in.
const endings = ".pdf, .svg, .png or .jpg"

// dpi reads --dpi, which is of no use but to pictures: the house's or
// raster.DefaultDPI when it is not given.
func (d *drawer) dpi(format string) (int, error) {
	text, given := d.set["dpi"]
	if !given {
		if d.house != nil && d.house.DPI != nil {
			return *d.house.DPI, nil
		}
		return raster.DefaultDPI, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < raster.LeastDPI || n > raster.MostDPI {
		return 0, &usageError{fmt.Sprintf("--dpi %q is not a number of dots an inch from %d to %d", text, raster.LeastDPI, raster.MostDPI),
			fmt.Sprintf("such as --dpi %d, which is what is drawn without it", raster.DefaultDPI)}
	}
	if !isPicture(format) {
		return 0, &usageError{"--dpi is for pictures, and a ." + format + " has no dots", "add -o NAME.png, or leave --dpi out"}
	}
	return n, nil
}

func isPicture(format string) bool { return format == "png" || format == "jpg" }

// format is "pdf", "svg", "png" or "jpg", by the ending of the name; of standard output and
// of what is no regular file, that of the document's usual name.
func (d *drawer) format(name string) (string, error) {
	usual := strings.TrimPrefix(filepath.Ext(d.ending), ".")
	if name == "" || name == "-" {
		return usual, nil
	}
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() {
		return usual, nil
	}
	switch ext := strings.ToLower(filepath.Ext(name)); ext {
	case ".pdf", ".svg", ".png", ".jpg":
		return ext[1:], nil
	case ".jpeg":
		return "jpg", nil
	case "":
		return "", &usageError{fmt.Sprintf("-o %q has no ending that says what to make; allowed: %s", name, endings),
			fmt.Sprintf("such as -o %s.%s", name, usual)}
	default:
		return "", &usageError{fmt.Sprintf("-o %q: nothing is made that ends in %q; allowed: %s", name, ext, endings), ""}
	}
}

// draw reads, lays out, renders and writes once. It gives the files that were
// read, or should have been, whether it went well or not.
func (d *drawer) draw() (inputs []string, err error) {
	list, err := d.load(setup.Check)
	if err != nil {
		return nil, err
	}
	problems, inputs := gather(list)
	more, files, err := d.readFormat()
	if err != nil {
		return inputs, err
	}
	problems, inputs = append(problems, more...), append(inputs, files...)
	if problems.HasErrors() {
		if err := d.report(d.stderr, problems); err != nil {
			return inputs, err
		}
		return inputs, errReported
	}
	if len(list) > 1 && d.many == "" {
		return inputs, &usageError{d.cmd.name + " takes one setup, and the folder has several", "name one of them"}
	}
	d.house = list[0].setup.House
	name := d.outputName(list)
	doc, err := d.layOut(list)
	if err != nil {
		return inputs, err
	}
	for _, l := range list {
		problems = append(problems, layout.Glyphs(l.setup)...)
		problems = append(problems, l.setup.BrokenPhotos(d.skipPhotos())...)
	}
	for _, text := range doc.Problems {
		pos := setup.Pos{File: list[0].name}
		if len(list) > 1 {
			pos.File = name
		}
		problems = append(problems, setup.Problem{Pos: pos, Level: setup.Warning, Code: "page", Message: text})
	}
	if err := d.report(d.stderr, problems); err != nil {
		return inputs, err
	}
	if problems.HasErrors() {
		return inputs, errReported
	}
	return inputs, d.save(name, doc, inputs)
}

func (d *drawer) layOut(list []*loaded) (*layout.Document, error) {
	var jobs []layout.Job
	for _, l := range list {
		job, err := d.job(l)
		if err != nil {
			return nil, err
		}
		jobs = append(jobs, job)
	}
	doc, err := d.lay(jobs)
	if err != nil {
		return nil, err
	}
	return doc, stampDate(doc)
}

// stampDate dates a document, and pages with a date of their own, by
// SOURCE_DATE_EPOCH where that is set and they have none.
func stampDate(doc *layout.Document) error {
	text := os.Getenv("SOURCE_DATE_EPOCH")
	open := undated(doc)
	if text == "" || len(open) == 0 {
		return nil
	}
	seconds, err := strconv.ParseInt(text, 10, 64)
	if err != nil || seconds < 0 || seconds > 253402300799 { // the end of the year 9999
		return &usageError{fmt.Sprintf("SOURCE_DATE_EPOCH is %q; it must be whole seconds since 1970", text), ""}
	}
	for _, date := range open {
		*date = time.Unix(seconds, 0).UTC().Format("2006-01-02")
	}
	return nil
}

func undated(doc *layout.Document) (open []*string) {
	if doc.Created == "" {
		open = append(open, &doc.Created)
	}
	for i := range doc.Pages {
		if about := doc.Pages[i].About; about != nil && about.Created == "" {
			open = append(open, &about.Created)
		}
	}
	return open
}

// outputName is where the document goes: -o, or a name made from the setup's
// in this folder, or in the folder that -o names.
func (d *drawer) outputName(list []*loaded) string {
	name := d.set["output"]
	folder := ""
	if info, err := os.Stat(name); name != "" && err == nil && info.IsDir() {
		folder, name = name, ""
	}
	if name != "" {
		return name
	}
	if len(list) > 1 {
		return filepath.Join(folder, d.many)
	}
	return filepath.Join(folder, stem(list[0].name)+lookInName(list[0].setup.Look)+d.ending)
}

// stem is a file's name without folder and ending; "setup" for standard input.
func stem(name string) string {
	if name == "-" {
		return "setup"
	}
	base := filepath.Base(name)
	return strings.TrimSuffix(base, filepath.Ext(base))
}

// lookInName is a look's name as part of a file's: "-no-hair", or nothing.
func lookInName(look string) string {
	words := strings.FieldsFunc(strings.ToLower(look), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if len(words) == 0 {
		return ""
	}
	name := []rune("-" + strings.Join(words, "-"))
	return string(name[:min(len(name), 40)])
}

// save renders the document in memory and writes it.
func (d *drawer) save(name string, doc *layout.Document, inputs []string) error {
	format, err := d.format(name)
	if err != nil {
		return err
	}
	dpi, err := d.dpi(format)
	if err != nil {
		return err
	}
	if name == "-" && format == "svg" && len(doc.Pages) > 1 {
		return &usageError{fmt.Sprintf("%d pages do not go into one .svg on standard output", len(doc.Pages)), "give -o NAME.svg, or -o NAME.pdf"}
	}
	outputs, err := render(doc, name, format, dpi)
	if err != nil {
		return err
	}
	if name == "-" {
		return d.print(outputs[0].data)
	}
	if err := guardInputs(append([]file{{name: name}}, outputs...), inputs); err != nil {
		return err
	}
	if err := writeFiles(outputs, false); err != nil {
		return err
	}
	for _, out := range outputs {
		d.say("wrote %s%s", out.name, pagesSaid(format, len(doc.Pages)))
	}
	return nil
}

func pagesSaid(format string, n int) string {
	if format == "pdf" && n > 1 {
		return fmt.Sprintf(" (%d pages)", n)
	}
	return ""
}

// render gives the finished files: one PDF, or an SVG or a picture a page,
// NAME-1.svg, NAME-2.svg; a single page keeps the name.
func render(doc *layout.Document, name, format string, dpi int) ([]file, error) {
	if format == "pdf" {
		var b bytes.Buffer
		if err := pdf.Write(&b, doc); err != nil {
			return nil, err
		}
		return []file{{name, b.Bytes()}}, nil
	}
	pages, err := pageFiles(doc, format, dpi)
	if err != nil {
		return nil, err
	}
	var outputs []file
	for i, data := range pages {
		outputs = append(outputs, file{pageName(name, i, len(pages)), data})
	}
	return outputs, nil
}

// pageFiles gives each page of a document in a format of one page.
func pageFiles(doc *layout.Document, format string, dpi int) (pages [][]byte, err error) {
	if !isPicture(format) {
		for i := range doc.Pages {
			var b bytes.Buffer
			if err := svg.Write(&b, doc, i); err != nil {
				return nil, err
			}
			pages = append(pages, b.Bytes())
		}
		return pages, nil
	}
	w, err := raster.New(doc, dpi)
	if err != nil {
		return nil, err
	}
	if format == "png" {
		return w.AllPNG()
	}
	return w.AllJPEG()
}

func pageName(name string, i, n int) string {
	if n == 1 {
		return name
	}
	ext := filepath.Ext(name)
	return fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, ext), i+1, ext)
}
