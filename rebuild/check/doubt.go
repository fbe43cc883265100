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

// Doubts are warnings of bare figures that were taken as apertures, and may be
// differences without their sign.
func (r *Result) Doubts() setup.Problems {
	var out setup.Problems
	for i := range r.Lights {
		f := &r.Lights[i]
		if f.Off == nil || math.Abs(*f.Off) < farOff {
			continue
		}
		v, err := strconv.ParseFloat(strings.Replace(f.given.Text, ",", ".", 1), 64)
		if err != nil || math.Abs(v-math.Abs(f.ShouldDelta)) > nearRecord {
			continue
		}
		out = append(out, setup.Problem{Pos: f.given.Pos, Level: setup.Warning, Code: "bare-difference",
			Message: fmt.Sprintf("%s of %s is taken as f/%s", quoted(f.given.Text), quoted(f.Name), f.given.Text),
			Hint:    fmt.Sprintf("a difference has its sign or its word: -%s, or '%s under'", f.given.Text, f.given.Text)})
	}
	return out
}
