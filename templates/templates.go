// Package templates holds what the program reads rather than computes: page
// formats, starter setups, wording, cautions and the demo setups, embedded. No
// code that decides anything belongs here.
package templates

import (
	"embed"
	"fmt"
	"strings"
	"sync"
)

//go:embed all:formats all:starters wording cautions all:demo
var files embed.FS

// Read gives one embedded file: Read("formats/card-a5.yaml").
func Read(name string) ([]byte, error) { return files.ReadFile(name) }

// List gives the names of the files in one embedded folder, sorted.
func List(folder string) ([]string, error) {
	entries, err := files.ReadDir(folder)
	if err != nil {
		return nil, fmt.Errorf("templates: list %s: %w", folder, err)
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() {
			names = append(names, e.Name())
		}
	}
	return names, nil
}

// Words is the wording of one language: one "key: text" a line in the data
// file, everything after the first ": " being the text; "\n" in it is a line
// break, {name} a place to fill, # starts a comment line.
type Words map[string]string

// Languages are those that the pages speak, by their tags: "de", "en", ...
func Languages() []string {
	entries, err := files.ReadDir("wording")
	if err != nil {
		return nil
	}
	var out []string
	for _, e := range entries {
		if e.IsDir() {
			out = append(out, e.Name())
		}
	}
	return out
}

// loaded are what reads each language, once.
var loaded sync.Map

// Load reads every file of wording/LANG and cautions/LANG.txt, once; nobody may
// write to what it gives.
func Load(lang string) (Words, error) {
	read, ok := loaded.Load(lang)
	if !ok {
		read, _ = loaded.LoadOrStore(lang, sync.OnceValues(func() (Words, error) { return load(lang) }))
	}
	return read.(func() (Words, error))()
}

// someWords is about how many a language has.
const someWords = 900

func load(lang string) (Words, error) {
	w := make(Words, someWords)
	w["lang"] = lang
	names, err := List("wording/" + lang)
	if err != nil {
		return nil, fmt.Errorf("templates: no wording for language %q", lang)
	}
	for i, n := range names {
		names[i] = "wording/" + lang + "/" + n
	}
	for _, name := range append(names, "cautions/"+lang+".txt") {
		b, err := Read(name)
		if err != nil {
			return nil, fmt.Errorf("templates: no cautions for language %q", lang)
		}
		if err := w.add(name, string(b)); err != nil {
			return nil, err
		}
	}
	return w, nil
}

func (w Words) add(name, text string) error {
	for n, line := range strings.Split(text, "\n") {
		if line == "" || line[0] == '#' {
			continue
		}
		key, text, ok := strings.Cut(line, ": ")
		if !ok {
			return fmt.Errorf("templates: %s:%d: no \": \"", name, n+1)
		}
		if _, twice := w[key]; twice {
			return fmt.Errorf("templates: %s:%d: %q twice", name, n+1, key)
		}
		w[key] = strings.ReplaceAll(text, `\n`, "\n")
	}
	return nil
}

// T gives the text for key with {name} places filled from pairs of name and
// value. A key that is missing comes back as "‹key›", which a test looks for.
func (w Words) T(key string, pairs ...string) string {
	s, ok := w[key]
	if !ok {
		return "‹" + key + "›"
	}
	for i := 0; i+1 < len(pairs); i += 2 {
		s = strings.ReplaceAll(s, "{"+pairs[i]+"}", pairs[i+1])
	}
	return s
}
