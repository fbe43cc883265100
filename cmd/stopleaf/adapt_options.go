package main

import (
	"fmt"
	"strconv"
	"strings"

	"stopleaf/exposure/apex"
	"stopleaf/rebuild/adapt"
	"stopleaf/setup"
)

// adaptOptions understands what to adapt to. Bare lengths are in the setup's
// units.
func (c *call) adaptOptions(s *setup.Setup) (adapt.Options, error) {
	var o adapt.Options
	o.Mirror = c.has("mirror")
	for _, f := range []struct {
		name string
		take func(text string) error
	}{
		{"base", func(text string) (err error) { o.BaseAv, err = oneBase(s, text); return err }},
		{"iso", func(text string) error { return take(&o.ISO, text, apex.ParseISO) }},
		{"shutter", func(text string) error {
			return take(&o.ShutterS, text, func(t string) (float64, error) {
				return apex.ParseTime(t, apex.Notation{Halves: s.Exposure.Halves, Comma: true})
			})
		}},
		{"room", func(text string) error { return takeRoom(&o.Room, text, s.Units) }},
		{"ceiling", func(text string) error {
			if o.Room.Ceiling != nil {
				return fmt.Errorf("the ceiling is given with --room already: once is enough")
			}
			return takeLength(&o.Room.Ceiling, text, s.Units)
		}},
		{"scale-distances", func(text string) (err error) { o.Scale, err = factor(text); return err }},
		{"swap", func(text string) (err error) { o.Heads, err = swapList(text); return err }},
		{"swap-modifier", func(text string) (err error) { o.Modifiers, err = swapList(text); return err }},
		{"face", func(text string) error { return takeLength(&o.FaceM, text, s.Units) }},
		{"lens", func(text string) error { return takeLens(&o.LensMM, text) }},
	} {
		text, given := c.set[f.name]
		if !given {
			continue
		}
		if err := f.take(text); err != nil {
			message, hint, _ := strings.Cut(err.Error(), ": ")
			return o, &usageError{"--" + f.name + ": " + message, hint}
		}
	}
	return o, nil
}

func take(into **float64, text string, parse func(string) (float64, error)) error {
	v, err := parse(text)
	if err == nil {
		*into = &v
	}
	return err
}

func oneBase(s *setup.Setup, text string) (*float64, error) {
	if whole, part, comma := strings.Cut(text, ","); comma && len(part) == 1 {
		return nil, fmt.Errorf("%q has a comma where it could mean a list: write a decimal point, --base %s.%s", text, whole, part)
	}
	list, err := s.ChooseBases(text)
	switch {
	case err != nil:
		return nil, err
	case strings.TrimSpace(text) == "":
		return nil, fmt.Errorf("no base is given: such as --base f/4")
	case len(list) != 1 || strings.Contains(text, ","):
		return nil, fmt.Errorf("a setup is adapted to one base, and %q are several: such as --base f/4", text)
	}
	return &list[0].Av, nil
}

func takeLength(into **float64, text string, u setup.Units) error {
	v, err := setup.ParseLength(text, u)
	if err == nil && !(v >= 0.1) {
		err = fmt.Errorf("%q is no height: write it in %s, or with its unit, such as 2.4 m", text, u)
	}
	if err == nil {
		*into = &v
	}
	return err
}

// takeRoom reads left=1.8,right=2,front=3,behind=2.
func takeRoom(r *setup.Room, text string, u setup.Units) error {
	sides := []string{"left", "right", "front", "behind", "ceiling"}
	to := []**float64{&r.Left, &r.Right, &r.Front, &r.Behind, &r.Ceiling}
	for _, part := range strings.Split(text, ",") {
		side, length, ok := strings.Cut(part, "=")
		side = strings.ToLower(strings.TrimSpace(side))
		if !ok {
			return fmt.Errorf("%q is not a wall and how far it is: such as --room left=1.8,right=2,front=3,behind=2; with a decimal point", part)
		}
		at := -1
		for i, s := range sides {
			if s == side {
				at = i
			}
		}
		switch {
		case at < 0:
			hint := "there are " + strings.Join(sides, ", ")
			if near := didYouMean(side, sides); near != "" {
				hint = near + " " + hint
			}
			return fmt.Errorf("there is no wall %q: %s", side, hint)
		case *to[at] != nil:
			return fmt.Errorf("%q is given twice: once is enough", side)
		}
		v, err := setup.ParseLength(strings.TrimSpace(length), u)
		if err != nil {
			return err
		}
		*to[at] = &v
	}
	return nil
}

func factor(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || !(v >= 0.1 && v <= 10) || strings.ContainsAny(text, "xXpPeE_") {
		return 0, fmt.Errorf("%q is not a factor from 0.1 to 10: such as --scale-distances 0.8", text)
	}
	return v, nil
}

// swapList reads Key=field-600,Rim=compact-200.
func swapList(text string) ([]adapt.Swap, error) {
	var out []adapt.Swap
	for _, part := range strings.Split(text, ",") {
		i := strings.LastIndexByte(part, '=')
		if i <= 0 || strings.TrimSpace(part[i+1:]) == "" || strings.TrimSpace(part[:i]) == "" {
			return nil, fmt.Errorf("%q is not a light and what it gets: such as Key=field-600", part)
		}
		s := adapt.Swap{Light: strings.TrimSpace(part[:i]), Gear: strings.TrimSpace(part[i+1:])}
		for _, before := range out {
			if strings.EqualFold(before.Light, s.Light) {
				return nil, fmt.Errorf("%q is given twice: once is enough", s.Light)
			}
		}
		out = append(out, s)
	}
	return out, nil
}

func takeLens(into **float64, text string) error {
	t := strings.TrimSpace(strings.TrimSuffix(strings.ToLower(strings.TrimSpace(text)), "mm"))
	v, err := strconv.ParseFloat(strings.Replace(t, ",", ".", 1), 64)
	if err != nil || !(v >= 1 && v <= 5000) || strings.ContainsAny(t, "xpe_") {
		return fmt.Errorf("%q is not a focal length: such as --lens 50, in mm", text)
	}
	*into = &v
	return nil
}
