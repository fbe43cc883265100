// Command notices writes the licences of everything that is linked into
// stopleaf, or embedded in it, to NOTICES:
//
//	go run ./internal/notices > NOTICES
package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
)

// targets are the systems whose modules are counted; a module may be linked on
// one of them alone.
var targets = []string{"linux", "darwin", "windows"}

func main() {
	notices, err := generate()
	if err != nil {
		fmt.Fprintln(os.Stderr, "notices:", err)
		os.Exit(1)
	}
	os.Stdout.Write(notices)
}

// module is one module of the build.
type module struct{ path, version, dir string }

func generate() ([]byte, error) {
	root, err := output("go", "list", "-m", "-f", "{{.Dir}}")
	if err != nil {
		return nil, err
	}
	modules, err := linked()
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	b.WriteString("stopleaf is distributed under the licence in LICENSE. It contains the works below,\n" +
		"each under its own licence. Made by: go run ./internal/notices > NOTICES\n")
	if err := section(&b, "DejaVu Sans Condensed and DejaVu Sans Condensed Bold, cut to the characters in use",
		filepath.Join(strings.TrimSpace(root), "layout", "text", "fonts", "LICENSE-DejaVu.txt")); err != nil {
		return nil, err
	}
	for _, m := range modules {
		files, err := licences(m.dir)
		if err != nil {
			return nil, err
		}
		title := m.path + " " + m.version
		if strings.HasPrefix(m.path, "golang.org/x/sys") {
			title += " and the standard library of Go"
		}
		if err := section(&b, title, files...); err != nil {
			return nil, err
		}
	}
	return b.Bytes(), nil
}

// linked lists the modules that are linked into the program, by path.
func linked() ([]module, error) {
	seen := map[module]bool{}
	for _, goos := range targets {
		cmd := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}{{end}}", "stopleaf/cmd/stopleaf")
		cmd.Env = append(os.Environ(), "GOOS="+goos, "GOARCH=amd64", "CGO_ENABLED=0")
		out, err := cmd.Output()
		if err != nil {
			return nil, fmt.Errorf("go list for %s: %w", goos, err)
		}
		for _, line := range strings.Split(string(out), "\n") {
			if f := strings.Split(line, "\t"); len(f) == 3 {
				seen[module{f[0], f[1], f[2]}] = true
			}
		}
	}
	var list []module
	for m := range seen {
		list = append(list, m)
	}
	sort.Slice(list, func(i, j int) bool { return list[i].path < list[j].path })
	return list, nil
}

// licences finds the files of a module that must go with it. A module without
// any is an error: it may not be passed on.
func licences(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var files []string
	for _, e := range entries {
		name := strings.ToUpper(e.Name())
		for _, begin := range []string{"LICENSE", "LICENCE", "COPYING", "NOTICE"} {
			if !e.IsDir() && strings.HasPrefix(name, begin) {
				files = append(files, filepath.Join(dir, e.Name()))
				break
			}
		}
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("no licence in %s", dir)
	}
	return files, nil
}

// section writes a title and whole files below it.
func section(b *bytes.Buffer, title string, files ...string) error {
	fmt.Fprintf(b, "\n%s\n%s\n%s\n", strings.Repeat("=", 80), title, strings.Repeat("=", 80))
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			return err
		}
		clean := strings.ReplaceAll(strings.ToValidUTF8(string(text), "?"), "\r\n", "\n")
		fmt.Fprintf(b, "\n%s\n", strings.TrimSpace(clean))
	}
	return nil
}

func output(name string, args ...string) (string, error) {
	out, err := exec.Command(name, args...).Output()
	return string(out), err
}
