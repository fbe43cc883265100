package templates_test

import (
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"stopleaf/exposure"
	"stopleaf/setup"
	"stopleaf/setup/grammar"
	"stopleaf/templates"
)

func setups(t *testing.T, folder string) []string {
	t.Helper()
	names, err := templates.List(folder)
	require.NoError(t, err)
	var out []string
	for _, n := range names {
		if strings.HasSuffix(n, ".yaml") && n != "gear.yaml" {
			out = append(out, filepath.Join(folder, n))
		}
	}
	return out
}

// What is shipped reads without a word against it, and adds up.
func TestShippedSetupsAreClean(t *testing.T) {
	starters, demos := setups(t, "starters"), setups(t, "demo")
	assert.GreaterOrEqual(t, len(starters), 6)
	assert.Len(t, demos, 3)
	for _, file := range append(starters, demos...) {
		s, problems := setup.Read(file, setup.Options{})
		require.NotNil(t, s, "%s: %v", file, problems)
		assert.Empty(t, problems, file)
		bases, err := s.ChooseBases("")
		require.NoError(t, err, file)
		n := exposure.Compute(s.Input(bases))
		assert.Empty(t, setup.Check(s, &n), file)
	}
}

// Nothing that a rebuild would miss is missing from a demo.
func TestDemosAreWhole(t *testing.T) {
	for _, file := range setups(t, "demo") {
		s, _ := setup.Read(file, setup.Options{})
		require.NotNil(t, s, file)
		bases, err := s.ChooseBases("")
		require.NoError(t, err, file)
		n := exposure.Compute(s.Input(bases))
		assert.Empty(t, setup.Proof(s, &n), file)
	}
}

// elsewhere are objects and keys that a demo has no use for: files of testdata/ok
// use them, and a test of package setup reads those.
var elsewhere = map[string]bool{
	"exposure.zero": true, "setup.packs": true, "setup.looks": true, "gear.packs": true,
	"setup.house": true, "light.pack": true, "light.outlet": true, "look": true, "pack": true, "outlet": true,
}

// pointless are keys that every item takes and that say nothing on these, and
// the one for a modifier of one's own, which warns of itself.
var pointless = map[string]bool{
	"camera.private": true, "camera.trigger": true, "subject.trigger": true,
	"background.private": true, "background.trigger": true, "grip.trigger": true, "modifier.shines": true,
}

// Between them the demos use every key that the format has today.
func TestDemosUseEveryKey(t *testing.T) {
	used := map[string]bool{}
	names, err := templates.List("demo")
	require.NoError(t, err)
	for _, name := range names {
		if !strings.HasSuffix(name, ".yaml") {
			continue
		}
		b, err := templates.Read("demo/" + name)
		require.NoError(t, err)
		var doc yaml.Node
		require.NoError(t, yaml.Unmarshal(b, &doc))
		object := "setup"
		if name == "gear.yaml" {
			object = "gear"
		}
		mark(used, object, doc.Content[0])
	}
	var unused []string
	for _, o := range grammar.Objects() {
		for _, k := range o.Keys {
			if !elsewhere[o.Name] && !elsewhere[o.Name+"."+k.Name] && !pointless[o.Name+"."+k.Name] && !used[o.Name+"."+k.Name] {
				unused = append(unused, o.Name+"."+k.Name)
			}
		}
	}
	sort.Strings(unused)
	assert.Empty(t, unused)
}

func mark(used map[string]bool, object string, n *yaml.Node) {
	o := grammar.Find(object)
	switch {
	case o == nil:
	case n.Kind == yaml.SequenceNode:
		for _, item := range n.Content {
			mark(used, object, item)
		}
	case n.Kind == yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			if k := o.Key(grammar.Canonical(n.Content[i].Value)); k != nil {
				used[object+"."+k.Name] = true
				if k.Of != "" {
					mark(used, k.Of, n.Content[i+1])
				}
			}
		}
	}
}
