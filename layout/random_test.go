package layout_test

import (
	"errors"

	"pgregory.net/rapid"

	"stopleaf/exposure"
	"stopleaf/internal/randomset"
	"stopleaf/layout"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/setup/photo"
	"stopleaf/templates"
)

// random is a random setup file.
type random struct{ randomset.Set }

// setups generates setup files of least to most lights.
func setups(least, most int) *rapid.Generator[random] {
	return rapid.Map(randomset.Setups(least, most), func(s randomset.Set) random { return random{s} })
}

// job reads the file and works it out, as the command does.
func (r random) job(words templates.Words) (layout.Job, error) {
	s, problems := setup.Parse("random.yaml", []byte(r.YAML()), setup.Options{})
	if s == nil {
		for _, p := range problems {
			if p.Level == setup.Error {
				return layout.Job{}, errors.New(p.String())
			}
		}
		return layout.Job{}, problems
	}
	if r.Look != "" {
		in, err := s.WithLook(r.Look)
		if err != nil {
			return layout.Job{}, err
		}
		s = in
	}
	sizes := [][3]int{1: {1200, 800, 1}, 2: {800, 1200, 1}, 3: {1200, 800, 6}}
	for i := range s.Photos {
		if z := sizes[r.Photo%len(sizes)]; z[0] > 0 {
			s.Photos[i].Picture = &photo.Picture{Format: "jpeg", Data: []byte{1}, Width: z[0], Height: z[1], Orientation: z[2], Channels: 3}
		}
	}
	return jobOf(s, words)
}

func jobOf(s *setup.Setup, words templates.Words) (layout.Job, error) {
	bases, err := s.ChooseBases("")
	if err != nil {
		return layout.Job{}, err
	}
	n := exposure.Compute(s.Input(bases))
	return layout.Job{Setup: s, Numbers: &n, Safety: safety.Notes(s, &n, words), Words: words, Source: layout.NewSource(s)}, nil
}

// smaller tries to leave pieces out for as long as fails stays true.
func (r random) smaller(fails func(random) bool) random {
	for again := true; again; {
		again = false
		for _, list := range []func(*random) *[]string{
			func(r *random) *[]string { return &r.Lights },
			func(r *random) *[]string { return &r.Grip },
			func(r *random) *[]string { return &r.Top },
		} {
			for i := 0; i < len(*list(&r)); i++ {
				try := r
				l := list(&try)
				*l = append(append([]string(nil), (*l)[:i]...), (*l)[i+1:]...)
				if fails(try) {
					r, again = try, true
					i--
				}
			}
		}
	}
	return r
}
