package main

import (
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/ours"
	"stopleaf/internal/outside"
	"stopleaf/internal/worn"
	"stopleaf/recovery"
	"stopleaf/recovery/scan"
	"stopleaf/recovery/symbol"
	"stopleaf/setup"
)

// tally is how many pages of each kind both readers read.
type tally struct {
	mu                sync.Mutex
	ours, theirs, all map[string]int
}

// Pages of the demos and starters, made into pictures by pdftoppm (poppler), clean and
// worn in every way, show their setup: to us, and where they are clean to zbarimg
// too.
func TestPagesShowTheirSetup(t *testing.T) {
	names := ours.Files(t, "../..")
	kinds, most, dpis := []worn.Kind{worn.Kinds[0], worn.Kinds[3], worn.Kinds[7]}, 1, []int{200}
	if os.Getenv("STOPLEAF_CI") == "1" {
		kinds, most, dpis = worn.Kinds, len(names), []int{200, 300}
	}
	count := &tally{ours: map[string]int{}, theirs: map[string]int{}, all: map[string]int{}}
	dir := t.TempDir()
	for i, name := range names[:most] {
		n := i + 1
		s, _ := setup.Read(name, setup.Options{NoPhotos: true})
		require.NotNil(t, s)
		document := []string{"sheet", "card", "stands"}[n%3]
		pdf := filepath.Join(dir, "page.pdf")
		require.NoError(t, os.RemoveAll(pdf))
		done(t, document, name, "--photos", "skip", "-o", pdf)
		want := s.Canonical(setup.Nothing)
		if document == "stands" {
			want = s.Canonical(setup.Notes)
		}
		for _, dpi := range dpis {
			count.pages(t, pdf, dpi, kinds, string(want), uint64(n))
		}
	}
	var table strings.Builder
	read, all := 0, 0
	for _, dpi := range dpis {
		for _, kind := range kinds {
			key := fmt.Sprintf("%s, %d dpi", kind.Name, dpi)
			fmt.Fprintf(&table, "%-24s ours %3d of %3d  zbarimg %3d of %3d\n", key, count.ours[key], count.all[key], count.theirs[key], count.all[key])
			read, all = read+count.ours[key], all+count.all[key]
			if kind.Name == "clean" {
				assert.Equal(t, count.all[key], count.ours[key], key)
				assert.Equal(t, count.all[key], count.theirs[key], "%s by zbarimg", key)
			}
		}
	}
	t.Logf("\n%sall: %d of %d", table.String(), read, all)
	assert.GreaterOrEqual(t, float64(read), 0.98*float64(all))
}

// pages reads the second page of a PDF, which bears codes, worn in each way.
func (c *tally) pages(t *testing.T, pdf string, dpi int, kinds []worn.Kind, want string, seed uint64) {
	zbar := outside.Tool(t, "zbarimg")
	out := strings.TrimSuffix(pdf, ".pdf")
	outside.Run(t, "pdftoppm", "-r", fmt.Sprint(dpi), "-gray", "-png", "-f", "2", "-l", "2", "-singlefile", pdf, out)
	f, err := os.Open(out + ".png")
	require.NoError(t, err)
	defer f.Close()
	img, err := png.Decode(f)
	require.NoError(t, err)
	grey := image.NewGray(img.Bounds())
	for y := range grey.Rect.Dy() {
		for x := range grey.Rect.Dx() {
			grey.Set(x, y, img.At(x, y))
		}
	}
	clean := scan.Read(grey)
	require.NotEmpty(t, clean.Where, "%s at %d dpi", pdf, dpi)
	var work sync.WaitGroup
	slots := make(chan struct{}, 2)
	for i, kind := range kinds {
		slots <- struct{}{}
		work.Go(func() {
			defer func() { <-slots }()
			page := worn.From(grey, dpi, seed+uint64(i))
			for _, r := range clean.Where {
				page.Codes = append(page.Codes, worn.Place{X: float64(r.Min.X), Y: float64(r.Min.Y), Side: float64(r.Dx())})
			}
			made := kind.Do(page)
			ours := holdsSetup(scan.Read(made).Texts, want)
			file := fmt.Sprintf("%s-%d.png", out, i)
			b, err := os.Create(file)
			assert.NoError(t, err)
			assert.NoError(t, (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(b, made))
			assert.NoError(t, b.Close())
			said, _ := exec.Command(zbar, "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", file).Output()
			theirs := holdsSetup(strings.Split(string(said), "\n"), want)
			key := fmt.Sprintf("%s, %d dpi", kind.Name, dpi)
			c.mu.Lock()
			defer c.mu.Unlock()
			c.all[key]++
			if ours {
				c.ours[key]++
			}
			if theirs {
				c.theirs[key]++
			}
		})
	}
	work.Wait()
}

// What comes back from the codes on paper draws the same pages, byte for byte, and
// derives the same figures to the last digit.
func TestCodeDrawsTheSamePage(t *testing.T) {
	for n, name := range ours.Files(t, "../..") {
		dir := t.TempDir()
		s, _ := setup.Read(name, setup.Options{NoPhotos: true})
		require.NotNil(t, s)
		m, err := symbol.Draw(recovery.Text(s.Canonical(setup.Nothing)), 112)
		require.NoError(t, err)
		data, err := paper(worn.NewPage(200, uint64(n), m), ".jpg")
		require.NoError(t, err)
		photos, err := filepath.Glob(filepath.Join(filepath.Dir(name), "*.jpg")) // are named in a code, not held
		require.NoError(t, err)
		for _, photo := range photos {
			require.NoError(t, os.WriteFile(filepath.Join(dir, filepath.Base(photo)), []byte(read(t, photo)), 0o644))
		}
		photo, back := filepath.Join(dir, "photo.jpg"), filepath.Join(dir, "back.yaml")
		require.NoError(t, os.WriteFile(photo, data, 0o644))
		done(t, "recover", photo, "-o", back)
		got, problems := setup.Read(back, setup.Options{NoPhotos: true})
		require.NotNil(t, got, "%v", problems)
		assert.Equal(t, figures(t, s), figures(t, got), name)
		for _, document := range []string{"card", "sheet"} {
			before, after := filepath.Join(dir, document+"-1.pdf"), filepath.Join(dir, document+"-2.pdf")
			done(t, document, name, "--no-source", "-o", before)
			done(t, document, back, "--no-source", "-o", after)
			assert.True(t, read(t, before) == read(t, after), "%s of %s", document, name)
		}
	}
}

// holdsSetup tells whether texts hold that very canonical file.
func holdsSetup(texts []string, want string) bool {
	found, _ := recovery.Read(texts)
	return len(found) == 1 && string(found[0].File) == want
}
