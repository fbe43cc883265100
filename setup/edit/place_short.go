package edit

import (
	"math"
	"strings"

	"stopleaf/setup"
)

// line is a place in one line, parted at its commas.
type line struct {
	parts []string // without the white space around them
	gaps  []string // what stands before each, and after the last
}

func lineOf(text string) line {
	var l line
	rest := text
	for _, part := range setup.Parts(text) {
		i := strings.Index(rest, part)
		l.gaps = append(l.gaps, rest[:i])
		l.parts = append(l.parts, part)
		rest = rest[i+len(part):]
	}
	l.gaps = append(l.gaps, rest)
	return l
}

func (l line) String() string {
	var b strings.Builder
	for i, part := range l.parts {
		b.WriteString(l.gaps[i] + part)
	}
	return b.String() + l.gaps[len(l.parts)]
}

// add puts a part behind another.
func (l *line) add(behind int, part string) {
	l.parts = append(l.parts[:behind+1:behind+1], append([]string{part}, l.parts[behind+1:]...)...)
	l.gaps = append(l.gaps[:behind+1:behind+1], append([]string{", "}, l.gaps[behind+1:]...)...)
}

// short writes a place in one line.
func (w *placing) short() error {
	was, _ := w.s.Text(w.p)
	l := lineOf(was)
	var where []int
	high := false
	for i, part := range l.parts {
		cut, lower := heightWord(part)
		if cut == 0 {
			where = append(where, i)
			continue
		}
		high = true
		if m, ok := w.height(lower); ok {
			text, err := w.length(part[:cut], m)
			if err != nil {
				return err
			}
			l.parts[i] = text + part[cut:]
		}
	}
	if m, ok := w.height(false); ok && !high {
		text, err := w.length("", m)
		if err != nil {
			return err
		}
		l.add(len(l.parts)-1, text+" high")
	}
	if len(where) == 0 {
		return w.fresh()
	}
	if err := w.shortWhere(&l, where); err != nil {
		return err
	}
	if text := l.String(); text != was {
		return w.s.Set(w.p, text)
	}
	return nil
}

// heightWord is where the words behind a height begin; 0 for what is none.
func heightWord(part string) (cut int, lower bool) {
	low := strings.ToLower(part)
	for _, word := range []string{" high", " up", " to lower edge"} {
		if strings.HasSuffix(low, word) {
			return len(part) - len(word), word == " to lower edge"
		}
	}
	return 0, false
}

func (w *placing) shortWhere(l *line, where []int) (err error) {
	first := l.parts[where[0]]
	low := strings.ToLower(first)
	for _, word := range []string{"under ", "over "} {
		if !strings.HasPrefix(low, word) {
			continue
		}
		name := strings.TrimSpace(first[len(word):])
		if w.beside(name) {
			return nil
		}
		w.say("it is no longer %s%q: the place is written by angle and distance", word, name)
		return w.shortAngle(l, where[0], "", true)
	}
	if ways := waysOf(l, where); ways != nil {
		return w.shortFloor(l, where, ways)
	}
	if strings.Contains(low, ":") || strings.Contains(low, "o'clock") {
		if text, ok := w.clock(first); ok {
			l.parts[where[0]] = text
			return w.shortReach(l, where)
		}
		return w.shortAngle(l, where[0], "", true, where[1:]...)
	}
	return w.shortAngle(l, where[0], first, false, where[1:]...)
}

// shortAngle writes angle and distance.
func (w *placing) shortAngle(l *line, at int, was string, fresh bool, reach ...int) error {
	text, err := w.angle(was, fresh)
	if err != nil {
		return err
	}
	l.parts[at] = text
	if len(reach) == 0 {
		d, err := w.length("", w.to.Distance())
		if err != nil {
			return err
		}
		l.add(at, d)
		return nil
	}
	return w.shortReach(l, append([]int{at}, reach...))
}

func (w *placing) shortReach(l *line, where []int) error {
	if len(where) < 2 {
		return nil
	}
	text, err := w.length(l.parts[where[1]], w.to.Distance())
	l.parts[where[1]] = text
	return err
}

// waysOf are the words left, right, front and behind of a place in lengths, nil
// for one by angle: as package setup tells them apart.
func waysOf(l *line, where []int) (ways []string) {
	lengths := false
	for _, i := range where {
		amount, way := cutWay(l.parts[i])
		if way == "" {
			return nil
		}
		if way == "front" || way == "behind" || strings.ContainsAny(strings.ToLower(amount), "mfi'\"") {
			lengths = true
		}
		ways = append(ways, way)
	}
	if !lengths {
		return nil
	}
	return ways
}

func cutWay(part string) (amount, way string) {
	low := strings.ToLower(part)
	for _, way := range []string{"left", "right", "front", "behind"} {
		if strings.HasSuffix(low, " "+way) {
			return part[:len(part)-len(way)], way
		}
	}
	return part, ""
}

// shortFloor writes lengths to the left or right and to the front or behind.
func (w *placing) shortFloor(l *line, where []int, ways []string) error {
	axes := []struct {
		plus, minus string
		v           float64
		done        bool
	}{{"right", "left", w.to.Right, false}, {"front", "behind", w.to.Front, false}}
	for k, i := range where {
		for a := range axes {
			x := &axes[a]
			if ways[k] != x.plus && ways[k] != x.minus {
				continue
			}
			way := ways[k]
			if math.Abs(x.v) > sameLength {
				way = x.plus
				if x.v < 0 {
					way = x.minus
				}
			}
			amount, old := cutWay(l.parts[i])
			text, err := w.length(strings.TrimRight(amount, " "), math.Abs(x.v))
			if err != nil {
				return err
			}
			written := l.parts[i][len(amount):]
			if way != old {
				written = way
			}
			l.parts[i] = text + gap(amount) + written
			x.done = true
		}
	}
	for _, x := range axes {
		if x.done || math.Abs(x.v) <= sameLength {
			continue
		}
		way := x.plus
		if x.v < 0 {
			way = x.minus
		}
		text, err := w.length("", math.Abs(x.v))
		if err != nil {
			return err
		}
		l.add(where[len(where)-1], text+" "+way)
	}
	return nil
}
