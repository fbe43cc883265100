package safety_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

// What is said of one light among the cautions of the set is said on its own;
// a merged caution is said to each it names, and nothing of the others.
func TestOwn(t *testing.T) {
	words, err := templates.Load("en")
	require.NoError(t, err)
	for _, name := range []string{"bread", "coat", "ink"} {
		s, problems := setup.Read("../templates/demo/"+name+".yaml", setup.Options{NoPhotos: true})
		require.NotNil(t, s, "%v", problems)
		bases, err := s.ChooseBases("")
		require.NoError(t, err)
		n := exposure.Compute(s.Input(bases))
		items := []string{}
		for _, l := range s.Lights {
			items = append(items, l.Name)
		}
		for _, g := range s.Grip {
			items = append(items, g.Name)
		}
		for _, item := range items {
			own := map[string]safety.Note{}
			for _, note := range safety.Own(s, &n, words, item) {
				own[note.Text] = note
				assert.Contains(t, []string{item, ""}, note.Light)
			}
			for _, note := range safety.Notes(s, &n, words) {
				if note.Light == item && s.Mains.Circuit(item) == nil {
					assert.Contains(t, own, note.Text, "%s, %s", name, item)
				}
			}
		}
	}
	s, problems := setup.Parse("a.yaml", []byte("title: A\nlights:\n"+
		"  - {name: Key, role: key, place: '30 left, 1 m, 2.5 high', stand: {kind: boom, reach: 1}}\n"+
		"  - {name: Low, role: fill, delta: -1, place: '30 right, 1 m, 0.5 high', stand: {kind: stand, footprint: 1, mass: 4}, head: {kind: head, mass: 1}}\n"+
		"  - {name: Boom 2, role: hair, delta: -1, stand: {kind: boom, reach: 1}}\n"), setup.Options{})
	require.NotNil(t, s, "%v", problems)
	codes := func(item string) (out []string) {
		for _, note := range safety.Own(s, nil, words, item) {
			out = append(out, note.Code)
			assert.NotContains(t, note.Text, "Boom 2, ")
			assert.NotContains(t, note.Text, ", Boom 2")
		}
		return out
	}
	assert.Equal(t, []string{"overhead", "boom-balance", "boom-order", "bag-plain"}, codes("Key"))
	assert.Empty(t, codes("Low"))
	assert.Empty(t, codes("nobody"))
}
