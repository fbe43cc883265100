package adapt

import (
	"fmt"
	"math"
	"strconv"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/setup"
	"stopleaf/setup/edit"
)

func itoa(i int) string { return strconv.Itoa(i) }

// figure is a bare length in the units of a setup.
func figure(m float64, u setup.Units) string {
	text, err := edit.Length("", m, u)
	if err != nil {
		return setup.FormatLength(m, u)
	}
	return text
}

// length writes a length as it was written.
func (w *writer) length(p edit.Path, item, why string, m float64) error {
	was, _ := w.src.Text(p)
	text, err := edit.Length(was, m, w.s.Units)
	if err != nil {
		return err
	}
	return w.set(p, item, why, text)
}

// reading writes an aperture as it was written.
func (w *writer) reading(p edit.Path, item, why string, av float64) error {
	was, _ := w.src.Text(p)
	text, err := w.readingText(was, av)
	if err != nil {
		return err
	}
	return w.set(p, item, why, text)
}

// readingText is an aperture in the notation of another; one that is no aperture
// any more is an exposure value.
func (w *writer) readingText(was string, av float64) (string, error) {
	m := edit.Meter{Notation: w.s.Exposure.Notation(), ShutterS: w.s.Exposure.ShutterS, ISO: w.s.Exposure.ISO}
	text, err := edit.Reading(was, av, m)
	if err != nil {
		if ev, bad := edit.Reading("EV 1", av, m); bad == nil {
			return ev, nil
		}
	}
	if err != nil {
		return "", w.tooFar(fmt.Sprintf("a reading would come to f/%.2g, which is no aperture", apex.FNumber(av)))
	}
	return text, nil
}

// tooFar refuses settings that lead beyond what a file can say.
func (w *writer) tooFar(message string) error {
	option := "shutter"
	switch {
	case w.o.BaseAv != nil:
		option = "base"
	case w.o.ISO != nil:
		option = "iso"
	}
	return &Refusal{Option: option, Message: message, Hint: "take another base, speed or shutter"}
}

func (w *writer) time(p edit.Path, item, why string, seconds float64) error {
	was, _ := w.src.Text(p)
	text, err := edit.Time(was, seconds, w.s.Exposure.Notation())
	if err != nil {
		return err
	}
	return w.set(p, item, why, text)
}

func (w *writer) delta(p edit.Path, item, why string, stops float64) error {
	was, _ := w.src.Text(p)
	text, err := edit.Delta(was, stops)
	if err != nil {
		return w.tooFar(fmt.Sprintf("%s would be %.0f stops from the key; %d is the most", quoted(item), math.Abs(stops), apex.MostStops))
	}
	return w.set(p, item, why, text)
}

// power writes a power as it was written, or on the head's own scale where it is
// fresh.
func (w *writer) power(p edit.Path, item, why string, stops float64, h *exposure.Head, fresh bool) error {
	was, _ := w.src.Text(p)
	if fresh {
		was = ""
		if h != nil { // as the head clicks
			was = apex.FormatDial(stops, apex.Dial(h.Dial), h.Step, h.EnergyWs)
		}
	}
	text, err := edit.Power(was, stops, h)
	if err != nil {
		return err
	}
	return w.set(p, item, why, text)
}

// clicked rounds a power to the head's own steps: tenths on a scale of fractions
// or figures that does not say.
func clicked(power float64, h *exposure.Head) float64 {
	step := 0.1
	switch {
	case h == nil:
	case h.Step != nil && *h.Step > 0:
		step = *h.Step
	case h.Dial.Kind == "ws" || h.Dial.Kind == "percent":
		return power
	}
	if math.Abs(step*3-1) < 0.02 { // 0.33 as written means a third
		step = 1.0 / 3
	}
	return math.Floor(power/step+0.5+1e-9)*step + 0
}
