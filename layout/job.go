package layout

import (
	"stopleaf/exposure"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

// Job is one setup with all that was derived from it, ready to be drawn.
type Job struct {
	Setup   *setup.Setup
	Numbers *exposure.Numbers
	Safety  []safety.Note
	Words   templates.Words
}

// CardOptions says how cards are made.
type CardOptions struct {
	Paper  string // "a5" (default), "a4", "a6", "letter", "half-letter", "4x6", "5x8"
	Rulers bool   // the stop rulers, even where there is little room
}

// PlanOptions says how a drawing alone is made.
type PlanOptions struct {
	View  string // "overhead" (default) or "side"
	Scale int    // denominator, 20 for 1:20; 0 picks the largest that fits
	Paper string // the sheet it is drawn on; "" is A4 across
}

// Card lays out the cards of several setups, one after another.
func Card(jobs []Job, opt CardOptions) (*Document, error) {
	return &Document{Lang: "en", Pages: []Page{{W: Mm(210), H: Mm(148), Margin: Mm(5)}}}, nil
}

// Plan lays out the drawing alone.
func Plan(job Job, opt PlanOptions) (*Document, error) {
	return &Document{Lang: "en", Pages: []Page{{W: Mm(297), H: Mm(210), Margin: Mm(5)}}}, nil
}
