package safety

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/setup"
)

// The weight that the kit, the build order and the caution speak of is one: the
// moments of both arms are alike (the law of the lever).
func TestBoomWeight(t *testing.T) {
	read := func(stand string) *setup.Light {
		s, problems := setup.Parse("b.yaml", []byte("title: B\nlights:\n  - {name: Key, role: key, head: {name: h, mass: 4}, stand: {kind: boom, "+stand+"}}\n"), setup.Options{})
		require.NotNil(t, s, "%v", problems)
		return &s.Lights[0]
	}
	for stand, want := range map[string][2]float64{
		"reach: 1.2, behind: 0.6, counterweight: 8 kg":   {8, 0.6},   // 4 x 1.2 = 8 x 0.6
		"reach: 1.2, behind: 0.6, counterweight: 8.2 kg": {8.2, 0.6}, // within 3 %
		"reach: 1.2, behind: 0.6, counterweight: 5 kg":   {8, 0.6},   // does not balance
		"reach: 1.2, behind: 0.6":                        {8, 0.6},
		"reach: 1.2, counterweight: 6 kg":                {6, 0.8}, // where it must hang
	} {
		kg, at := BoomWeight(read(stand))
		require.NotNil(t, kg, stand)
		require.NotNil(t, at, stand)
		assert.InDelta(t, want[0], *kg, 1e-9, stand)
		assert.InDelta(t, want[1], *at, 1e-9, stand)
	}
	kg, at := BoomWeight(read("reach: 1.2"))
	assert.Nil(t, kg)
	assert.Nil(t, at)
}
