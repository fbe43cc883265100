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

// rate counts what a reader read.
type rate struct {
	read, all int
	slowest   time.Duration
}

// table is what both readers read of each kind at each resolution.
type table struct {
	mu           sync.Mutex
	ours, theirs map[string]*rate
	names        []string
}

// count reads codes of so many characters from worn pages.
func count(t *testing.T, kinds []worn.Kind, dpis, lengths []int, seeds int) *table {
	zbar, err := exec.LookPath("zbarimg")
	if os.Getenv("STOPLEAF_CI") == "1" {
		require.NoError(t, err)
	}
	only := os.Getenv("STOPLEAF_ONLY")
	r := &table{ours: map[string]*rate{}, theirs: map[string]*rate{}}
	var work sync.WaitGroup
	slots := make(chan struct{}, 2)
	dir := t.TempDir()
	for _, dpi := range dpis {
		for _, kind := range kinds {
			if only != "" && !strings.Contains(only, kind.Name) {
				continue
			}
			name := fmt.Sprintf("%s, %d dpi", kind.Name, dpi)
			r.names = append(r.names, name)
			r.ours[name], r.theirs[name] = &rate{}, &rate{}
			for _, n := range lengths {
				for seed := range seeds {
					slots <- struct{}{}
					work.Go(func() {
						defer func() { <-slots }()
						text := random(rand.New(rand.NewPCG(uint64(n), uint64(seed))), n)
						m, err := symbol.Draw(text, 112)
						if !assert.NoError(t, err) {
							return
						}
						img := kind.Do(worn.NewPage(dpi, uint64(n+seed), m))
						start := time.Now()
						got := scan.Read(img)
						took := time.Since(start)
						good := len(got.Texts) == 1 && got.Texts[0] == text
						file := filepath.Join(dir, fmt.Sprintf("%s-%d-%d.pgm", name, n, seed))
						other := zbar != "" && zbarReads(t, zbar, file, img, text)
						r.mu.Lock()
						defer r.mu.Unlock()
						r.ours[name].add(good, took)
						r.theirs[name].add(other, 0)
						if !good {
							t.Logf("not read: %s, version %d-%s, seed %d: %d texts, %d unread", name, m.Version, m.Level, seed, len(got.Texts), got.Unread)
							keep(img, fmt.Sprintf("%s-%d-%d", name, n, seed))
						}
					})
				}
			}
		}
	}
	work.Wait()
	return r
}

// log prints the table and gives the share that was read.
func (r *table) log(t *testing.T) float64 {
	var text strings.Builder
	read, all := 0, 0
	for _, name := range r.names {
		a, b := r.ours[name], r.theirs[name]
		fmt.Fprintf(&text, "%-24s ours %3d of %3d (slowest %4d ms)  zbarimg %3d of %3d\n", name, a.read, a.all, a.slowest.Milliseconds(), b.read, b.all)
		read, all = read+a.read, all+a.all
	}
	t.Logf("\n%sall: %d of %d", text.String(), read, all)
	return float64(read) / float64(max(all, 1))
}

// Pages that were worn are read, the module at 0.4 mm. The other reader is zbarimg.
func TestWorn(t *testing.T) {
	dpis, lengths, seeds := []int{200}, []int{1251}, 1
	if os.Getenv("STOPLEAF_CI") == "1" {
		dpis, lengths, seeds = []int{200, 300}, []int{90, 330, 620, 860, 1100, 1330, 1560}, 3 // versions 4 to 23
	}
	r := count(t, worn.Kinds, dpis, lengths, seeds)
	share := r.log(t)
	for _, name := range r.names {
		if strings.HasPrefix(name, "clean") {
			assert.Equal(t, r.ours[name].all, r.ours[name].read, name)
			if _, err := exec.LookPath("zbarimg"); err == nil {
				assert.Equal(t, r.theirs[name].all, r.theirs[name].read, "%s by zbarimg", name)
			}
		}
	}
	assert.GreaterOrEqual(t, share, 0.98)
}

// Photographs of 12 megapixels, of pages in all states.
func TestPhotographs(t *testing.T) {
	kinds, lengths, seeds := worn.Photographs[:1], []int{860}, 1
	if os.Getenv("STOPLEAF_CI") == "1" {
		kinds, lengths, seeds = worn.Photographs, []int{330, 860, 1330}, 2
	}
	share := count(t, kinds, []int{300}, lengths, seeds).log(t)
	assert.GreaterOrEqual(t, share, 0.9)
}

// One photograph may show several codes.
func TestSeveralCodes(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	var texts []string
	var codes []*symbol.Matrix
	for _, n := range []int{330, 200, 500, 60} {
		texts = append(texts, random(r, n))
		m, err := symbol.Draw(texts[len(texts)-1], 80)
		require.NoError(t, err)
		codes = append(codes, m)
	}
	page := worn.NewPage(300, 5, codes...)
	got := scan.Read(page.Photographed(page.Gray, 3000))
	assert.Equal(t, texts, got.Texts)
	assert.Len(t, got.Where, len(texts))
	assert.Zero(t, got.Unread)
	assert.Empty(t, scan.Read(worn.NewPage(200, 6).Gray), "a page without any")
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
