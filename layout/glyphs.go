package layout

import (
	"fmt"

	"stopleaf/layout/text"
	"stopleaf/setup"
)

// Glyphs says which letters of a setup's texts the pages cannot show, each with
// its place in the file; they are printed as an empty box.
func Glyphs(s *setup.Setup) setup.Problems {
	var out setup.Problems
	look := func(w setup.Where, key, words string) {
		_, missing := text.Clean(words)
		if len(missing) == 0 {
			return
		}
		out = append(out, setup.Problem{Pos: w.Key(key), Level: setup.Warning, Code: "no-glyph",
			Message: fmt.Sprintf("the pages cannot show %q and print a box in its place", string(missing)),
			Hint:    "letters of Latin, Greek and Cyrillic script are printed"})
	}
	look(s.Where, "title", s.TitleAsWritten())
	look(s.Where, "code", s.Code)
	look(s.Where, "by", s.By)
	look(s.Where, "notes", s.Notes)
	look(s.Camera.Where, "note", s.Camera.Note)
	look(s.Subject.Where, "note", s.Subject.Note)
	look(s.Subject.Where, "mark", s.Subject.Mark)
	if b := s.Background; b != nil {
		look(b.Where, "kind", b.Kind)
		look(b.Where, "tone", b.Tone)
		look(b.Where, "note", b.Note)
	}
	for i := range s.Photos {
		look(s.Photos[i].Where, "caption", s.Photos[i].Caption)
	}
	for _, k := range s.Looks {
		look(k.Where, "name", k.Name)
	}
	for _, p := range s.Packs {
		look(p.Where, "name", p.Name)
		for _, o := range p.Outlets {
			look(p.Where, "outlets", o.Name)
		}
	}
	for i := range s.Lights {
		l := &s.Lights[i]
		if l.Pair != nil && l.Pair.Side == "R" {
			continue // said of its twin
		}
		look(l.Where, "name", l.Name)
		look(l.Where, "note", l.Note)
		look(l.Where, "look for", l.LookFor)
		look(l.Where, "mark", l.Mark)
		look(l.Where, "trigger", l.Trigger)
		look(l.Where, "circuit", l.Circuit)
		if l.Modifier != nil {
			look(l.Where, "modifier", l.Modifier.Text)
		}
	}
	for i := range s.Grip {
		g := &s.Grip[i]
		look(g.Where, "name", g.Name)
		look(g.Where, "kind", g.Kind)
		look(g.Where, "colour", g.Colour)
		look(g.Where, "note", g.Note)
		look(g.Where, "look for", g.LookFor)
		look(g.Where, "mark", g.Mark)
	}
	return out
}
