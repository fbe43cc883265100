package layout_test

import (
	"fmt"
	"image"
	"image/draw"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/internal/outside"
	"stopleaf/layout"
	"stopleaf/render/raster"
)

const (
	legibleDPI   = 200
	legibleCap   = 32   // dots: the height of capitals that the reader is best at, by its users' trials
	legibleShare = 0.98 // of all figures must be read back, clean and copied
)

// A reader from outside reads the table of lights and the stand cards as a
// picture, at 200 dots an inch in grey and again after a poor photocopy (in the
// long run after each of three): each difference, target and dial of the numbers,
// at its own place on the paper. With -v every figure that it does not read is
// told.
func TestLegible(t *testing.T) {
	program := outside.Tool(t, "tesseract")
	jobs := demos(t)
	names := slices.Sorted(maps.Keys(jobs))
	var read, all [2]int
	var reports [2]string
	for _, name := range names {
		crops := append(cardCrops(t, name, jobs[name]), standCrops(t, name, jobs[name])...)
		var wg sync.WaitGroup
		results := make([]result, 1+howMany(1, 3))
		for dust := range results {
			folder := t.TempDir()
			wg.Go(func() {
				var err error
				results[dust], err = readBack(program, folder, crops, dust)
				assert.NoError(t, err, name)
			})
		}
		wg.Wait()
		for dust, r := range results {
			k := min(dust, 1)
			read[k], all[k] = read[k]+r.read, all[k]+r.all
			reports[k] += fmt.Sprintf("%s, copy %d: %d of %d read\n%s", name, dust, r.read, r.all, r.report)
		}
	}
	for k, how := range []string{"clean", "copied"} {
		share := float64(read[k]) / float64(max(all[k], 1))
		t.Logf("%s: %d of %d read (%.1f %%)\n%s", how, read[k], all[k], 100*share, reports[k])
		assert.GreaterOrEqual(t, share, legibleShare, reports[k])
	}
}

// legible is one figure, and where its lines stand on the page.
type legible struct {
	what, want string
	lines      []layout.Rect
}

// crop is the part of a page that is shown to the reader.
type crop struct {
	page    image.Image
	box     layout.Rect
	figures []legible
}

// cardCrops are the tables of lights of the A5 card.
func cardCrops(t *testing.T, name string, job layout.Job) []crop {
	doc, err := layout.Card([]layout.Job{job}, layout.CardOptions{})
	require.NoError(t, err)
	return crops(t, name+" card", job, doc, func(x *layout.Text) string {
		if x.Kind == "figure" && x.Bold {
			return "difference"
		}
		return x.Kind
	}, func(l exposure.LightOut) string {
		if l.Role == "key" {
			return "key, 0"
		}
		return apex.FormatDelta(l.Delta)
	})
}

// standCrops are what is read from afar on the stand cards, at the base that
// the key was recorded at.
func standCrops(t *testing.T, name string, job layout.Job) []crop {
	doc, err := layout.Stands([]layout.Job{job}, layout.StandsOptions{})
	require.NoError(t, err)
	others, err := job.Setup.ChooseBases("")
	require.NoError(t, err)
	av := *job.Numbers.Exposure.KeyAv
	bases := []exposure.Base{{Mark: apex.Tenths(av), Av: av}}
	for _, b := range others {
		if math.Abs(b.Av-av) > 0.005 {
			bases = append(bases, b)
		}
	}
	n := exposure.Compute(job.Setup.Input(bases))
	job.Numbers = &n
	return crops(t, name+" stands", job, doc, func(x *layout.Text) string { return x.Kind }, func(l exposure.LightOut) string {
		if l.Role == "key" {
			return job.Words.T("stands.is-key")
		}
		return job.Words.T("stands.from-key", "difference", apex.FormatDelta(l.Delta), "zero", "key")
	})
}

// crops finds the figures of the numbers on the pages of a document; one that
// is on none of them fails the test.
func crops(t *testing.T, title string, job layout.Job, doc *layout.Document, kind func(*layout.Text) string, difference func(exposure.LightOut) string) []crop {
	w, err := raster.New(doc, legibleDPI)
	require.NoError(t, err)
	var out []crop
	found := map[string]bool{}
	for p := range doc.Pages {
		var figures []legible
		var rest []layout.Rect
		by := map[string][]*layout.Text{}
		for _, it := range doc.Pages[p].Items { // labels of drawings are in groups
			if x, ok := it.(*layout.Text); ok {
				if strings.HasPrefix(x.Of, "light ") && strings.HasSuffix(title, "card") {
					rest = append(rest, boxOf(x))
				}
				by[x.Of+" "+kind(x)] = append(by[x.Of+" "+kind(x)], x)
			}
		}
		for _, l := range job.Numbers.Lights {
			for _, f := range expected(job, l, difference(l)) {
				for _, run := range runs(by[f.what], f.want) {
					found[f.what+f.want] = true
					f.lines = run
					f := f
					f.what = fmt.Sprintf("%s, page %d, %s", title, p+1, f.what)
					figures = append(figures, f)
				}
			}
		}
		if len(figures) == 0 {
			continue
		}
		page, err := w.Draw(p)
		require.NoError(t, err)
		for _, group := range apart(figures) {
			out = append(out, crop{page, around(&doc.Pages[p], group, rest), group})
		}
	}
	require.NotEmpty(t, out)
	for _, l := range job.Numbers.Lights {
		for _, f := range expected(job, l, difference(l)) {
			assert.True(t, found[f.what+f.want], "%s: %s %q is not printed", title, f.what, f.want)
		}
	}
	return out
}

// expected are a light's figures by the numbers, each once.
func expected(job layout.Job, l exposure.LightOut, difference string) []legible {
	of := fmt.Sprintf("light %d ", l.Number)
	list := []legible{{what: of + "difference", want: difference}}
	put := func(kind, s string) {
		f := legible{what: of + kind, want: s}
		if !slices.ContainsFunc(list, func(g legible) bool { return g.what == f.what && g.want == f.want }) {
			list = append(list, f)
		}
	}
	for _, x := range l.Targets {
		put("target", x.Tenths)
	}
	for _, d := range l.Dials {
		switch {
		case d.Possible == nil || *d.Possible:
			put("dial", d.Text)
		case d.Just:
			put("dial", d.Text+" "+job.Words.T("dial.just"))
		case d.Stops > 0:
			put("dial", job.Words.T("dial.over"))
		default:
			put("dial", job.Words.T("dial.under"))
		}
	}
	return list
}

// runs are the places where lines that follow each other make up a string.
func runs(lines []*layout.Text, s string) [][]layout.Rect {
	var out [][]layout.Rect
	for i := range lines {
		var boxes []layout.Rect
		text := ""
		for _, x := range lines[i:] {
			text = strings.TrimSpace(text + " " + x.S)
			boxes = append(boxes, boxOf(x))
			if text == s {
				out = append(out, boxes)
			}
			if !strings.HasPrefix(s, text) {
				break
			}
		}
	}
	return out
}

func boxOf(x *layout.Text) layout.Rect {
	return layout.Rect{X: x.X, Y: x.Y - x.Cap, W: x.W, H: x.Cap}
}

// apart keeps what is read from afar each by itself: the reader takes a picture
// for lines of one size.
func apart(figures []legible) [][]legible {
	var out [][]legible
	var small []legible
	for _, f := range figures {
		if f.lines[0].H > layout.Mm(3) {
			out = append(out, []legible{f})
		} else {
			small = append(small, f)
		}
	}
	if small != nil {
		out = append(out, small)
	}
	return out
}

// around is the box of a page's figures with a little white.
func around(p *layout.Page, figures []legible, rest []layout.Rect) layout.Rect {
	x0, y0, x1, y1 := p.W, p.H, layout.Um(0), layout.Um(0)
	for _, f := range figures {
		for _, r := range f.lines {
			x0, y0, x1, y1 = min(x0, r.X), min(y0, r.Y), max(x1, r.X+r.W), max(y1, r.Y+r.H)
		}
	}
	if figures[0].lines[0].H <= layout.Mm(3) {
		for _, r := range rest {
			x0, y0, x1, y1 = min(x0, r.X), min(y0, r.Y), max(x1, r.X+r.W), max(y1, r.Y+r.H)
		}
	}
	white := layout.Mm(1.2)
	return layout.Rect{X: x0 - white, Y: y0 - white, W: x1 - x0 + 2*white, H: y1 - y0 + 2*white}
}

// result is how many figures were read, of how many, and a line for each that
// was not.
type result struct {
	read, all int
	report    string
}

// readBack shows the crops to the reader and counts the figures that it finds
// at their places.
func readBack(program, folder string, crops []crop, dust int) (r result, err error) {
	var list strings.Builder
	sheets := map[image.Image]sheet{}
	for i, c := range crops {
		if _, ok := sheets[c.page]; !ok {
			sheets[c.page] = newSheet(c.page, dust)
		}
		path := filepath.Join(folder, fmt.Sprintf("%02d.pgm", i))
		if err := writePGM(path, sheets[c.page].shown(c)); err != nil {
			return r, err
		}
		list.WriteString(path + "\n")
	}
	names := filepath.Join(folder, "list.txt")
	if err := os.WriteFile(names, []byte(list.String()), 0o600); err != nil {
		return r, err
	}
	cmd := exec.Command(program, names, "-", "--psm", "6", "--dpi", strconv.Itoa(legibleDPI), "-l", "eng", "tsv")
	cmd.Env = append(os.Environ(), "OMP_THREAD_LIMIT=1")
	out, err := cmd.Output()
	if err != nil {
		return r, err
	}
	words := make([][]seen, len(crops))
	for line := range strings.Lines(string(out)) {
		f := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		if len(f) != 12 || f[0] != "5" { // 5 is a word
			continue
		}
		page, x, y, w, h := number(f[1])-1, number(f[6]), number(f[7]), number(f[8]), number(f[9])
		if page < 0 || page >= len(crops) {
			return r, fmt.Errorf("a word on picture %s of %d", f[1], len(crops))
		}
		words[page] = append(words[page], seen{crops[page].place(x+w/2, y+h/2), f[11]})
	}
	for i, c := range crops {
		for _, f := range c.figures {
			got := ""
			for _, line := range f.lines {
				got += wordsIn(words[i], line)
			}
			r.all++
			if folded(got) == folded(f.want) {
				r.read++
				continue
			}
			r.report += fmt.Sprintf("  %s: %q read as %q\n", f.what, f.want, got)
		}
	}
	return r, nil
}

func number(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

// seen is a word that was read and the middle of its place on the page.
type seen struct {
	at layout.Point
	s  string
}

// wordsIn are the words whose middle is on a line.
func wordsIn(words []seen, line layout.Rect) string {
	grown := layout.Rect{X: line.X - layout.Mm(0.6), Y: line.Y - line.H/4, W: line.W + layout.Mm(1.2), H: line.H * 3 / 2}
	got := ""
	for _, w := range words {
		if w.at.X >= grown.X && w.at.X < grown.X+grown.W && w.at.Y >= grown.Y && w.at.Y < grown.Y+grown.H {
			got += w.s + " "
		}
	}
	return got
}

// folded takes away, in what is read and in what is wanted, what no person
// trips over and a reader of English prose does: 1 for a letter, 0 for O, a
// comma for a point, the several signs for minus, spaces; dust and rules taken
// for signs before or after, where the notation has none; and whatever a bold f
// before a slash is taken for (a pound sign, a brace, a 7), for all that stands
// before another slash is the 1 of a fraction.
func folded(s string) string {
	s = strings.NewReplacer(
		"l", "1", "I", "1", "|", "1",
		"O", "0", "o", "0",
		",", ".",
		"−", "-", "–", "-", "—", "-",
		" ", "", "_", "",
	).Replace(s)
	s = strings.TrimFunc(s, func(r rune) bool {
		return r != '%' && r != '+' && r != '/' && !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	if before, after, ok := strings.Cut(s, "/"); ok && before != "1" {
		return "f/" + after
	}
	return s
}

// sheet is a page as the reader gets it.
type sheet struct {
	img      *image.Gray
	sin, cos float64
}

// newSheet is the page in grey, or its photocopy with one of many dusts: black
// and white at 55 %, one dot in a hundred made black or white, and laid down a
// degree askew.
func newSheet(page image.Image, dust int) sheet {
	g := image.NewGray(page.Bounds())
	draw.Draw(g, g.Bounds(), page, page.Bounds().Min, draw.Src)
	if dust == 0 {
		return sheet{g, 0, 1}
	}
	rnd := rand.New(rand.NewPCG(uint64(dust), 2))
	for i, v := range g.Pix {
		switch {
		case rnd.IntN(100) == 0:
			g.Pix[i] = uint8(255 * rnd.IntN(2))
		case v < 140:
			g.Pix[i] = 0
		default:
			g.Pix[i] = 255
		}
	}
	s := sheet{image.NewGray(g.Bounds()), math.Sin(math.Pi / 180), math.Cos(math.Pi / 180)}
	for i := range s.img.Pix {
		x, y := s.turned(float64(i%s.img.Stride), float64(i/s.img.Stride), -1)
		s.img.Pix[i] = between(g, x, y)
	}
	spots(s.img, true, 230, 6)
	spots(s.img, false, 128, 2)
	return s
}

// turned turns a point about the middle of the sheet: with 1 as the page was
// turned, with -1 back.
func (s sheet) turned(x, y, way float64) (float64, float64) {
	cx, cy := float64(s.img.Rect.Dx())/2, float64(s.img.Rect.Dy())/2
	x, y = x-cx, y-cy
	return cx + x*s.cos - way*y*s.sin, cy + way*x*s.sin + y*s.cos
}

// between is the grey at a point between four dots; white outside.
func between(g *image.Gray, px, py float64) uint8 {
	x, y := math.Floor(px), math.Floor(py)
	fx, fy := px-x, py-y
	at := func(dx, dy int) float64 {
		q := image.Pt(int(x)+dx, int(y)+dy)
		if !q.In(g.Rect) {
			return 255
		}
		return float64(g.GrayAt(q.X, q.Y).Y)
	}
	v := (1-fy)*((1-fx)*at(0, 0)+fx*at(1, 0)) + fy*((1-fx)*at(0, 1)+fx*at(1, 1))
	return uint8(v + 0.5)
}

// spots turns over the spots of a few dots, black or white, as scanners do with
// dust. A decimal point of the smallest figures has nine dots.
func spots(g *image.Gray, black bool, level uint8, most int) {
	seen := make([]bool, len(g.Pix))
	is := func(p image.Point) bool { return p.In(g.Rect) && (g.GrayAt(p.X, p.Y).Y < level) == black }
	for i := range g.Pix {
		p := image.Pt(i%g.Stride, i/g.Stride)
		if seen[i] || !is(p) {
			continue
		}
		seen[i] = true
		spot := []image.Point{p}
		for k := 0; k < len(spot); k++ {
			for j := range 9 {
				q := spot[k].Add(image.Pt(j%3-1, j/3-1))
				if is(q) && !seen[q.Y*g.Stride+q.X] {
					seen[q.Y*g.Stride+q.X] = true
					spot = append(spot, q)
				}
			}
		}
		if len(spot) > most {
			continue
		}
		for _, p := range spot {
			g.Pix[p.Y*g.Stride+p.X] = 0
			if black {
				g.Pix[p.Y*g.Stride+p.X] = 255
			}
		}
	}
}

const dotsPerUm = legibleDPI / 25400.0

// shown is a crop as it is shown to the reader: laid straight, as scanners do,
// and at the size of type that the reader is made for, each dot of what is made
// smaller the mean of those it stands for.
func (s sheet) shown(c crop) *image.Gray {
	n := c.scale()
	out := image.NewGray(image.Rect(0, 0, int(float64(c.box.W)*dotsPerUm*n), int(float64(c.box.H)*dotsPerUm*n)))
	m := int(math.Ceil(1 / n))
	for i := range out.Pix {
		sum := 0
		for k := range m * m {
			x := float64(c.box.X)*dotsPerUm + (float64(i%out.Stride)+(float64(k%m)+0.5)/float64(m))/n - 0.5
			y := float64(c.box.Y)*dotsPerUm + (float64(i/out.Stride)+(float64(k/m)+0.5)/float64(m))/n - 0.5
			x, y = s.turned(x, y, 1)
			sum += int(between(s.img, x, y))
		}
		out.Pix[i] = uint8(sum / (m * m))
	}
	return out
}

// scale makes capitals legibleCap dots high.
func (c crop) scale() float64 {
	return legibleCap / (float64(c.figures[0].lines[0].H) * dotsPerUm)
}

// place is where on the page a dot of the shown picture is.
func (c crop) place(x, y int) layout.Point {
	n := c.scale() * dotsPerUm
	return layout.Point{X: c.box.X + layout.Um(float64(x)/n), Y: c.box.Y + layout.Um(float64(y)/n)}
}

func writePGM(path string, img *image.Gray) error {
	head := fmt.Sprintf("P5\n%d %d\n255\n", img.Rect.Dx(), img.Rect.Dy())
	return os.WriteFile(path, append([]byte(head), img.Pix...), 0o600)
}
