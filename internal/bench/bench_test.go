package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/bench/convert"
	"stopleaf/layout"
)

// BenchmarkWhole reports each program's median time and each ratio that has a
// limit.
func BenchmarkWhole(b *testing.B) {
	p, err := build(b.TempDir())
	require.NoError(b, err)
	b.ResetTimer()
	m, err := measure(p.runs(), 2, max(b.N, 20))
	require.NoError(b, err)
	for _, r := range m.rows() {
		b.ReportMetric(r.ms, unit(r.what)+"-ms")
	}
	for _, l := range m.limits() {
		b.ReportMetric(l.value, unit(l.what))
	}
}

// unit makes a name that the benchmark's output takes, which has no spaces.
func unit(s string) string {
	return strings.NewReplacer(" / ", "/", ", ", "-", " ", "-").Replace(s)
}

// The yardstick is fair only if it draws what the card has: as many pages, and
// every run of text.
func TestPlainDrawsTheSamePage(t *testing.T) {
	if testing.Short() {
		t.Skip("builds three programs")
	}
	p, err := build(t.TempDir())
	require.NoError(t, err)
	m, err := measure(p.runs(), 0, 1)
	require.NoError(t, err)
	for _, r := range m.rows() {
		assert.Positive(t, r.ms, r.what)
	}
	assert.Less(t, m.rows()[runCard].mb, 40.0, "peak memory of a card, MB")

	doc, err := convert.Card(p.setup, layout.CardOptions{})
	require.NoError(t, err)
	api.DisableConfigDir()
	plain, err := api.PageCountFile(filepath.Join(p.dir, "plain.pdf"))
	require.NoError(t, err)
	assert.Len(t, doc.Pages, plain)

	source, err := pageSource(p.setup)
	require.NoError(t, err)
	runs, paths := 0, 0
	for _, page := range doc.Pages {
		layout.Walk(page.Items, func(it layout.Item) {
			switch it := it.(type) {
			case *layout.Text:
				runs++
				assert.Contains(t, string(source), fmt.Sprintf("S:%q", it.S))
			case *layout.Path:
				paths++
			}
		})
	}
	assert.Equal(t, runs, strings.Count(string(source), "plainly.Run{X:"))
	assert.Equal(t, paths, strings.Count(string(source), "plainly.Path{Steps:"))
}

// The yardstick of a binder is fair only if it draws pages like the binder's: of one
// that is small enough all of them, in the order of its own, each with as many runs
// of text and as many pictures as one of the binder has.
func TestPlainDrawsPagesLikeTheBinders(t *testing.T) {
	if testing.Short() {
		t.Skip("builds three programs")
	}
	p, err := build(t.TempDir())
	require.NoError(t, err)
	for _, as := range []string{"sheet", "card"} {
		b, _, err := p.makeBook(12, as)
		require.NoError(t, err)
		require.NoError(t, b.alike(0))
		assert.ElementsMatch(t, b.binder.byPage, b.plain.byPage, as)
	}
}

func TestMedian(t *testing.T) {
	assert.Equal(t, 2.0, median([]float64{3, 1, 2}))
}
