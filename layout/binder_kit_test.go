package layout_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/kit"
	"stopleaf/layout"
	"stopleaf/setup"
)

// The kit over all names the setups that need most of a thing and says so, and has
// what the house always packs; the checklist names every setup that needs it.
func TestKitOverAll(t *testing.T) {
	words := wording(t)
	one, problems := setup.Parse("one.yaml", []byte("title: One\ncode: K-1\nhouse: {always: [tape measure]}\nmains: {volts: 120}\nlights:\n  - {name: Key, role: key, modifier: bowl 0.18, head: {name: small, current: 10 A}}\n"), setup.Options{})
	require.NotNil(t, one, "%v", problems)
	two, problems := setup.Parse("two.yaml", []byte("title: Two\ncode: K-2\nmains: {volts: 230}\nlights:\n  - {name: Key, role: key, modifier: bowl 0.18, head: {name: small, current: 4 A}}\n"+
		"  - {name: Fill, role: fill, delta: 1 under, modifier: bowl 0.18, head: {name: small, current: 4 A}}\n"), setup.Options{})
	require.NotNil(t, two, "%v", problems)

	b := &layout.Binder{Title: "Kit", Words: words, Laid: func(*layout.BinderSetup, layout.Job) {},
		Open: func(*layout.BinderSetup) (layout.Job, []string, error) {
			return layout.Job{}, []string{"not here"}, nil
		},
		Sections: []layout.BinderSection{{Setups: []*layout.BinderSetup{
			{Path: "one.yaml", Code: "K-1", Title: "One", Setup: one}, {Path: "two.yaml", Code: "K-2", Title: "Two", Setup: two}}}}}
	require.NoError(t, b.Prepare())
	pages, starts := binderPages(t, b)
	text := textOf(pages[starts[len(starts)-1]:])
	assert.Contains(t, text, squeezed("tape measure"))
	assert.NotContains(t, text, squeezed(words.T("pack.for")), "no figure stands in brackets here")
	assert.Contains(t, text, squeezed("most in K-2: 8 A at 230 V"), "1840 VA are more than 1200")

	doc, err := layout.Pack(kit.For(one, two), words, layout.PackOptions{})
	require.NoError(t, err)
	list := textOf(doc.Pages)
	assert.Contains(t, list, squeezed(words.T("pack.for")))
	assert.Contains(t, list, squeezed("K-1 (1), K-2"))
	assert.True(t, strings.Contains(list, squeezed("most in K-2: 8 A at 230 V")))
}
