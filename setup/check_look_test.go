package setup

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const lookOut = `title: T
exposure: {key: f/8}
looks:
  - {name: Bright, delta: {Fill: +2}}
  - {name: Dim, delta: {Fill: -5}}
  - {name: Even, delta: {Wall L: -1}}
background: {distance: 2}
lights:
  - {name: Key, role: key}
  - {name: Fill, role: fill, delta: -1, head: {energy: 400, range: 5}, power: -2}
  - {name: Wall, role: background, pair: each, delta: 0}
`

// bare is a problem without its hint.
func bare(p Problem) string {
	p.Hint = ""
	return p.String()
}

// The fill at -2 goes 3 stops up in the one look, one over full, and 4 down in
// the other, to -6 of 5.
func TestLooksThatNoHeadCanGive(t *testing.T) {
	s, problems := Parse("t.yaml", []byte(lookOut), Options{})
	require.Empty(t, problems)
	n := numbers(t, s)
	var got []string
	for _, p := range Check(s, &n) {
		got = append(got, bare(p))
	}
	assert.Equal(t, []string{
		`t.yaml:4:20: warning: "Fill" would be 1.0 stops over full in the look "Bright"`,
		`t.yaml:5:17: warning: "Fill" would be 1.0 stops under its least in the look "Dim"`,
	}, got)
	for look, want := range map[string]string{
		"Bright": `t.yaml:10:72: warning: "Fill" would be 1.0 stops over full in the look "Bright"`,
		"Dim":    `t.yaml:10:72: warning: "Fill" is at 1/64, and its head goes down 5 stops from full`,
		"Even":   "",
	} {
		in, err := s.WithLook(look)
		require.NoError(t, err)
		n := numbers(t, in)
		found := Check(in, &n)
		if want == "" {
			assert.Empty(t, found, look)
			continue
		}
		require.Len(t, found, 1, look)
		assert.Equal(t, want, bare(found[0]))
	}
}

// What a rebuild would miss of a pack and of a zero that was not read.
func TestProofOfPacksAndZeros(t *testing.T) {
	s, problems := Parse("t.yaml", []byte("title: T\nexposure: {zero: Window}\npacks: [{name: p}]\nlights:\n"+
		"  - {name: Window, source: daylight, role: other}\n  - {name: Fill, role: fill, delta: -1, pack: p}\n"), Options{})
	require.Empty(t, problems)
	n := numbers(t, s)
	codes := map[string]string{}
	for _, p := range Proof(s, &n) {
		codes[p.Code] = bare(p)
	}
	assert.Equal(t, `t.yaml:2:12: missing: what "Window" reads is not written: the differences are known, and not the aperture or the power they were found at`, codes["no-key-reading"])
	assert.Equal(t, `t.yaml:3:9: missing: the pack "p" has no energy or no range: whether its heads can do another aperture is not known`, codes["no-range"])
	assert.Equal(t, `t.yaml:3:9: missing: the pack "p" has no current: what its circuit carries is not known`, codes["no-current"])
	assert.NotContains(t, codes, "no-head", "the pack says what its power means")
}
