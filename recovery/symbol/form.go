package symbol

import (
	"sync"

	"rsc.io/qr/coding"
)

// lines are modules both ways.
type lines struct{ rows, columns []line }

func newLines(n int) lines { return lines{make([]line, n), make([]line, n)} }

func (l lines) set(x, y int, dark bool) {
	l.rows[y].set(x, dark)
	l.columns[x].set(y, dark)
}

// form is what all codes of one version and level have alike.
type form struct {
	plan   *coding.Plan
	over   [8]lines    // by mask, the modules that it turns over
	format [8][]module // by mask, those that name level and mask
}

type module struct {
	x, y int
	dark bool
}

// forms are those that were asked for, by version and level.
var forms sync.Map

type formKey struct {
	v     coding.Version
	level coding.Level
}

func formOf(v coding.Version, level coding.Level) (*form, error) {
	key := formKey{v, level}
	if f, ok := forms.Load(key); ok {
		return f.(*form), nil
	}
	plan, err := coding.NewPlan(v, level, 0)
	if err != nil {
		return nil, err
	}
	f := &form{plan: plan}
	for mask := range f.over {
		f.over[mask] = newLines(len(plan.Pixel))
		word := formatWord(level, coding.Mask(mask))
		for y, row := range plan.Pixel {
			for x, px := range row {
				switch px.Role() {
				case coding.Data, coding.Check, coding.Extra:
					if coding.Mask(mask).Invert(y, x) {
						f.over[mask].set(x, y, true)
					}
				case coding.Format:
					f.format[mask] = append(f.format[mask], module{x, y, word>>px.Offset()&1 == 1})
				}
			}
		}
	}
	kept, _ := forms.LoadOrStore(key, f)
	return kept.(*form), nil
}

// under puts a code without any mask under one, into out.
func (f *form) under(mask int, plain, out lines) {
	over := f.over[mask]
	for i := range plain.rows {
		out.rows[i] = plain.rows[i].xor(over.rows[i])
		out.columns[i] = plain.columns[i].xor(over.columns[i])
	}
	for _, m := range f.format[mask] {
		out.set(m.x, m.y, m.dark)
	}
}
