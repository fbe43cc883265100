package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/rebuild/heads"
	"stopleaf/setup"
)

// What --write proposes is taken by a gear file, whatever heads and modifiers are
// called, and says the same again to the tenth that is printed.
func TestGearProposesWhatIsRead(t *testing.T) {
	names := []string{"compact", "yes", "12", "1e5", "- a", `a "b": c`, "#7", "{x}", "a, b", "~", "Ä½", "null", "'", "*a"}
	mods := []string{"bowl 0.18", "softbox 3 ft x 2 ft", "octabox 1.2, grid 40, inner and front diffuser", "strip 12 in x 4 ft, grid", "bare", "{kind: \"# y: [z\", shines: disc, diameter: 1}"}
	dir := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		var b strings.Builder
		fmt.Fprintf(&b, "title: T\nunits: %s\nexposure: {key: f/8, iso: 100}\nlights:\n  - {role: key, source: continuous}\n", rapid.SampledFrom([]string{"m", "ft"}).Draw(t, "units"))
		for i := range rapid.IntRange(1, 6).Draw(t, "lights") {
			mod := rapid.SampledFrom(mods).Draw(t, "modifier")
			if mod[0] != '{' {
				mod = fmt.Sprintf("%q", mod)
			}
			fmt.Fprintf(&b, "  - {name: L%d, role: other, delta: %+.1f, power: %.1f, head: {name: %q}, place: {right: %.2f m, front: %.2f m, height: 1.8 m}, modifier: %s}\n",
				i, rapid.Float64Range(-3, 3).Draw(t, "delta"), -rapid.Float64Range(0, 6).Draw(t, "power"), rapid.SampledFrom(names).Draw(t, "head"),
				rapid.Float64Range(0.5, 3).Draw(t, "right"), rapid.Float64Range(0.5, 3).Draw(t, "front"), mod)
		}
		s, problems := setup.Parse("s.yaml", []byte(b.String()), setup.Options{NoPhotos: true})
		require.NotNil(t, s, "%v\n%s", problems, b.String())
		learned := heads.Learn([]*setup.Setup{s})
		require.NotEmpty(t, learned.Outputs)

		gear := proposedGear(learned)
		require.NoError(t, os.WriteFile(filepath.Join(dir, "gear.yaml"), gear, 0o600))
		with, problems := setup.Parse(filepath.Join(dir, "s.yaml"), []byte("title: T\ngear: gear.yaml\nlights: [{role: key}]"), setup.Options{NoPhotos: true})
		require.NotNil(t, with, "%v\n%s", problems, gear)
		again := heads.Learn([]*setup.Setup{with})
		for _, o := range learned.Outputs {
			got, ok := again.Find(o.Head, o.Modifier)
			if strings.Contains(o.Modifier, "[z") { // a kind that only "shines" tells of
				assert.False(t, ok)
				assert.Contains(t, string(gear), "takes no such modifier in words")
				continue
			}
			if o.Av > 13.95 { // f/128 is the most that a reading may be
				assert.False(t, ok)
				assert.Contains(t, string(gear), "than a reading can be")
				continue
			}
			require.True(t, ok, "%s %s\n%s", o.Head, o.Modifier, gear)
			assert.LessOrEqual(t, math.Abs(got.Av-o.Av), 0.05+1e-9)
		}
	})
}
