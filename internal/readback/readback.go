// Package readback reads a PDF with a library of others, for tests that ask
// where its outline, its links and its labels lead.
package readback

import (
	"strconv"
	"testing"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
	"github.com/stretchr/testify/require"
)

// File is what was found in a PDF. Pages are counted from 1.
type File struct {
	Outline []Entry
	Links   [][]int  // by page less 1: the pages that its links lead to, in order
	Labels  []string // by page less 1
}

// Entry is a line of the outline; Page is 0 where it leads nowhere.
type Entry struct {
	Title string
	Page  int
	Under []Entry
}

// Open reads a file; the test fails where pdfcpu finds fault with it.
func Open(t testing.TB, path string) *File {
	t.Helper()
	api.DisableConfigDir()
	require.NoError(t, api.ValidateFile(path, nil))
	ctx, err := api.ReadContextFile(path)
	require.NoError(t, err)
	require.NoError(t, ctx.EnsurePageCount())
	f := &File{Labels: labels(t, ctx)}
	marks, err := pdfcpu.Bookmarks(ctx)
	require.NoError(t, err)
	f.Outline = entries(marks)
	for page := 1; page <= ctx.PageCount; page++ {
		f.Links = append(f.Links, links(t, ctx, page))
	}
	return f
}

func entries(marks []pdfcpu.Bookmark) (list []Entry) {
	for _, m := range marks {
		list = append(list, Entry{m.Title, m.PageFrom, entries(m.Kids)})
	}
	return list
}

func links(t testing.TB, ctx *model.Context, page int) (list []int) {
	d, _, _, err := ctx.PageDict(page, false)
	require.NoError(t, err)
	annots, err := ctx.DereferenceArray(d["Annots"])
	require.NoError(t, err)
	for _, a := range annots {
		link, err := ctx.DereferenceDict(a)
		require.NoError(t, err)
		require.Equal(t, "Link", *link.NameEntry("Subtype"))
		dest := link.ArrayEntry("Dest")
		require.NotEmpty(t, dest)
		to, ok := dest[0].(types.IndirectRef)
		require.True(t, ok)
		n, err := ctx.PageNumber(to.ObjectNumber.Value())
		require.NoError(t, err)
		list = append(list, n)
	}
	return list
}

// labels reads the number tree; ISO 32000-1, 12.4.2: each of its entries holds
// from its page on, a prefix and, in style D, a number that counts up from St.
func labels(t testing.TB, ctx *model.Context) []string {
	out := make([]string, ctx.PageCount)
	root, err := ctx.Catalog()
	require.NoError(t, err)
	tree, err := ctx.DereferenceDict(root["PageLabels"])
	require.NoError(t, err)
	if tree == nil {
		return out
	}
	nums := tree.ArrayEntry("Nums")
	for i := 0; i+1 < len(nums); i += 2 {
		from := nums[i].(types.Integer).Value()
		d, err := ctx.DereferenceDict(nums[i+1])
		require.NoError(t, err)
		prefix := ""
		if p, has := d.Find("P"); has {
			prefix, err = ctx.DereferenceText(p)
			require.NoError(t, err)
		}
		start := 1
		if n := d.IntEntry("St"); n != nil {
			start = *n
		}
		for page := from; page < len(out); page++ {
			out[page] = prefix
			if d.NameEntry("S") != nil {
				out[page] += strconv.Itoa(start + page - from)
			}
		}
	}
	return out
}
