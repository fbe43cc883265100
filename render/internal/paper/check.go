package paper

import (
	"fmt"

	"stopleaf/layout"
)

// The bounds of a page that every format can hold. A PDF page may be 14400
// points wide (ISO 32000-1, annex C), which is 5.08 m.
const (
	maxSide  = layout.Um(5_000_000)
	maxReach = layout.Um(100_000_000)
	maxDepth = 64
)

// Check refuses a page that cannot be written: no size, coordinates out of all
// measure, a picture without pixels, groups nested without end.
func Check(p *layout.Page) error {
	if p.W <= 0 || p.H <= 0 || p.W > maxSide || p.H > maxSide {
		return fmt.Errorf("page of %s x %s mm cannot be written", Mm(p.W), Mm(p.H))
	}
	return checkItems(p.Items, 0)
}

func checkItems(items []layout.Item, depth int) error {
	if depth > maxDepth {
		return fmt.Errorf("groups nested deeper than %d", maxDepth)
	}
	for _, it := range items {
		if err := checkItem(it, depth); err != nil {
			return err
		}
	}
	return nil
}

func checkItem(it layout.Item, depth int) error {
	switch v := it.(type) {
	case *layout.Path:
		return checkPath(v)
	case *layout.Text:
		if v.Cap <= 0 || v.Cap > maxSide {
			return fmt.Errorf("text %.40q with a cap height of %s mm", v.S, Mm(v.Cap))
		}
		return reach(v.X, v.Y)
	case *layout.Image:
		return checkImage(v)
	case *layout.Code:
		if v.Modules == nil || v.Modules.Size <= 0 {
			return fmt.Errorf("code %.40q without modules", v.Alt)
		}
		return checkRect(v.Rect)
	case *layout.Group:
		if v.Clip != nil {
			if err := checkRect(*v.Clip); err != nil {
				return err
			}
		}
		return checkItems(v.Items, depth+1)
	case *layout.Link:
		return checkRect(v.Rect)
	}
	return fmt.Errorf("a page item of type %T cannot be written", it)
}

func checkPath(p *layout.Path) error {
	open := false
	for _, s := range p.Segs {
		if s.Kind != layout.MoveTo && !open {
			return fmt.Errorf("path %q of %q does not begin with a move", p.Kind, p.Of)
		}
		open = true
		for _, pt := range s.P[:Points(s.Kind)] {
			if err := reach(pt.X, pt.Y); err != nil {
				return err
			}
		}
	}
	if p.Stroke.Width < 0 || p.Stroke.Width > maxSide {
		return fmt.Errorf("line width of %s mm", Mm(p.Stroke.Width))
	}
	sum := layout.Um(0)
	for _, d := range p.Stroke.Dash {
		if d < 0 || d > maxSide {
			return fmt.Errorf("dash of %s mm", Mm(d))
		}
		sum += d
	}
	if len(p.Stroke.Dash) > 0 && sum == 0 {
		return fmt.Errorf("dashes of no length")
	}
	return nil
}

// Points is how many points a step of a path uses.
func Points(k layout.SegKind) int {
	switch k {
	case layout.MoveTo, layout.LineTo:
		return 1
	case layout.CubicTo:
		return 3
	}
	return 0
}

func checkImage(v *layout.Image) error {
	if v.Format != "jpeg" && v.Format != "png" {
		return fmt.Errorf("picture %.40q: format %.20q, not jpeg or png", v.Alt, v.Format)
	}
	if v.PxW <= 0 || v.PxH <= 0 || len(v.Data) == 0 || v.W <= 0 || v.H <= 0 {
		return fmt.Errorf("picture %.40q has no size", v.Alt)
	}
	return checkRect(v.Rect)
}

func checkRect(r layout.Rect) error {
	if r.W < 0 || r.H < 0 {
		return fmt.Errorf("box of %s x %s mm", Mm(r.W), Mm(r.H))
	}
	if err := reach(r.X, r.Y); err != nil {
		return err
	}
	return reach(r.W, r.H)
}

func reach(x, y layout.Um) error {
	if x < -maxReach || x > maxReach || y < -maxReach || y > maxReach {
		return fmt.Errorf("a point at %s, %s mm is out of all measure", Mm(x), Mm(y))
	}
	return nil
}
