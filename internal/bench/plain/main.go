// Command plain draws one page with fpdf and nothing else, as a program written
// for that one page would: the yardstick for a card. What it draws, the same
// runs of text and the same lines as the card, is put into page.go by the
// benchmark when it builds this program.
package main

import (
	"fmt"
	"os"

	"github.com/go-pdf/fpdf"

	"stopleaf/layout/text"
)

// page is one page in millimetres, origin top left.
type page struct {
	w, h  float64
	paths []path
	texts []run
}

// path is a line or shape: "M" and "L" with x and y, "C" with six, "Z".
type path struct {
	steps  []step
	width  float64
	dash   []float64
	grey   int
	filled bool
	fill   int
}

type step struct {
	op string
	at [6]float64
}

// run is one run of text at the left end of its baseline.
type run struct {
	x, y, size float64 // mm, mm, points
	bold       bool
	grey       int
	turn       float64
	s          string
}

func main() {
	if err := draw(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func draw(name string) error {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: pages[0].w, Ht: pages[0].h}})
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.AddUTF8FontFromBytes("text", "", text.Font(false))
	pdf.AddUTF8FontFromBytes("text", "B", text.Font(true))
	for _, p := range pages {
		pdf.AddPageFormat("P", fpdf.SizeType{Wd: p.w, Ht: p.h})
		for _, line := range p.paths {
			drawPath(pdf, line)
		}
		for _, r := range p.texts {
			drawRun(pdf, r)
		}
	}
	return pdf.OutputFileAndClose(name)
}

func drawPath(pdf *fpdf.Fpdf, p path) {
	pdf.SetDrawColor(p.grey, p.grey, p.grey)
	pdf.SetFillColor(p.fill, p.fill, p.fill)
	pdf.SetLineWidth(p.width)
	pdf.SetDashPattern(p.dash, 0)
	for _, s := range p.steps {
		a := s.at
		switch s.op {
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
	case p.filled && p.width > 0:
		pdf.DrawPath("DF")
	case p.filled:
		pdf.DrawPath("F")
	default:
		pdf.DrawPath("D")
	}
}

func drawRun(pdf *fpdf.Fpdf, r run) {
	style := ""
	if r.bold {
		style = "B"
	}
	pdf.SetFont("text", style, r.size)
	pdf.SetTextColor(r.grey, r.grey, r.grey)
	if r.turn != 0 {
		pdf.TransformBegin()
		pdf.TransformRotate(r.turn, r.x, r.y)
		defer pdf.TransformEnd()
	}
	pdf.Text(r.x, r.y, r.s)
}
