package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"io"

	"stopleaf/setup/photo/icc"
)

var errDamaged = errors.New("the picture is damaged; copy it again or export it anew")

// decode runs a decoder over bytes. Whatever is wrong with them, and should a
// decoder panic, it is an error.
func decode(with func(io.Reader) (image.Image, error), b []byte, kind string) (img image.Image, err error) {
	defer func() {
		if recover() != nil {
			img, err = nil, errDamaged
		}
	}()
	img, err = with(bytes.NewReader(b))
	if err != nil {
		return nil, fmt.Errorf("the %s is damaged or of a kind that cannot be read; export it anew", kind)
	}
	return img, nil
}

// colours settles what the pixels mean: by the profile, by the camera's mark of
// Adobe RGB, else sRGB.
func (p *Picture) colours(profile []byte, option bool, model color.Model) {
	ink := model == color.CMYKModel
	if ink {
		p.Channels = 3
	}
	if profile == nil {
		if option && p.Channels == 3 && !ink {
			p.source.profile = icc.AdobeRGB()
		}
		return
	}
	read, err := icc.Parse(profile)
	switch {
	case ink && (err != nil || read.Space != icc.CMYK):
		p.warn("its inks are mixed without their colour profile and may look different; export it in sRGB")
	case ink:
		p.source.profile = read
	case err != nil:
		p.warn(err.Error() + " and is not followed; export it in sRGB")
	case read.Space == icc.CMYK || (read.Space == icc.Grey) != (p.Channels == 1):
		// a profile of another kind than the picture means nothing
	case !read.IsSRGB():
		p.source.profile = read
	}
}

func (p *Picture) warn(text string) { p.Warnings = append(p.Warnings, text) }
