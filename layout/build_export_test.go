package layout

import "stopleaf/kit"

// Step is a step of the build or strike order, for tests.
type Step struct {
	Phase      string
	Acts       []string
	Light      int
	Lead, Text string
}

func exported(steps []step) []Step {
	var out []Step
	for _, s := range steps {
		out = append(out, Step{s.phase, s.acts, s.light, s.lead, s.text})
	}
	return out
}

// BuildOrder and StrikeOrder are the two lists of a sheet.
func BuildOrder(job Job) []Step { return exported(buildOrder(job)) }

// StrikeOrder is how a set comes down.
func StrikeOrder(job Job) []Step { return exported(strikeOrder(job)) }

// KitLine is one line of the kit list.
type KitLine struct {
	Kind, What string
	N          int
	More       bool
	Of         []int
}

// KitList is what a set needs.
func KitList(job Job) []KitLine {
	var out []KitLine
	list := kit.For(job.Setup)
	for i, row := range KitRows(list, job.Words) {
		it := list.Items[i]
		out = append(out, KitLine{string(it.Kind), row.What, it.N, it.AtLeast, it.Asked[0].Of})
	}
	return out
}
