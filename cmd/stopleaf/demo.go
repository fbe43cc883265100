package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"stopleaf/kit"
	"stopleaf/layout"
	"stopleaf/render/raster"
	"stopleaf/setup"
	"stopleaf/templates"
)

// runDemo writes the demo setups and every document that is made from them.
// All is made before any of it is written, from a copy in a folder of its own.
func runDemo(c *call) error {
	folder := c.operands[0]
	if folder == "-" {
		return &usageError{"demo writes many files and needs a folder", "such as stopleaf demo out"}
	}
	sources, err := demoSources()
	if err != nil {
		return err
	}
	temp, err := os.MkdirTemp("", "stopleaf-demo-")
	if err != nil {
		return cannotWrite("the temporary folder", err)
	}
	defer os.RemoveAll(temp)
	if err := unpack(sources, temp); err != nil {
		return err
	}
	made, err := c.demoDocuments(temp)
	if err != nil {
		return err
	}
	var outputs []file
	for _, f := range append(sources, made...) {
		outputs = append(outputs, file{filepath.Join(folder, filepath.FromSlash(f.name)), f.data})
	}
	if err := makeFolders(outputs); err != nil {
		return err
	}
	if err := writeFiles(outputs, true); err != nil {
		return err
	}
	var list strings.Builder
	for _, f := range outputs {
		list.WriteString(f.name + "\n")
	}
	return c.print([]byte(list.String()))
}

// demoSources are the embedded setups, gear files and photographs, named from
// the demo folder.
func demoSources() ([]file, error) {
	names, err := templates.Walk("demo")
	if err != nil {
		return nil, err
	}
	var list []file
	for _, name := range names {
		data, err := templates.Read("demo/" + name)
		if err != nil {
			return nil, err
		}
		list = append(list, file{name, data})
	}
	return list, nil
}

// unpack writes files below a folder.
func unpack(files []file, folder string) error {
	for _, f := range files {
		path := filepath.Join(folder, filepath.FromSlash(f.name))
		err := os.MkdirAll(filepath.Dir(path), 0o777)
		if err == nil {
			err = os.WriteFile(path, f.data, 0o666)
		}
		if err != nil {
			return cannotWrite(path, err)
		}
	}
	return nil
}

// makeFolders makes the folders the outputs go to, once it is sure that none of
// the outputs is there.
func makeFolders(outputs []file) error {
	for _, f := range outputs {
		if _, err := os.Lstat(f.name); err == nil {
			return cannotWrite(f.name, fs.ErrExist)
		}
	}
	for _, f := range outputs {
		if err := os.MkdirAll(filepath.Dir(f.name), 0o777); err != nil {
			return cannotWrite(filepath.Dir(f.name), err)
		}
	}
	return nil
}

// demoDocuments makes every document of every setup in a folder, the kit list of
// all of them, and the form to fill in by hand.
func (c *call) demoDocuments(folder string) ([]file, error) {
	names, err := setupsIn(folder)
	if err != nil {
		return nil, err
	}
	step := c.progress("drawing", len(names))
	defer step(len(names))
	var made []file
	var setups []*setup.Setup
	for i, name := range names {
		step(i)
		l, err := c.loadOne(name, setup.Check)
		if err != nil {
			return nil, err
		}
		if l.problems.HasErrors() {
			return nil, errors.New("a demo setup has errors: " + l.problems.Error())
		}
		docs, err := c.documents(l)
		if err != nil {
			return nil, err
		}
		made, setups = append(made, docs...), append(setups, l.setup)
	}
	for _, d := range []struct {
		name string
		lay  func() (*layout.Document, error)
	}{
		{"pack.pdf", func() (*layout.Document, error) { return c.kitList(kit.For(setups...)) }},
		{"blank.pdf", c.emptyForm},
	} {
		doc, err := d.lay()
		if err != nil {
			return nil, err
		}
		files, err := render(doc, d.name, "pdf", raster.DefaultDPI)
		if err != nil {
			return nil, err
		}
		made = append(made, files...)
	}
	return made, nil
}

// documents makes every document of one setup, named after it.
func (c *call) documents(l *loaded) ([]file, error) {
	job, err := c.job(l)
	if err != nil {
		return nil, err
	}
	base := stem(l.name)
	made := []file{{base + "-numbers.txt", numbersText(l)}, {base + "-numbers.json", numbersJSON(l)}}
	for _, d := range []struct {
		ending string
		lay    func() (*layout.Document, error)
	}{
		{"-card.pdf", func() (*layout.Document, error) { return layout.Card([]layout.Job{job}, layout.CardOptions{}) }},
		{"-stands.pdf", func() (*layout.Document, error) {
			return layout.Stands([]layout.Job{job}, layout.StandsOptions{})
		}},
		{"-sheet.pdf", func() (*layout.Document, error) { return layout.Sheet([]layout.Job{job}, layout.SheetOptions{}) }},
		{"-plan.svg", func() (*layout.Document, error) { return layout.Plan(job, layout.PlanOptions{}) }},
		{"-side.svg", func() (*layout.Document, error) { return layout.Plan(job, layout.PlanOptions{View: "side"}) }},
	} {
		doc, err := d.lay()
		if err != nil {
			return nil, err
		}
		if err := stampDate(doc); err != nil {
			return nil, err
		}
		files, err := render(doc, base+d.ending, d.ending[len(d.ending)-3:], raster.DefaultDPI)
		if err != nil {
			return nil, err
		}
		made = append(made, files...)
	}
	return made, nil
}
