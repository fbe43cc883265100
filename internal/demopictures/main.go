// Command demopictures draws the photographs of the demo setups: simple solids
// lit by each setup's own lights, at their places, in their sizes, at their
// differences, seen by the setup's own camera. Each setup gets a result and a
// picture of the set. The pictures are committed; run it again only when a demo
// setup or a solid changes:
//
//	go generate ./internal/demopictures
package main

//go:generate go run . ../../templates/demo

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"

	"stopleaf/setup"
)

// scene is one demo setup and what is drawn for it.
type scene struct {
	name   string // of the setup file, without its ending
	things func(*setup.Setup) mesh
	door   door // where the set is seen from
	turned int  // Exif orientation that the result is stored with
}

// door is the camera of the set picture.
type door struct {
	eye, target vec
	wideDeg     float64
	exposure    float64 // stops over the result's
	lift        float64 // the room's own light, as a part of the key's
}

var scenes = []scene{
	{"bread", bread, door{vec{-1.5, 4.7, 2.1}, vec{0.05, -0.3, 1.28}, 54, 0.7, 0.14}, 1},
	{"ink", ink, door{vec{1.30, 1.85, 1.72}, vec{-0.08, -0.08, 1.09}, 56, 0.9, 0.20}, 1},
	{"coat", coat, door{vec{-4.0, 6.3, 2.2}, vec{0.25, -0.2, 1.45}, 58, 0.3, 0.12}, 6},
}

func main() {
	long := flag.Int("long", 1200, "pixels on the long side")
	strata := flag.Int("strata", 5, "samples along each side of a pixel")
	only := flag.String("only", "", "draw only the pictures whose name holds this")
	flag.Parse()
	dir := flag.Arg(0)
	if dir == "" {
		dir = filepath.Join("templates", "demo")
	}
	for _, sc := range scenes {
		if err := sc.draw(dir, *long, *strata, *only); err != nil {
			fmt.Fprintln(os.Stderr, "demopictures:", err)
			os.Exit(1)
		}
	}
}

func (sc scene) draw(dir string, long, strata int, only string) error {
	s, problems := setup.Read(filepath.Join(dir, sc.name+".yaml"), setup.Options{NoPhotos: true})
	if s == nil {
		return problems
	}
	if name := sc.name + "-result.jpg"; strings.Contains(name, only) {
		st, v, err := sc.result(s, long)
		if err != nil {
			return err
		}
		v.strata = strata
		img := v.picture(st)
		if sc.turned == 6 {
			img = quarter(img)
		}
		if err := write(filepath.Join(dir, name), img, recorded(s, sc.turned)); err != nil {
			return err
		}
	}
	if name := sc.name + "-set.jpg"; strings.Contains(name, only) {
		st, v, err := sc.set(s, long)
		if err != nil {
			return err
		}
		v.strata = strata
		if err := write(filepath.Join(dir, name), v.picture(st), shot{taken: day(s, "17:40:00"), turned: 1}); err != nil {
			return err
		}
	}
	return nil
}

// result is what the setup's own camera sees.
func (sc scene) result(s *setup.Setup, long int) (*stage, view, error) {
	lamps, err := lampsOf(s)
	if err != nil {
		return nil, view{}, err
	}
	m := sc.things(s)
	m = append(m, flatsOf(s)...)
	return &stage{things: plant(m), lamps: lamps, air: airOf(s)}, through(s, long), nil
}

// recorded is what the camera wrote.
func recorded(s *setup.Setup, turned int) shot {
	out := shot{taken: day(s, "15:20:00"), turned: turned}
	e := s.Exposure
	if e.ApertureAv != nil {
		out.fNumber = marked(*e.ApertureAv)
	}
	if e.ShutterS != nil {
		out.shutterS = markedTime(*e.ShutterS)
	}
	if e.ISO != nil {
		out.iso = *e.ISO
	}
	if s.Camera.FocalMM != nil {
		out.focalMM = *s.Camera.FocalMM
	}
	return out
}

func day(s *setup.Setup, hour string) string {
	if s.Made == "" {
		return ""
	}
	return strings.ReplaceAll(s.Made, "-", ":") + " " + hour
}

// write encodes a picture with what the camera wrote, whole or not at all.
func write(path string, img image.Image, what shot) error {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 85}); err != nil {
		return err
	}
	out, err := withExif(b.Bytes(), what)
	if err != nil {
		return err
	}
	return os.WriteFile(path, out, 0o644)
}
