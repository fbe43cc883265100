package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"image/draw"
	"image/png"
)

const pngMagic = "\x89PNG\r\n\x1A\n"

// loadPNG decodes a PNG and writes it anew: 8 bits a channel, without alpha (on
// white), without interlacing, without anything said about it.
func loadPNG(b []byte) (*Picture, error) {
	config, err := png.DecodeConfig(bytes.NewReader(b))
	if err != nil {
		return nil, errors.New("the PNG is damaged or cut off; export it anew")
	}
	if err := checkSize(config.Width, config.Height); err != nil {
		return nil, err
	}
	img, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		return nil, errors.New("the PNG is damaged or cut off; export it anew")
	}
	p := &Picture{Format: "png", Width: config.Width, Height: config.Height, Orientation: 1, Channels: 3}
	if block := pngExif(b); block != nil {
		p.Orientation, p.Exif = readExif(block)
	}
	flat := flatten(img)
	if _, grey := flat.(*image.Gray); grey {
		p.Channels = 1
	}
	var out bytes.Buffer
	if err := png.Encode(&out, flat); err != nil {
		return nil, errors.New("the PNG cannot be written anew; export it as a JPEG")
	}
	p.Data = out.Bytes()
	return p, nil
}

// flatten gives a picture of 8 bits a channel without alpha. Greys stay grey
// and a palette stays a palette.
func flatten(img image.Image) image.Image {
	switch v := img.(type) {
	case *image.Gray:
		return v
	case *image.Gray16:
		grey := image.NewGray(v.Bounds())
		draw.Draw(grey, grey.Bounds(), v, v.Bounds().Min, draw.Src)
		return grey
	case *image.Paletted:
		if v.Opaque() {
			return v
		}
	}
	flat := image.NewRGBA(img.Bounds())
	draw.Draw(flat, flat.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.Draw(flat, flat.Bounds(), img, img.Bounds().Min, draw.Over)
	return flat
}

// pngExif finds the Exif block of a PNG, a chunk of its own (PNG, third
// edition, 11.3.4.5).
func pngExif(b []byte) []byte {
	for at := uint64(len(pngMagic)); at+12 <= uint64(len(b)); {
		size := uint64(binary.BigEndian.Uint32(b[at:]))
		if at+12+size > uint64(len(b)) {
			return nil
		}
		if string(b[at+4:at+8]) == "eXIf" {
			return b[at+8 : at+8+size]
		}
		at += 12 + size
	}
	return nil
}
