package layout

import (
	"strconv"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
	"stopleaf/templates"
)

// longestZero is the longest name, in letters, that stands for the zero in a
// table's head; a longer one is called by its number.
const longestZero = 12

// zeroName is what every difference is from, as a few letters: "" for the key.
func zeroName(job Job) string {
	z := job.Setup.Exposure.Zero
	switch {
	case z == "":
		return ""
	case z == exposure.Ambient:
		return job.Words.T("zero.ambient")
	case len([]rune(z)) <= longestZero:
		return z
	}
	for i := range job.Setup.Lights {
		if l := &job.Setup.Lights[i]; job.Setup.IsZero(l) {
			return job.Words.T("zero.number", "number", strconv.Itoa(l.Number))
		}
	}
	return z
}

// zeroWords words what is said of the key; where something else is the zero it
// is "KEY-of" with its {zero}.
func zeroWords(job Job, key string, pairs ...string) string {
	name := zeroName(job)
	if name == "" {
		return job.Words.T(key, pairs...)
	}
	return job.Words.T(key+"-of", append(append([]string(nil), pairs...), "zero", name)...)
}

// packWords is the pack and outlet that a light hangs on, or nothing.
func packWords(l *setup.Light, w templates.Words) string {
	switch u := l.Pack; {
	case u == nil:
		return ""
	case u.Outlet == "":
		return w.T("notes.pack", "pack", u.Pack.Name)
	default:
		return w.T("notes.pack-outlet", "pack", u.Pack.Name, "outlet", u.Outlet)
	}
}

// lookWords are the looks of the setup in one paragraph, or only the one that
// the page shows.
func lookWords(job Job) string {
	w := job.Words
	var all []string
	for _, k := range job.Setup.Looks {
		if job.Setup.Look != "" && job.Setup.Look != k.Name {
			continue
		}
		var changes []string
		if len(k.Off) > 0 {
			changes = append(changes, w.T("looks.off", "lights", strings.Join(k.Off, ", ")))
		}
		for _, d := range k.Delta {
			changes = append(changes, w.T("looks.difference", "light", d.Light, "difference", deltaText(d.Delta, w)))
		}
		if len(changes) == 0 {
			all = append(all, k.Name)
			continue
		}
		all = append(all, w.T("looks.one", "name", k.Name, "changes", strings.Join(changes, ", ")))
	}
	return strings.Join(all, "; ")
}
