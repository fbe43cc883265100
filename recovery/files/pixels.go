package files

import (
	"errors"
	"fmt"
	"image"
	"strings"

	"stopleaf/recovery"
	"stopleaf/recovery/scan"
	"stopleaf/setup/photo"
)

// dim is what to do about a code that a picture shows and that cannot be read.
const dim = "could not be read; lay the page flat in even light from the side, go closer until the code fills half of the picture, hold still, and take it again, or scan it at 300 dpi"

// readPicture reads the codes that the pixels of a picture show.
func readPicture(data []byte) (texts []string, errs []error) {
	p, err := photo.LoadBytes(data)
	if err != nil {
		return nil, []error{err}
	}
	img, err := p.Grey()
	if err != nil {
		return nil, []error{err}
	}
	s := sights{}
	s.look(img)
	return s.texts, s.errors()
}

// sights is what pictures show.
type sights struct {
	texts                     []string
	pictures, unread, foreign int
}

func (s *sights) look(img *image.Gray) {
	r := scan.Read(img)
	for _, text := range r.Texts {
		if strings.HasPrefix(text, recovery.Mark) {
			s.texts = append(s.texts, text)
		} else {
			s.foreign++
		}
	}
	s.pictures++
	s.unread += r.Unread
	s.foreign += r.Foreign
}

// errors says what was not read.
func (s *sights) errors() []error {
	switch {
	case s.unread == 1:
		return []error{errors.New("a code is there that " + dim)}
	case s.unread > 1:
		return []error{fmt.Errorf("%d codes are there that %s", s.unread, dim)}
	case len(s.texts) > 0:
		return nil
	case s.foreign > 0:
		return []error{errors.New("the code that it shows is none of stopleaf's")}
	}
	return nil
}
