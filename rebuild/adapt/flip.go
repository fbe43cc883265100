package adapt

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// Patterns are made on first use: starting takes no time for them.
var (
	sideWord  = lazy(`(?i)\b(left|right)\b`)
	sideMark  = lazy(`(?i)^(.*\d\s*°?\s*)(l|r)(\s*)$`)
	clockText = lazy(`(?i)^(\s*)(\d{1,2})(?::(\d\d))?(\s*(?:o['’]clock)?\s*)$`)
	nameMark  = lazy(`^(.*[ -])([LR])$`)
)

func lazy(pattern string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(pattern) })
}

// other is the other side, in the same case.
func other(word string) string {
	for _, pair := range [][2]string{{"left", "right"}, {"Left", "Right"}, {"LEFT", "RIGHT"}, {"l", "r"}, {"L", "R"}} {
		switch word {
		case pair[0]:
			return pair[1]
		case pair[1]:
			return pair[0]
		}
	}
	if low := strings.ToLower(word); low != word {
		return other(low)
	}
	return word
}

// flipSide turns the words left and right of a text, and the letters for them
// behind a figure.
func flipSide(text string) string {
	if sideWord().MatchString(text) {
		return sideWord().ReplaceAllStringFunc(text, other)
	}
	if m := sideMark().FindStringSubmatch(text); m != nil {
		return m[1] + other(m[2]) + m[3]
	}
	return text
}

// flipPlace turns a place in one line. What it stands under or over is a name, and
// turned as such.
func flipPlace(text string) string {
	parts := strings.Split(text, ",")
	for i, part := range parts {
		low := strings.ToLower(strings.TrimSpace(part))
		switch {
		case strings.HasPrefix(low, "under ") || strings.HasPrefix(low, "over "):
		case i == 0 && (strings.Contains(low, ":") || strings.Contains(low, "o'clock") || strings.Contains(low, "o’clock")):
			parts[i] = flipClock(part)
		default:
			parts[i] = flipSide(part)
		}
	}
	return strings.Join(parts, ",")
}

// flipClock turns a place on a clock face with the camera at six.
func flipClock(text string) string {
	c := clockText().FindStringSubmatch(text)
	if c == nil {
		return text
	}
	hour, _ := strconv.Atoi(c[2])
	minute, _ := strconv.Atoi(c[3])
	turned := (720 - (hour*60+minute)%720) % 720
	hour, minute = turned/60, turned%60
	if hour == 0 {
		hour = 12
	}
	out := strconv.Itoa(hour)
	if len(c[2]) == 2 && c[2][0] == '0' {
		out = fmt.Sprintf("%02d", hour)
	}
	if c[3] != "" {
		out += fmt.Sprintf(":%02d", minute)
	}
	return c[1] + out + c[4]
}

// flipName is what an item is called on the other side: "Flat right" for "Flat
// left", "Rim R" for "Rim L".
func flipName(name string) string {
	name = sideWord().ReplaceAllStringFunc(name, other)
	if m := nameMark().FindStringSubmatch(name); m != nil {
		return m[1] + other(m[2])
	}
	return name
}
