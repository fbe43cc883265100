package pdf

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/outside"
	"stopleaf/layout"
	"stopleaf/render/internal/sample"
	"stopleaf/setup"
)

// withSources are two setups with one gear file, and a page each, the second with
// both.
func withSources(t *testing.T) (*layout.Document, map[string]string) {
	t.Helper()
	dir := t.TempDir()
	files := map[string]string{
		"a.yaml": "# ours\ntitle: Bread maker\ncode: \"B-014 / ü\"\ngear: gear.yaml\nlights:\n  - {role: key, head: big}\n",
		"b.yaml": "title: Coat\ncode: \"B-014 / ü\"\ngear: gear.yaml\nlights:\n  - {role: key, head: big, power: 1/4}\n",
	}
	gear := "# what we have\nheads:\n  - {name: big, energy: 400 Ws}\n"
	require.NoError(t, os.WriteFile(filepath.Join(dir, "gear.yaml"), []byte(gear), 0o644))
	doc := sample.Document()
	doc.Pages = append(doc.Pages[:1:1], sample.Page())
	for _, name := range []string{"a.yaml", "b.yaml"} {
		s, problems := setup.Parse(filepath.Join(dir, name), []byte(files[name]), setup.Options{NoPhotos: true})
		require.NotNil(t, s, "%v", problems)
		source := layout.NewSource(s)
		files[name+" canonical"] = string(source.Canonical)
		if name == "a.yaml" {
			doc.Pages[0].Sources = append(doc.Pages[0].Sources, source)
		}
		doc.Pages[1].Sources = append(doc.Pages[1].Sources, source)
	}
	doc.Pages[1].Sources = append(doc.Pages[1].Sources, doc.Pages[0].Sources...)
	return doc, map[string]string{
		"B-014.yaml": files["a.yaml canonical"], "B-014-written.yaml": files["a.yaml"], "B-014-gear.yaml": gear,
		"B-014-2.yaml": files["b.yaml canonical"], "B-014-2-written.yaml": files["b.yaml"],
	}
}

// Other programs take out what was put in; each file is there once.
func TestAttachments(t *testing.T) {
	doc, want := withSources(t)
	data := writeOnce(t, doc)
	require.Equal(t, data, writeOnce(t, doc))
	path := save(t, data)
	assert.Contains(t, outside.Run(t, "qpdf", "--check", path), "No syntax")
	assert.NotContains(t, strings.ToLower(outside.Run(t, "mutool", "info", path)), "error")
	assert.Contains(t, outside.Run(t, "pdfdetach", "-list", path), "5 embedded files")
	poppler, cpu := t.TempDir(), t.TempDir()
	outside.Run(t, "pdfdetach", "-saveall", "-o", poppler, path)
	require.NoError(t, api.ExtractAttachmentsFile(path, cpu, nil, nil))
	for _, dir := range []string{poppler, cpu} {
		entries, err := os.ReadDir(dir)
		require.NoError(t, err)
		assert.Len(t, entries, len(want))
		for name, text := range want {
			got, err := os.ReadFile(filepath.Join(dir, name))
			require.NoError(t, err)
			assert.Equal(t, text, string(got), name)
		}
	}
	for i := range doc.Pages {
		doc.Pages[i].Sources = nil
	}
	assert.NotContains(t, string(writeOnce(t, doc)), "EmbeddedFile")
}
