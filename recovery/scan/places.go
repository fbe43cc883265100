package scan

import (
	"cmp"
	"image"
	"slices"
)

// inside tells whether a place lies in a code.
func inside(quad [4]point, p point) bool {
	for i := range quad {
		a, b := quad[i], quad[(i+1)%4]
		if b.minus(a).cross(p.minus(a)) < 0 {
			return false
		}
	}
	return true
}

func middle(quad [4]point) point {
	return quad[0].plus(quad[1]).plus(quad[2]).plus(quad[3]).times(0.25)
}

// around is the rectangle around a code, in pixels of which one here has scale.
func around(quad [4]point, scale float64) image.Rectangle {
	r := image.Rectangle{}
	for i, p := range quad {
		at := image.Pt(int(p.x*scale), int(p.y*scale))
		if i == 0 {
			r = image.Rectangle{at, at}
		}
		r.Min = image.Pt(min(r.Min.X, at.X), min(r.Min.Y, at.Y))
		r.Max = image.Pt(max(r.Max.X, at.X), max(r.Max.Y, at.Y))
	}
	return r
}

// overlaps tells whether a code stands where others do.
func overlaps(f found, others []found) bool {
	for _, o := range others {
		if inside(o.quad, middle(f.quad)) || inside(f.quad, middle(o.quad)) {
			return true
		}
	}
	return false
}

// order puts codes from the top to the foot, and from the left to the right.
func order(list []found) {
	slices.SortStableFunc(list, func(a, b found) int {
		p, q := middle(a.quad), middle(b.quad)
		return cmp.Or(cmp.Compare(p.y, q.y), cmp.Compare(p.x, q.x))
	})
}
