package scan_test

import (
	"fmt"
	"image"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/worn"
	"stopleaf/recovery/scan"
	"stopleaf/recovery/symbol"
)

const alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"

// random is a text of so many characters.
func random(r *rand.Rand, n int) string {
	b := []byte("STOPLEAF:")
	for len(b) < n {
		b = append(b, alphabet[r.IntN(len(alphabet))])
	}
	return string(b[:n])
}

// wear is one thing that happens to a page.
type wear struct {
	name string
	do   func(p *worn.Page) *image.Gray
}

var wears = []wear{
	{"clean", func(p *worn.Page) *image.Gray { return p.Clean() }},
	{"turned 3", func(p *worn.Page) *image.Gray { return worn.Turned(p.Gray, 3) }},
	{"turned 8", func(p *worn.Page) *image.Gray { return worn.Turned(p.Gray, 8) }},
	{"perspective 15", func(p *worn.Page) *image.Gray { return worn.Tilted(p.Gray, 15, p.Any(360), 1) }},
	{"blur 1 px", func(p *worn.Page) *image.Gray { return worn.Blurred(p.Gray, 1) }},
	{"noise 3 %", func(p *worn.Page) *image.Gray { return p.Noisy(p.Gray, 0.03) }},
	{"JPEG 50", func(p *worn.Page) *image.Gray { return worn.Packed(p.Gray, 50) }},
	{"crease", func(p *worn.Page) *image.Gray { return p.Creased(p.Codes[0]) }},
	{"coffee ring", func(p *worn.Page) *image.Gray { return p.Ringed(p.Codes[0]) }},
	{"photocopy", func(p *worn.Page) *image.Gray { return p.Copied() }},
}

// rate counts what a reader read.
type rate struct {
	read, all int
	slowest   time.Duration
}

// Pages that were worn are read. The other reader is zbarimg.
func TestWorn(t *testing.T) {
	long := os.Getenv("STOPLEAF_CI") == "1"
	lengths, seeds := []int{1251}, 1
	if long {
		lengths, seeds = []int{90, 330, 620, 860, 1100, 1330, 1560}, 4
	}
	zbar, err := exec.LookPath("zbarimg")
	if long {
		require.NoError(t, err)
	}
	type key struct {
		wear string
		dpi  int
	}
	ours, theirs := map[key]*rate{}, map[key]*rate{}
	var mu sync.Mutex
	var work sync.WaitGroup
	slots := make(chan struct{}, 2)
	dir := t.TempDir()
	only := os.Getenv("STOPLEAF_ONLY")
	for _, dpi := range []int{200, 300} {
		for _, w := range wears {
			if only != "" && !strings.Contains(only, w.name) {
				ours[key{w.name, dpi}], theirs[key{w.name, dpi}] = &rate{}, &rate{}
				continue
			}
			k := key{w.name, dpi}
			ours[k], theirs[k] = &rate{}, &rate{}
			for i, n := range lengths {
				for seed := range seeds {
					slots <- struct{}{}
					work.Go(func() {
						defer func() { <-slots }()
						text := random(rand.New(rand.NewPCG(uint64(n), uint64(seed))), n)
						m, err := symbol.Draw(text, 112)
						if !assert.NoError(t, err) {
							return
						}
						img := w.do(worn.NewPage(dpi, uint64(100*i+seed), m))
						start := time.Now()
						r := scan.Read(img)
						took := time.Since(start)
						good := len(r.Texts) == 1 && r.Texts[0] == text
						other := zbar != "" && zbarReads(t, zbar, filepath.Join(dir, fmt.Sprintf("%d-%s-%d-%d.pgm", dpi, w.name, n, seed)), img, text)
						mu.Lock()
						defer mu.Unlock()
						ours[k].add(good, took)
						theirs[k].add(other, 0)
						if !good {
							t.Logf("not read: %s, %d dpi, version %d-%s, seed %d: %d texts, %d unread", w.name, dpi, m.Version, m.Level, seed, len(r.Texts), r.Unread)
							keep(img, fmt.Sprintf("%s-%d-%d-%d", w.name, dpi, n, seed))
						}
					})
				}
			}
		}
	}
	work.Wait()
	var table strings.Builder
	read, all := 0, 0
	for _, dpi := range []int{200, 300} {
		for _, w := range wears {
			a, b := ours[key{w.name, dpi}], theirs[key{w.name, dpi}]
			fmt.Fprintf(&table, "%-16s %d dpi  ours %3d of %3d (slowest %4d ms)  zbarimg %3d of %3d\n", w.name, dpi, a.read, a.all, a.slowest.Milliseconds(), b.read, b.all)
			read, all = read+a.read, all+a.all
			if w.name == "clean" {
				assert.Equal(t, a.all, a.read, "clean codes")
				if zbar != "" {
					assert.Equal(t, b.all, b.read, "clean codes by zbarimg")
				}
			}
		}
	}
	t.Logf("\n%sall: %d of %d", table.String(), read, all)
	assert.GreaterOrEqual(t, float64(read), 0.98*float64(all))
}

func (r *rate) add(good bool, took time.Duration) {
	r.all++
	if good {
		r.read++
	}
	r.slowest = max(r.slowest, took)
}

// zbarReads tells whether zbarimg reads a text from a picture.
func zbarReads(t *testing.T, zbar, name string, img *image.Gray, text string) bool {
	t.Helper()
	head := fmt.Sprintf("P5\n%d %d\n255\n", img.Rect.Dx(), img.Rect.Dy())
	assert.NoError(t, os.WriteFile(name, append([]byte(head), img.Pix...), 0o644))
	defer os.Remove(name)
	out, _ := exec.Command(zbar, "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", name).Output()
	for _, line := range strings.Split(string(out), "\n") {
		if line == text {
			return true
		}
	}
	return false
}

// keep writes a picture that was not read where STOPLEAF_KEEP says, to look at.
func keep(img *image.Gray, name string) {
	if dir := os.Getenv("STOPLEAF_KEEP"); dir != "" {
		head := fmt.Sprintf("P5\n%d %d\n255\n", img.Rect.Dx(), img.Rect.Dy())
		_ = os.WriteFile(filepath.Join(dir, name+".pgm"), append([]byte(head), img.Pix...), 0o644)
	}
}
