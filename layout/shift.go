package layout

// shift moves items where they are: for pages that nothing else holds.
func shift(items []Item, dx, dy Um) {
	for _, it := range items {
		switch v := it.(type) {
		case *Path:
			for i := range v.Segs {
				s := &v.Segs[i]
				for k := range s.P {
					s.P[k].X += dx
					s.P[k].Y += dy
				}
			}
		case *Text:
			v.X, v.Y = v.X+dx, v.Y+dy
		case *Image:
			v.X, v.Y = v.X+dx, v.Y+dy
			if o := v.open; o != nil {
				o.room.X, o.room.Y = o.room.X+dx, o.room.Y+dy
			}
		case *Code:
			v.X, v.Y = v.X+dx, v.Y+dy
		case *Link:
			v.X, v.Y = v.X+dx, v.Y+dy
		case *Group:
			if v.Clip != nil {
				v.Clip.X, v.Clip.Y = v.Clip.X+dx, v.Clip.Y+dy
			}
			shift(v.Items, dx, dy)
		}
	}
}

// rename gives the ids of groups an ending of their own, where several pages become
// one.
func rename(items []Item, ending string) {
	for _, it := range items {
		if g, ok := it.(*Group); ok {
			if g.ID != "" {
				g.ID += "-" + ending
			}
			rename(g.Items, ending)
		}
	}
}
