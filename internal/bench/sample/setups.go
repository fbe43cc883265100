package main

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
)

// photos is how many different photos the setups have.
const photos = 20

// writeSetups makes a folder of n setups of 1 to 12 lights, each different, each
// with one of the photos, small enough for a page.
func writeSetups(dir string, n int) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	for i := range photos {
		data, err := photo(i)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dir, photoName(i)), data, 0o666); err != nil {
			return err
		}
	}
	for i := range n {
		if err := os.WriteFile(filepath.Join(dir, setupName(i)), []byte(oneSetup(i)), 0o666); err != nil {
			return err
		}
	}
	return nil
}

func setupName(i int) string { return fmt.Sprintf("s%05d.yaml", i) }

func photoName(i int) string { return fmt.Sprintf("photo-%02d.jpg", i) }

var (
	titles    = []string{"Cup on a slate", "Window seat", "Baker at the table", "Watch on a wire", "Two brothers", "Coat, collar up"}
	roles     = []string{"fill", "hair", "rim", "background", "kicker", "accent"}
	modifiers = []string{"octabox 1.2, grid 40", "strip 0.3 x 1.2", "bowl 0.18", "reflector panel 1.0 x 1.5", "umbrella 1.0", "softbox 0.6 x 0.9, front diffuser"}
)

// oneSetup is the i-th setup. Whatever it draws hangs on i alone.
func oneSetup(i int) string {
	r := rand.New(rand.NewPCG(1, uint64(i)))
	of := func(list []string) string { return list[r.IntN(len(list))] }
	lights := 1 + i%12
	var b strings.Builder
	fmt.Fprintf(&b, "title: %s, %d\ncode: N-%05d\nmade: %d-%02d-%02d\nby: Halvard Studio\ntags: [portrait, %s]\n",
		of(titles), i, i, 2016+r.IntN(10), 1+r.IntN(12), 1+r.IntN(28), of([]string{"low key", "high key", "product", "hands"}))
	fmt.Fprintf(&b, "exposure: {iso: 100, shutter: 1/160, key: f/8 +0.%d, aperture: f/9, bases: [f/5.6, f/8, f/11]}\n", r.IntN(9))
	fmt.Fprintf(&b, "camera: {distance: %.1f, height: 1.4, lens: 85 mm, frame: upright}\n", 2.5+2*r.Float64())
	b.WriteString("subject: {kind: person, posture: standing, face: 1.55}\nbackground: {kind: canvas, tone: dark olive, distance: 2.4, width: 2.9}\n")
	fmt.Fprintf(&b, "photos: [{file: %s, shows: result}]\nlights:\n", photoName(i%photos))
	fmt.Fprintf(&b, "  - {name: Key, role: key, place: '%d left, 1.%d m, 2.%d high', modifier: '%s'}\n", 20+r.IntN(50), 2+r.IntN(7), r.IntN(5), of(modifiers))
	for l := 1; l < lights; l++ {
		turn := (360*l + r.IntN(180)) / lights % 360
		side := "right"
		if turn > 180 {
			turn, side = 360-turn, "left"
		}
		fmt.Fprintf(&b, "  - {name: Light %c, role: %s, delta: %.1f under, place: '%d %s, %.2f m, %.2f high', modifier: '%s'}\n",
			'A'+l-1, of(roles), 0.3+3*r.Float64(), turn, side, 1.1+1.2*r.Float64(), 0.8+1.6*r.Float64(), of(modifiers))
	}
	return b.String()
}

// photo makes a picture that is as hard to press together as a photograph of
// about 0.4 MB.
func photo(i int) ([]byte, error) {
	const w, h = 1800, 1200
	r := rand.New(rand.NewPCG(2, uint64(i)))
	a, c, e := 2+6*r.Float64(), 2+6*r.Float64(), r.Float64()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			u, v := float64(x)/w, float64(y)/h
			light := 128 + 90*math.Sin(a*u+3*e)*math.Cos(c*v) + 11*r.NormFloat64()
			g := func(more float64) uint8 { return uint8(min(max(light+more, 0), 255)) }
			img.SetRGBA(x, y, color.RGBA{g(14 * u), g(0), g(-20 * v), 255})
		}
	}
	var b bytes.Buffer
	err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 68 + i%8})
	return b.Bytes(), err
}
