// Package plainly draws finished pages with fpdf as a program written for them
// would: the yardsticks of the benchmark.
package plainly

import (
	"strings"

	"github.com/go-pdf/fpdf"

	"stopleaf/layout/text"
)

// Page is one page in millimetres, origin top left.
type Page struct {
	W, H   float64
	Paths  []Path
	Texts  []Run
	Photos [][4]float64 // x, y, w and h
	Codes  []Code
}

// Code is a QR code as a picture.
type Code struct {
	At  [4]float64 // x, y, w and h
	PNG string
}

// Book is what a program of many pages draws.
type Book struct {
	Lists    []Page // the first of those that are no setup's
	AllLists int    // how many of them there are
	Setups   []Page // the pages of the first setups
	Codes    []Code // of every setup, in their order: no two are the same
}

// Path is a line or shape: "M" and "L" with x and y, "C" with six, "Z".
type Path struct {
	Steps  []Step
	Width  float64
	Dash   []float64
	Grey   int
	Filled bool
	Fill   int
}

// Step is one step of a path.
type Step struct {
	Op string
	At [6]float64
}

// Run is one run of text at the left end of its baseline.
type Run struct {
	X, Y, Size float64 // mm, mm, points
	Bold       bool
	Grey       int
	Turn       float64
	S          string
}

// New begins a document.
func New() *fpdf.Fpdf {
	pdf := fpdf.New("P", "mm", "A4", "")
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.AddUTF8FontFromBytes("text", "", text.Font(false))
	pdf.AddUTF8FontFromBytes("text", "B", text.Font(true))
	return pdf
}

// Draw adds a page with photos from files, the next one in each place of one.
func Draw(pdf *fpdf.Fpdf, p Page, next func() string) {
	pdf.AddPageFormat("P", fpdf.SizeType{Wd: p.W, Ht: p.H})
	for _, line := range p.Paths {
		drawPath(pdf, line)
	}
	for _, r := range p.Texts {
		drawRun(pdf, r)
	}
	for _, at := range p.Photos {
		pdf.ImageOptions(next(), at[0], at[1], at[2], at[3], false, fpdf.ImageOptions{ImageType: "JPG"}, 0, "")
	}
	for _, c := range p.Codes {
		opt := fpdf.ImageOptions{ImageType: "PNG"}
		name := "code " + c.PNG
		pdf.RegisterImageOptionsReader(name, opt, strings.NewReader(c.PNG))
		pdf.ImageOptions(name, c.At[0], c.At[1], c.At[2], c.At[3], false, opt, 0, "")
	}
}

func drawPath(pdf *fpdf.Fpdf, p Path) {
	pdf.SetDrawColor(p.Grey, p.Grey, p.Grey)
	pdf.SetFillColor(p.Fill, p.Fill, p.Fill)
	pdf.SetLineWidth(p.Width)
	pdf.SetDashPattern(p.Dash, 0)
	for _, s := range p.Steps {
		a := s.At
		switch s.Op {
		case "M":
			pdf.MoveTo(a[0], a[1])
		case "L":
			pdf.LineTo(a[0], a[1])
		case "C":
			pdf.CurveBezierCubicTo(a[0], a[1], a[2], a[3], a[4], a[5])
		case "Z":
			pdf.ClosePath()
		}
	}
	switch {
	case p.Filled && p.Width > 0:
		pdf.DrawPath("DF")
	case p.Filled:
		pdf.DrawPath("F")
	default:
		pdf.DrawPath("D")
	}
}

func drawRun(pdf *fpdf.Fpdf, r Run) {
	style := ""
	if r.Bold {
		style = "B"
	}
	pdf.SetFont("text", style, r.Size)
	pdf.SetTextColor(r.Grey, r.Grey, r.Grey)
	if r.Turn != 0 {
		pdf.TransformBegin()
		pdf.TransformRotate(r.Turn, r.X, r.Y)
		defer pdf.TransformEnd()
	}
	pdf.Text(r.X, r.Y, r.S)
}
