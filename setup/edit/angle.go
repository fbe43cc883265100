package edit

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stopleaf/setup"
)

// Angle writes degrees from 0 to 180 as an angle was written, "55 left", with as
// few decimals as hold it within the slack, degrees, and those that were written at
// least. side is -1 for left, 1 for right, 0 to leave it unsaid, as for one of a
// pair. was may be "".
func Angle(was string, deg float64, side int, slack float64) (string, error) {
	if !(deg >= 0 && deg <= 180) {
		return "", fmt.Errorf("an angle of %.3g degrees cannot be written: it is not between 0 and 180", deg)
	}
	straight := deg <= slack || deg >= 180-slack
	good := func(s string) bool {
		got, way, err := setup.ParseAngle(s)
		return err == nil && math.Abs(got-deg) <= slack+1e-9 && (straight || way == side)
	}
	if good(was) {
		return was, nil
	}
	_, old, err := setup.ParseAngle(was)
	f, ok := firstFigure(was)
	if err != nil || !ok {
		was, f, old = "", figure{}, 0
	}
	text, ok := fewest(deg, f, func(t string) bool { return near(t, deg, slack+1e-9) })
	if !ok {
		text = decimals(deg, 6, f.comma)
	}
	text = was[:f.from] + text + was[f.to:]
	switch {
	case side == 0 && (old == 0 || straight):
	case old == 0:
		text += " " + sideWord(side)
	case old != side:
		i := strings.LastIndexByte(strings.TrimRight(text, " "), ' ') + 1
		word := text[i:]
		if side == 0 {
			text = strings.TrimRight(text[:i], " ")
		} else if len(word) == 1 {
			text = text[:i] + sideWord(side)[:1]
		} else {
			text = text[:i] + sideWord(side)
		}
	}
	if !good(text) {
		return "", fmt.Errorf("an angle of %.2f degrees cannot be written like %q", deg, was)
	}
	return text, nil
}

func sideWord(side int) string {
	if side < 0 {
		return "left"
	}
	return "right"
}

// Clock writes an angle as a clock position was written, "7:30" with the camera at
// 6, to the minute, which is half a degree; off is by how many degrees that misses
// it.
func Clock(was string, deg float64, side int) (text string, off float64) {
	turn := fromSix(deg, side)
	minutes := int(math.Round(turn*2)) % 720
	off = math.Abs(turn*2-math.Round(turn*2)) / 2
	hour, minute := (minutes/60+6)%12, minutes%60
	if hour == 0 {
		hour = 12
	}
	old, oldSide, err := setup.ParseClock(was)
	if err == nil && math.Abs(fromSix(old, oldSide)*2-float64(minutes)) < 0.5 {
		return was, off
	}
	f, ok := firstFigure(was)
	if err != nil || !ok {
		return strconv.Itoa(hour) + fmt.Sprintf(":%02d", minute), off
	}
	rest := was[f.to:]
	colon := strings.HasPrefix(rest, ":")
	if colon {
		rest = rest[3:]
	}
	text = strings.TrimRight(was[:f.from], "+")
	if hour < 10 && was[f.from] == '0' {
		text += "0"
	}
	text += strconv.Itoa(hour)
	if colon || minute > 0 {
		text += fmt.Sprintf(":%02d", minute)
	}
	return text + rest, off
}

// fromSix is how many degrees a clock's hand has turned since six.
func fromSix(deg float64, side int) float64 {
	if side > 0 {
		return math.Mod(360-deg, 360)
	}
	return deg
}
