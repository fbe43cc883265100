package render

import (
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const module = "stopleaf/"

// laws says, for each part of the module, what else of the module its packages
// may reach. A part is a package and all below it; the most particular counts.
var laws = map[string][]string{
	"exposure/apex":   {},
	"exposure":        {"exposure"},
	"setup/photo":     {},
	"setup":           {"exposure", "setup"},
	"kit":             {"exposure", "kit", "safety", "setup", "templates"},
	"safety":          {"exposure", "safety", "setup", "templates"},
	"binder":          {"exposure", "setup"},
	"templates":       {"templates"},
	"layout/text":     {},
	"rebuild":         {"exposure", "rebuild", "setup"},
	"recovery":        {"recovery"},
	"recovery/files":  {"recovery", "setup/photo"},
	"layout":          {"exposure", "kit", "layout", "recovery", "safety", "setup", "templates"},
	"render/internal": {"layout", "render/internal", "exposure", "kit", "recovery", "safety", "setup", "templates"},
	"render/code":     {"layout", "exposure", "kit", "recovery", "safety", "setup", "templates"},
	"render/svg":      {"layout", "render/internal", "render/code", "exposure", "kit", "recovery", "safety", "setup", "templates"},
	"render/pdf":      {"layout", "render/internal", "render/code", "exposure", "kit", "recovery", "safety", "setup", "templates"},
	"render/raster":   {"layout", "render/internal", "render/code", "exposure", "kit", "recovery", "safety", "setup", "templates"},
	"render/dump":     {"layout", "render/internal", "render/code", "exposure", "kit", "recovery", "safety", "setup", "templates"},
	"render":          {"layout", "render", "exposure", "kit", "recovery", "safety", "setup", "templates"},
}

// direct says what of the module a translator may name in its own imports.
var direct = []string{"layout", "layout/text", "render/internal/paper", "render/internal/xmp", "render/code"}

// standardOnly are the parts that reach nothing but the standard library and
// the module itself.
var standardOnly = []string{"exposure", "setup/photo/icc", "safety", "templates", "render/dump"}

// libraries are the modules that only some parts may import, and those parts;
// what serves tests alone has none.
var libraries = map[string][]string{
	"github.com/go-pdf/fpdf":          {"render/pdf"},
	"github.com/klauspost/compress":   {"render/pdf"},
	"github.com/ajstarks/svgo":        {"render/svg"},
	"golang.org/x/image/font/sfnt":    {"layout/text"},
	"rsc.io/qr":                       {"recovery/symbol"},
	"gopkg.in/yaml.v3":                {"setup", "layout", "templates", "cmd"},
	"github.com/stretchr/testify":     nil,
	"github.com/bep/imagemeta":        nil,
	"pgregory.net/rapid":              nil,
	"github.com/pdfcpu/pdfcpu":        nil,
	"github.com/go-fonts/dejavu":      nil,
	"github.com/rwcarlsen/goexif":     nil,
	"github.com/rogpeppe/go-internal": nil,
}

// pack is one package of the module as go list tells it.
type pack struct {
	path          string
	imports, deps []string
}

func packages(t *testing.T) []pack {
	t.Helper()
	cmd := exec.Command("go", "list", "-f", `{{.ImportPath}}|{{join .Imports " "}}|{{join .Deps " "}}`, "./...")
	cmd.Dir = ".."
	out, err := cmd.Output()
	require.NoError(t, err)
	var list []pack
	for line := range strings.Lines(string(out)) {
		f := strings.Split(strings.TrimSpace(line), "|")
		require.Len(t, f, 3)
		list = append(list, pack{strings.TrimPrefix(f[0], module), strings.Fields(f[1]), strings.Fields(f[2])})
	}
	require.Greater(t, len(list), 10)
	return list
}

// within tells whether a package is a part or below it.
func within(path, part string) bool { return path == part || strings.HasPrefix(path, part+"/") }

func withinAny(path string, parts []string) bool {
	return slices.ContainsFunc(parts, func(part string) bool { return within(path, part) })
}

// law finds the most particular law for a package.
func law(path string) (part string, may []string, found bool) {
	for p, m := range laws {
		if within(path, p) && len(p) >= len(part) {
			part, may, found = p, m, true
		}
	}
	return part, may, found
}

// Imports run one way: cmd, render, layout, then safety, exposure and setup,
// then exposure/apex.
func TestImportsRunOneWay(t *testing.T) {
	for _, p := range packages(t) {
		part, may, found := law(p.path)
		if !found {
			assert.True(t, within(p.path, "cmd") || within(p.path, "internal"), "%s has no law: give it one", p.path)
			continue
		}
		for _, d := range p.deps {
			d, ours := strings.CutPrefix(d, module)
			if !ours || within(d, part) {
				continue
			}
			assert.True(t, withinAny(d, may), "%s reaches %s", p.path, d)
		}
	}
}

// A translator knows the display list and nothing of where it came from.
func TestTranslatorsImportLayoutAlone(t *testing.T) {
	for _, p := range packages(t) {
		if !within(p.path, "render") || p.path == "render" || within(p.path, "render/internal") {
			continue
		}
		for _, i := range p.imports {
			if i, ours := strings.CutPrefix(i, module); ours {
				assert.Contains(t, direct, i, "%s imports it", p.path)
			}
		}
	}
}

func TestStandardLibraryOnly(t *testing.T) {
	for _, p := range packages(t) {
		for _, part := range standardOnly {
			if !within(p.path, part) {
				continue
			}
			for _, i := range p.imports {
				first, _, _ := strings.Cut(i, "/")
				assert.NotContains(t, first, ".", "%s imports %s", p.path, i)
			}
		}
	}
}

// Each library has its place where it is known, and those for tests none.
func TestLibrariesHaveTheirPlace(t *testing.T) {
	for _, p := range packages(t) {
		if within(p.path, "internal") {
			continue // what serves tests and making things
		}
		for _, i := range p.imports {
			for lib, parts := range libraries {
				if within(i, lib) {
					assert.True(t, withinAny(p.path, parts), "%s imports %s", p.path, i)
				}
			}
		}
	}
}

// The command line keeps what the tool must start with light: none of what
// measures text by outlines or reads another's metadata runs at start-up.
func TestWhatTheCommandReaches(t *testing.T) {
	for _, p := range packages(t) {
		if p.path != "cmd/stopleaf" {
			continue
		}
		for _, d := range p.deps {
			for lib, parts := range libraries {
				if parts == nil {
					assert.False(t, within(d, lib), "the command reaches %s", d)
				}
			}
		}
	}
}
