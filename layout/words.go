package layout

import (
	"math"
	"strconv"
)

// trimFloat prints a number without needless zeros.
func trimFloat(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// whole prints a number rounded to a whole one.
func whole(v float64) string { return strconv.Itoa(int(math.Round(v))) }
