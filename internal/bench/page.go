package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"stopleaf/exposure"
	"stopleaf/layout"
	"stopleaf/layout/text"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

//go:embed setup.yaml
var sample []byte

// pageSource lays the card out and gives it as page.go of the plain program.
func pageSource(path string) ([]byte, error) {
	doc, err := card(path)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	b.WriteString("package main\n\nvar pages = []page{\n")
	for _, p := range doc.Pages {
		var paths, texts bytes.Buffer
		layout.Walk(p.Items, func(it layout.Item) {
			switch it := it.(type) {
			case *layout.Path:
				writePath(&paths, it)
			case *layout.Text:
				writeRun(&texts, it)
			}
		})
		fmt.Fprintf(&b, "{w: %v, h: %v, paths: []path{\n%s}, texts: []run{\n%s}},\n", p.W.Mm(), p.H.Mm(), &paths, &texts)
	}
	b.WriteString("}\n")
	return b.Bytes(), nil
}

func card(path string) (*layout.Document, error) {
	s, problems := setup.Read(path, setup.Options{})
	if problems.HasErrors() {
		return nil, problems
	}
	bases, err := s.ChooseBases("")
	if err != nil {
		return nil, err
	}
	n := exposure.Compute(s.Input(bases))
	words, err := templates.Load("en")
	if err != nil {
		return nil, err
	}
	job := layout.Job{Setup: s, Numbers: &n, Safety: safety.Notes(s, &n, words), Words: words}
	return layout.Card([]layout.Job{job}, layout.CardOptions{})
}

func writePath(b *bytes.Buffer, p *layout.Path) {
	b.WriteString("{steps: []step{")
	for _, s := range p.Segs {
		at := [3]layout.Point{}
		op, n := "Z", 0
		switch s.Kind {
		case layout.MoveTo:
			op, n = "M", 1
		case layout.LineTo:
			op, n = "L", 1
		case layout.CubicTo:
			op, n = "C", 3
		}
		copy(at[:n], s.P[:n])
		fmt.Fprintf(b, "{%q, [6]float64{%v, %v, %v, %v, %v, %v}}, ", op,
			at[0].X.Mm(), at[0].Y.Mm(), at[1].X.Mm(), at[1].Y.Mm(), at[2].X.Mm(), at[2].Y.Mm())
	}
	var dash []string
	for _, d := range p.Stroke.Dash {
		dash = append(dash, fmt.Sprint(d.Mm()))
	}
	fmt.Fprintf(b, "}, width: %v, grey: %d, dash: []float64{%s}", p.Stroke.Width.Mm(), p.Stroke.Grey, strings.Join(dash, ", "))
	if p.Fill != nil {
		fmt.Fprintf(b, ", filled: true, fill: %d", *p.Fill)
	}
	b.WriteString("},\n")
}

func writeRun(b *bytes.Buffer, t *layout.Text) {
	clean, _ := text.Clean(t.S)
	points := text.Em(int64(t.Cap)) / 1000 / 25.4 * 72
	fmt.Fprintf(b, "{x: %v, y: %v, size: %.2f, bold: %v, grey: %d, turn: %d, s: %q},\n",
		t.X.Mm(), t.Y.Mm(), points, t.Bold, t.Grey, t.Turn, clean)
}

// overlayFor lets the go command see the page in place of plain/page.go.
func overlayFor(dir string, source []byte) (string, error) {
	out, err := exec.Command("go", "list", "-f", "{{.Dir}}", "stopleaf/internal/bench/plain").Output()
	if err != nil {
		return "", fmt.Errorf("go list: %w", err)
	}
	page := filepath.Join(dir, "page.go")
	if err := os.WriteFile(page, source, 0o666); err != nil {
		return "", err
	}
	replace := map[string]map[string]string{"Replace": {filepath.Join(strings.TrimSpace(string(out)), "page.go"): page}}
	data, err := json.Marshal(replace)
	if err != nil {
		return "", err
	}
	overlay := filepath.Join(dir, "overlay.json")
	return overlay, os.WriteFile(overlay, data, 0o666)
}
