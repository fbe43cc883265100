package worn

import "image"

// Kind is one thing, or several, that happens to a page.
type Kind struct {
	Name string
	Do   func(p *Page) *image.Gray
}

// Kinds are single things.
var Kinds = []Kind{
	{"clean", func(p *Page) *image.Gray { return p.Clean() }},
	{"turned 3", func(p *Page) *image.Gray { return Turned(p.Gray, 3) }},
	{"turned 8", func(p *Page) *image.Gray { return Turned(p.Gray, 8) }},
	{"perspective 15", func(p *Page) *image.Gray { return Tilted(p.Gray, 15, p.any(0, 360), 1) }},
	{"blur 1 px", func(p *Page) *image.Gray { return Blurred(p.Gray, 1) }},
	{"noise 3 %", func(p *Page) *image.Gray { return p.Noisy(p.Gray, 0.03) }},
	{"JPEG 50", func(p *Page) *image.Gray { return Packed(p.Gray, 50) }},
	{"crease", func(p *Page) *image.Gray { return p.Creased(p.Codes[0]) }},
	{"coffee ring", func(p *Page) *image.Gray { return p.Ringed(p.Codes[0]) }},
	{"photocopy", func(p *Page) *image.Gray { return p.Copied() }},
}

// Photographs are pages as a phone of 12 megapixels sees them: turned, tilted, in uneven
// light, out of focus by a pixel, with noise, as a JPEG; the page flat, curled, crumpled,
// creased and stained; or seen from farther away, a module about four pixels.
var Photographs = []Kind{
	{"phone, flat", func(p *Page) *image.Gray { return p.Photographed(p.Gray, 3700) }},
	{"phone, curled", func(p *Page) *image.Gray { return p.Photographed(p.Curled(p.Gray), 3700) }},
	{"phone, crumpled", func(p *Page) *image.Gray { return p.Photographed(p.Crumpled(p.Gray), 3700) }},
	{"phone, creased", func(p *Page) *image.Gray { return p.Photographed(p.Creased(p.Codes[0]), 3700) }},
	{"phone, stained", func(p *Page) *image.Gray { return p.Photographed(p.Ringed(p.Codes[0]), 3700) }},
	{"phone, far", func(p *Page) *image.Gray { return p.Photographed(p.Crumpled(p.Gray), 2300) }},
}
