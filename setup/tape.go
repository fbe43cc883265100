package setup

import (
	"fmt"
	"math"
)

// tapeSlack is how far tapes may miss each other, metres.
const tapeSlack = 0.05

// anchor is one end of a tape on the floor, metres; a plane is the background,
// whose tape is square to it.
type anchor struct {
	x, y  float64
	r     float64
	plane bool
}

// miss is how much too long (+) or short (-) the way from p to the anchor is
// for its tape.
func (a anchor) miss(p [2]float64) float64 {
	if a.plane {
		return p[1] - a.y - a.r
	}
	return math.Hypot(p[0]-a.x, p[1]-a.y) - a.r
}

// toward is the direction in which the miss grows.
func (a anchor) toward(p [2]float64) (gx, gy float64) {
	if a.plane {
		return 0, 1
	}
	d := math.Hypot(p[0]-a.x, p[1]-a.y)
	if d < 1e-9 {
		return 0, 0
	}
	return (p[0] - a.x) / d, (p[1] - a.y) / d
}

// meet gives the points where two tapes meet, and by how much they miss each
// other when they do not (the points are then the nearest).
func meet(a, b anchor) (points [][2]float64, gap float64) {
	if a.plane {
		a, b = b, a
	}
	if a.plane {
		return nil, math.Inf(1)
	}
	if b.plane {
		y := b.y + b.r
		h := a.r*a.r - (y-a.y)*(y-a.y)
		if h <= 0 {
			return [][2]float64{{a.x, y}}, math.Abs(y-a.y) - a.r
		}
		return [][2]float64{{a.x - math.Sqrt(h), y}, {a.x + math.Sqrt(h), y}}, 0
	}
	d := math.Hypot(b.x-a.x, b.y-a.y)
	if d < 1e-6 {
		return nil, math.Inf(1)
	}
	ux, uy := (b.x-a.x)/d, (b.y-a.y)/d
	at := func(along, off float64) [2]float64 {
		return [2]float64{a.x + along*ux - off*uy, a.y + along*uy + off*ux}
	}
	switch {
	case d >= a.r+b.r:
		return [][2]float64{at(a.r+(d-a.r-b.r)/2, 0)}, d - a.r - b.r
	case a.r >= d+b.r:
		return [][2]float64{at((a.r+d+b.r)/2, 0)}, a.r - d - b.r
	case b.r >= d+a.r:
		return [][2]float64{at(-(a.r+b.r-d)/2, 0)}, b.r - d - a.r
	}
	along := (d*d + a.r*a.r - b.r*b.r) / (2 * d)
	off := math.Sqrt(math.Max(a.r*a.r-along*along, 0))
	return [][2]float64{at(along, off), at(along, -off)}, 0
}

// MeetTapes gives where tapes along the floor meet on a side (-1 left, 1 right, 0
// not said), metres, as places are read; ok is false where they do not, or where
// they leave it open. from are the points that they start at, right and front; a
// plane is the background, whose tape is square to it.
func MeetTapes(from [][2]float64, plane []bool, lengths []float64, side int) (right, front float64, ok bool) {
	tapes, names := make([]anchor, len(from)), make([]string, len(from))
	for i, p := range from {
		tapes[i] = anchor{x: p[0], y: p[1], r: lengths[i], plane: plane[i]}
	}
	best, unsure, _, fault := bestMeeting(tapes, names, side)
	return best[0] + 0, best[1] + 0, fault == nil && !unsure
}

// adjust moves a point to where the squares of all misses are least
// (Gauss-Newton with damping), and gives their sum.
func adjust(p [2]float64, tapes []anchor) ([2]float64, float64) {
	sum := squares(p, tapes)
	damp := 1e-6
	for range 60 {
		var a, b, c, u, v float64
		for _, t := range tapes {
			gx, gy := t.toward(p)
			m := t.miss(p)
			a, b, c = a+gx*gx, b+gx*gy, c+gy*gy
			u, v = u+gx*m, v+gy*m
		}
		a, c = a+damp, c+damp
		det := a*c - b*b
		if det < 1e-15 {
			damp = damp*10 + 1e-6
			continue
		}
		q := [2]float64{p[0] - (c*u-b*v)/det, p[1] - (a*v-b*u)/det}
		now := squares(q, tapes)
		if now > sum {
			if damp *= 10; damp > 1e6 {
				break
			}
			continue
		}
		done := sum-now < 1e-16
		p, sum, damp = q, now, damp/10
		if done {
			break
		}
	}
	return p, sum
}

func squares(p [2]float64, tapes []anchor) float64 {
	s := 0.0
	for _, t := range tapes {
		s += t.miss(p) * t.miss(p)
	}
	return s
}

// tapeFault says why tapes give no place.
type tapeFault struct{ code, message, hint string }

// bestMeeting finds the point where tapes meet, on the side given (-1 left, 1
// right, 0 not said). names are for messages. unsure is true when two points on
// that side would do; worst is by how much the worst two miss each other.
func bestMeeting(tapes []anchor, names []string, side int) (best [2]float64, unsure bool, worst float64, fault *tapeFault) {
	var found []meeting
	for i := range tapes {
		for j := i + 1; j < len(tapes); j++ {
			points, gap := meet(tapes[i], tapes[j])
			switch {
			case math.IsInf(gap, 1):
				continue
			case gap > tapeSlack:
				return best, false, gap, &tapeFault{"tapes-apart",
					fmt.Sprintf("the tapes from %s and %s miss each other by %.0f cm", quote(names[i]), quote(names[j]), gap*100),
					"one of them is written wrongly, or the place it is taped from"}
			}
			worst = max(worst, gap)
			for _, p := range points {
				m := meeting{p: p}
				if len(tapes) > 2 {
					m.p, m.sum = adjust(p, tapes)
				}
				found = addMeeting(found, m)
			}
		}
	}
	if len(found) == 0 {
		return best, false, 0, &tapeFault{"one-tape", "the tapes start at one point", "tape from two points that lie apart"}
	}
	best, unsure, fault = choose(found, side, len(tapes))
	return best, unsure, worst, fault
}

type meeting struct {
	p   [2]float64
	sum float64
}

func distance(a, b meeting) float64 { return math.Hypot(a.p[0]-b.p[0], a.p[1]-b.p[1]) }

// addMeeting keeps each point once.
func addMeeting(found []meeting, m meeting) []meeting {
	for i, f := range found {
		if distance(f, m) < 0.01 && f.p[0]*m.p[0] >= 0 { // either side of the axis is a point of its own
			if m.sum < f.sum {
				found[i] = m
			}
			return found
		}
	}
	return append(found, m)
}

// choose takes the best point on the side. Points that fit as well as the best
// within what a tape can tell leave it unsure.
func choose(found []meeting, side, tapes int) (best [2]float64, unsure bool, fault *tapeFault) {
	pick := -1
	for i, f := range found {
		if side != 0 && f.p[0]*float64(side) < -1e-6 {
			continue
		}
		if pick < 0 || better(f, found[pick]) {
			pick = i
		}
	}
	if pick < 0 {
		return best, false, &tapeFault{"tapes-other-side", "the tapes meet on the other side of the subject", "write the other \"side\", or look at the tapes again"}
	}
	slack := float64(tapes) * 0.01 * 0.01
	for i, f := range found {
		if i == pick || side != 0 && f.p[0]*float64(side) < -1e-6 || f.sum > found[pick].sum+slack || distance(f, found[pick]) < 0.02 {
			continue
		}
		unsure = true
	}
	if unsure && side == 0 {
		return best, true, &tapeFault{"no-side", "the tapes meet at two points", "write side: left or side: right"}
	}
	return found[pick].p, unsure, nil
}

// better prefers the smaller sum; of equals the point further to the side, then
// the one nearer the camera.
func better(a, b meeting) bool {
	switch {
	case math.Abs(a.sum-b.sum) > 1e-6:
		return a.sum < b.sum
	case math.Abs(math.Abs(a.p[0])-math.Abs(b.p[0])) > 1e-6:
		return math.Abs(a.p[0]) > math.Abs(b.p[0])
	}
	return a.p[1] > b.p[1]
}

// oddTapes gives, worst first, the tapes that disagree with the others by more
// than the slack, and by how much. Among four or more the odd one is that
// without which the others fit best; of three, which fit in pairs, that with
// the largest miss after adjusting.
func oddTapes(p [2]float64, tapes []anchor) (which []int, by []float64) {
	left := make([]int, len(tapes))
	for i := range left {
		left[i] = i
	}
	for len(left) >= 3 {
		odd, miss := oddOne(p, tapes, left)
		if math.Abs(miss) <= tapeSlack {
			break
		}
		which, by = append(which, left[odd]), append(by, miss)
		left = append(left[:odd:odd], left[odd+1:]...)
		p, _ = adjust(p, pickTapes(tapes, left))
	}
	return which, by
}

func oddOne(p [2]float64, tapes []anchor, left []int) (odd int, miss float64) {
	all, _ := adjust(p, pickTapes(tapes, left))
	rank := math.Inf(1)
	for k := range left {
		others := append(append([]int(nil), left[:k]...), left[k+1:]...)
		q, sum := adjust(all, pickTapes(tapes, others))
		if len(left) == 3 {
			sum = -math.Abs(tapes[left[k]].miss(all))
		}
		if sum < rank-1e-12 {
			rank, odd, miss = sum, k, tapes[left[k]].miss(q)
		}
	}
	return odd, miss
}

func pickTapes(tapes []anchor, which []int) []anchor {
	out := make([]anchor, len(which))
	for i, k := range which {
		out[i] = tapes[k]
	}
	return out
}
