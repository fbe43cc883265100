package main

import (
	"fmt"
	"io"
	"regexp"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu"
)

// held is what a PDF holds: its pages, and the runs of text shown and the pictures
// placed on them.
type held struct {
	pages, texts, pictures int
	byPage                 [][2]int // texts and pictures of each page
}

func (h held) String() string {
	each := func(n int) float64 { return float64(n) / float64(h.pages) }
	return fmt.Sprintf("%d pages of %.1f texts and %.2f pictures", h.pages, each(h.texts), each(h.pictures))
}

var (
	shown  = regexp.MustCompile(`[\])>] T[jJ]\s`)
	placed = regexp.MustCompile(`/\S+ Do\s`)
)

// holds reads a PDF with a library of others.
func holds(name string) (held, error) {
	api.DisableConfigDir()
	ctx, err := api.ReadContextFile(name)
	if err != nil {
		return held{}, err
	}
	if err := ctx.EnsurePageCount(); err != nil {
		return held{}, err
	}
	h := held{pages: ctx.PageCount}
	for page := 1; page <= ctx.PageCount; page++ {
		r, err := pdfcpu.ExtractPageContent(ctx, page)
		if err != nil {
			return held{}, err
		}
		content, err := io.ReadAll(r)
		if err != nil {
			return held{}, err
		}
		texts, pictures := len(shown.FindAll(content, -1)), len(placed.FindAll(content, -1))
		h.texts, h.pictures = h.texts+texts, h.pictures+pictures
		h.byPage = append(h.byPage, [2]int{texts, pictures})
	}
	return h, nil
}
