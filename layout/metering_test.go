package layout_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/rebuild/check"
)

// meteredAs gives the names of the lights in the order in which the sheet's blank
// columns, its metering steps and check list them.
func meteredAs(t testing.TB, job layout.Job) (columns, steps, checked []string) {
	name := map[string]string{}
	for _, l := range job.Setup.Lights {
		name[fmt.Sprintf("light %d", l.Number)] = l.Name
	}
	doc, err := layout.Sheet([]layout.Job{job}, layout.SheetOptions{})
	require.NoError(t, err)
	for i := range doc.Pages {
		layout.Walk(doc.Pages[i].Items, func(it layout.Item) {
			if p, ok := it.(*layout.Path); ok && p.Kind == "blank" && name[p.Of] != "" && !slices.Contains(columns, name[p.Of]) {
				columns = append(columns, name[p.Of])
			}
		})
	}
	for _, step := range layout.BuildOrder(job) {
		if slices.Contains(step.Acts, "meter") {
			steps = append(steps, name[fmt.Sprintf("light %d", step.Light)])
		}
	}
	base := 6.0
	today := check.Today{BaseAv: &base}
	for i := range job.Setup.Lights {
		if !job.Setup.Lights[i].Off {
			today.Readings = append(today.Readings, check.Given{Lights: []int{i}, Av: &base})
		}
	}
	listed := func(list []check.Finding) (names []string) {
		for _, f := range list {
			if len(f.Numbers) > 0 { // not the room's own
				names = append(names, f.Name)
			}
		}
		return names
	}
	checked = listed(check.Run(job.Setup, today).Lights)
	require.Equal(t, checked, listed(check.Run(job.Setup, check.Today{}).ToMeter), "given and still to be metered")
	return columns, steps, checked
}

// Someone reads the sheet out and someone else types it in: the blank columns, the
// metering steps and check go by the same names in the same order.
func TestOneMeteringOrder(t *testing.T) {
	words := wording(t)
	forRandom(t, howMany(40, 400), 1, 16, func(_ int, r random) []string {
		job, err := r.job(words)
		if err != nil {
			return []string{"metering: " + err.Error()}
		}
		columns, steps, checked := meteredAs(t, job)
		if !slices.Equal(columns, steps) || !slices.Equal(steps, checked) {
			return []string{fmt.Sprintf("metering: the sheet has %q, its steps %q, check %q", columns, steps, checked)}
		}
		return nil
	})
}

// The zero comes first, then the fills, then the file's order; what a look turns
// off is not metered.
func TestMeteringOrderOfASet(t *testing.T) {
	job := jobFrom(t, `title: Order
looks: [{name: No rim, off: [Rim]}]
lights:
  - {name: Hair, role: hair, delta: -1}
  - {name: Rim, role: rim, delta: -1, pair: each}
  - {name: Fill, role: fill, delta: -1}
  - {name: Key, role: key}
`)
	columns, _, _ := meteredAs(t, job)
	require.Equal(t, []string{"Key", "Fill", "Hair", "Rim L", "Rim R"}, columns)
	look, err := job.Setup.WithLook("No rim")
	require.NoError(t, err)
	if job, err = jobOf(look, wording(t)); err != nil {
		t.Fatal(err)
	}
	columns, steps, checked := meteredAs(t, job)
	require.Equal(t, []string{"Key", "Fill", "Hair"}, columns)
	require.Equal(t, columns, steps)
	require.Equal(t, columns, checked)
}
