package main

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"stopleaf/internal/bench/convert"
	"stopleaf/layout"
)

//go:embed setup.yaml
var sample []byte

// pageSource lays the card out and gives it as page.go of the plain program.
func pageSource(path string) ([]byte, error) {
	doc, err := convert.Card(path, layout.CardOptions{})
	if err != nil {
		return nil, err
	}
	source := fmt.Sprintf("%#v", convert.Pages(doc))
	return []byte("package main\n\nimport \"stopleaf/internal/bench/plainly\"\n\nvar pages = " + source + "\n"), nil
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
