package check

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stopleaf/setup"
)

// What makes a bare figure doubtful, in stops: it is far off as an aperture, and
// near what was recorded as a difference.
const (
	farOff     = 2.0
	nearRecord = 0.5
)

// slip is how far off a reading is, in stops, before it is asked whether it is a
// slip of the pen: no light is out by that much that is on at all.
const slip = 4.5

// Doubts are warnings of bare figures that were taken as apertures, and may be
// differences without their sign, and of readings that no light comes to.
func (r *Result) Doubts() setup.Problems {
	var out setup.Problems
	for i := range r.Lights {
		f := &r.Lights[i]
		if f.Off == nil || math.Abs(*f.Off) < farOff {
			continue
		}
		v, err := strconv.ParseFloat(strings.Replace(f.given.Text, ",", ".", 1), 64)
		if err != nil || math.Abs(v-math.Abs(f.ShouldDelta)) > nearRecord {
			if p, far := f.slipOfThePen(); far {
				out = append(out, p)
			}
			continue
		}
		out = append(out, setup.Problem{Pos: f.given.Pos, Level: setup.Warning, Code: "bare-difference",
			Message: fmt.Sprintf("%s of %s is taken as f/%s", quoted(f.given.Text), quoted(f.Name), f.given.Text),
			Hint:    fmt.Sprintf("a difference has its sign or its word: -%s, or '%s under'", f.given.Text, f.given.Text)})
	}
	return out
}

// slipOfThePen asks about a reading that is further off than any light gets, and
// whether its point was left out or put in.
func (f *Finding) slipOfThePen() (setup.Problem, bool) {
	if math.Abs(*f.Off) < slip-near {
		return setup.Problem{}, false
	}
	p := setup.Problem{Pos: f.given.Pos, Level: setup.Warning, Code: "far-off",
		Message: fmt.Sprintf("%s of %s is %s stops off", quoted(f.given.Text), quoted(f.Name), amount(*f.Off)), Hint: "read the meter again"}
	tenfold := 2 * math.Log2(10)
	for _, by := range []float64{tenfold, -tenfold} {
		if math.Abs(*f.Off-by) < 1 {
			p.Hint = "was a decimal point left out, or put in? " + p.Hint
		}
	}
	return p, true
}
