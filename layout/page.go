// Package layout turns a setup and its numbers into finished pages: a display
// list of paths, texts, pictures, groups and links in whole micrometres, origin
// at the top left, y down, in reading order.
//
// It belongs here when it decides where something stands on a page, how large
// it is or what it says. Text is measured here (layout/text) and nowhere else.
// A back end (render/...) only translates what it is given. Arithmetic belongs
// to exposure, dangers to safety, wording to templates.
package layout

import (
	"crypto/sha256"

	"stopleaf/layout/text"
	"stopleaf/setup/photo"
)

// Um is a length on paper in micrometres.
type Um int64

// Mm gives micrometres from millimetres, rounded.
func Mm(mm float64) Um {
	if mm < 0 {
		return Um(mm*1000 - 0.5)
	}
	return Um(mm*1000 + 0.5)
}

// Mm is the length in millimetres.
func (u Um) Mm() float64 { return float64(u) / 1000 }

// Point is a place on the page.
type Point struct{ X, Y Um }

// Rect is a box on the page; X, Y is its top left corner.
type Rect struct{ X, Y, W, H Um }

// Document is a list of pages and what is said of them as a whole.
type Document struct {
	Title    string
	Subject  string // one sentence, for metadata and the svg's <desc>
	Author   string
	Keywords []string
	Created  string // "2026-03-14", or "" for no date at all
	Lang     string // BCP 47, "en"
	Pages    []Page
	Outline  []Entry  // nil is an entry for each page with a title
	Problems []string // what could not be shown as asked, for a person

	Fingerprints []Fingerprint // of a binder: every page of it, printed now or not
	Duplex       bool          // of a binder: two pages are one sheet
}

// Fingerprint says what was on a page of a binder.
type Fingerprint struct{ Label, Print string }

// Entry is a line of the outline that a reader of the file shows beside the
// pages.
type Entry struct {
	Title string
	To    string  // the label or a name of a page; "" leads nowhere by itself
	Under []Entry // further entries that belong to it
}

// Page is one finished side.
type Page struct {
	W, H             Um
	Margin           Um       // no ink nearer to the edge
	Label            string   // "B-014/1"
	Names            []string // by which links and the outline reach it, besides its label
	Title            string   // for the outline and the svg's <title>
	Desc             string   // for a screen reader: the page in one or two sentences
	Items            []Item
	ScaleDenominator int       // 20 for a drawing at 1:20 on this page; 0 when there is none
	About            *About    // where it is not the document's; nil is the same
	Sources          []*Source // the setups that it was drawn from, where they are to be in the file
	Fingerprint      string    // of a page of a binder: what is on it, in twelve digits
	listed           string    // of a page of a binder: the code under which the contents list it
}

// About is what is said of the setup on one page of a document of several.
type About struct {
	Author   string
	Keywords []string
	Created  string // as Document.Created
}

// Item is one of Path, Text, Image, Code, Group, Link.
type Item interface{ item() }

// Grey is 0 for black to 255 for white.
type Grey uint8

// The greys that the pages use.
const (
	Black Grey = 0
	Tint  Grey = 225 // the key's row
	White Grey = 255
)

// SegKind is a step of a path.
type SegKind uint8

// The steps. Cubic takes three points (two controls, then the end).
const (
	MoveTo SegKind = iota
	LineTo
	CubicTo
	Close
)

// points is how many of its points a step takes.
func (k SegKind) points() int {
	switch k {
	case MoveTo, LineTo:
		return 1
	case CubicTo:
		return 3
	}
	return 0
}

// Seg is one step of a path; P holds one point, three for CubicTo, none for
// Close.
type Seg struct {
	Kind SegKind
	P    [3]Point
}

// Stroke is how a path is drawn. Width 0 is no stroke.
type Stroke struct {
	Width Um
	Dash  []Um // on, off, on, off ...; nil is solid
	Grey  Grey
	Round bool // round caps and joins; else butt and mitre
}

// Path is a line or a shape.
type Path struct {
	Segs   []Seg
	Stroke Stroke
	Fill   *Grey  // nil is no fill
	Kind   string // what it stands for, for checks and dumps: "aim", "outline", "leader", "rule", "tint", ...
	Of     string // the item it belongs to: "light 3", or ""
}

// Text is one run on one line. X, Y is the left end of its baseline; Turn turns
// it about that point, degrees counter-clockwise (0 or 90).
type Text struct {
	X, Y Um
	S    string
	Cap  Um // cap height
	Bold bool
	Grey Grey
	Turn int
	W    Um     // measured advance
	Kind string // "name", "figure", "caution", "caption", "title", ...
	Of   string // the item it belongs to
	Used bool   // read on the set: held to the larger smallest size

	Space int64 // how much wider than the font's own its spaces are, thousandths of the em
}

// Advance is how far a rune of the run moves the pen, in thousandths of the em.
func (t *Text) Advance(r rune) int64 {
	if r == ' ' {
		return text.Advance(r, t.Bold) + t.Space
	}
	return text.Advance(r, t.Bold)
}

// Image is a picture, X, Y, W, H as displayed (after Orientation).
type Image struct {
	Rect
	Format      string // "jpeg" or "png"
	Data        []byte
	PxW, PxH    int // as stored
	Channels    int
	Orientation int // Exif, 1 to 8
	Alt         string
	open        *openPhoto     // until it is made ready
	made        *photo.Picture // whose Data it is, for its sum; nil for none
}

// Sum is the SHA-256 of the picture's data.
func (v *Image) Sum() [sha256.Size]byte {
	if v.made != nil {
		return v.made.Sum()
	}
	return sha256.Sum256(v.Data)
}

// Group is items that belong together. Label is read by a screen reader.
type Group struct {
	ID    string
	Label string
	Clip  *Rect // nothing is drawn outside it
	Items []Item
}

// Link is a place on the page that leads to another page.
type Link struct {
	Rect
	To string // the label or a name of that page; one that no page has leads nowhere
}

func (*Path) item()  {}
func (*Text) item()  {}
func (*Image) item() {}
func (*Group) item() {}
func (*Link) item()  {}

// Walk calls f for every item in reading order, groups before their members.
func Walk(items []Item, f func(Item)) {
	for _, it := range items {
		f(it)
		if g, ok := it.(*Group); ok {
			Walk(g.Items, f)
		}
	}
}
