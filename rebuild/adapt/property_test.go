package adapt

import (
	"errors"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stopleaf/exposure"
	"stopleaf/internal/randomset"
	"stopleaf/setup"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// onMany runs a check on every demo, every starter and on random sets: a few, or as
// many as said where STOPLEAF_CI is set. done says whether the set could be used. turn
// counts the random sets, and is -1 for the others: see some.
func onMany(t *testing.T, most int, check func(t require.TestingT, name, src string, turn int) (done bool)) {
	used, all := 0, 0
	for name, src := range corpus(t) {
		all++
		if check(t, name, src, -1) {
			used++
		}
	}
	assert.Greater(t, used, all/3, "of the demos and starters")
	used, all = 0, 0
	sets, many := randomset.Setups(1, 12), 25
	if os.Getenv("STOPLEAF_CI") != "" {
		many = most
	}
	for seed := range many {
		if check(t, "set.yaml", sets.Example(seed).YAML(), seed) {
			used++
		}
	}
	assert.Greater(t, used, many/6, "of %d random sets", many)
}

// some gives all of a list for a demo or a starter, and n of it for a random set, in
// turn.
func some[T any](list []T, n, turn int) []T {
	if turn < 0 {
		return list
	}
	var out []T
	for i := range n {
		out = append(out, list[(turn*n+i)%len(list)])
	}
	return out
}

func run(t require.TestingT, name, src string, o Options) *Result {
	o.Read = setup.Options{NoPhotos: true, AllowOutside: true}
	s, problems := setup.Parse(name, []byte(src), o.Read)
	require.NotNil(t, s, "%v", problems)
	o.Problems = problems
	r, err := Adapt(s, []byte(src), o)
	var no *Refusal
	if errors.As(err, &no) {
		return nil
	}
	require.NoError(t, err, src)
	for _, w := range r.Warned {
		require.NotEqual(t, "not-written", w.Code, "%s\n%s", w.Message, r.Source)
	}
	return r
}

// lost is what results say they could not keep: the names of items, in lower case,
// and "exposure". ok is false where that makes another set of it.
func lost(rs ...*Result) (items map[string]bool, ok bool) {
	items = map[string]bool{}
	for _, r := range rs {
		if r == nil {
			return nil, false
		}
		for _, w := range r.Warned {
			_, name, _ := strings.Cut(finding(w), " ")
			switch w.Code {
			case "base":
				return nil, false
			case "ambient", "widest", "bases":
				items["exposure"] = true
			case "over-full", "no-power", "no-dimmer", "below-range", "not-held", "under-floor", "turned", "daylight", "pair-crosses":
				items[name] = true
				items["exposure"] = items["exposure"] || w.Code == "not-held"
			}
		}
	}
	return items, true
}

// To another base and back is the same setup, to the byte where the notation
// allows, and for the figures within what a dial and a camera round to.
func TestBaseAndBack(t *testing.T) {
	t.Parallel()
	onMany(t, 1000, func(t require.TestingT, name, src string, turn int) bool {
		s, _ := setup.Parse(name, []byte(src), setup.Options{NoPhotos: true, AllowOutside: true})
		if s.Exposure.KeyAv == nil {
			return false
		}
		key := *s.Exposure.KeyAv
		done := false
		for _, by := range some([]float64{-1, 1, 1.0 / 3, -0.4}, 1, turn) {
			there := run(t, name, src, Options{BaseAv: v(key + by)})
			if _, ok := lost(there); !ok || dialAndShutter(s, there.Setup) {
				continue
			}
			back := run(t, name, string(there.Source), Options{BaseAv: v(key)})
			gone, ok := lost(there, back)
			if !ok || dialAndShutter(s, back.Setup) {
				continue
			}
			done = true
			same(t, s, back.Setup, src, 0.051, gone)
			if math.Abs(by) == 1 && len(gone) == 0 && onSteps(s) {
				require.Equal(t, body([]byte(src)), unest(body(back.Source)), "by %v", by)
			}
		}
		return done
	})
}

// dialAndShutter reports whether a continuous light could be led back by its dial
// as well as by the shutter, which gives another setup of the same light.
func dialAndShutter(a, b *setup.Setup) bool {
	if a.Exposure.ShutterS == nil || math.Abs(*a.Exposure.ShutterS-*b.Exposure.ShutterS) < 1e-9 {
		return false
	}
	return slices.ContainsFunc(a.Lights, func(l setup.Light) bool {
		return l.Source == exposure.Continuous && (l.Power != nil || l.Dimmer != nil)
	})
}

// onSteps reports whether the powers of a setup are such as its heads click to.
func onSteps(s *setup.Setup) bool {
	in := s.Input(nil)
	for i := range s.Lights {
		if p := s.Lights[i].Power; p != nil && math.Abs(clicked(*p, in.Lights[i].Head)-*p) > 1e-9 {
			return false
		}
	}
	if a := s.Exposure.ApertureAv; a != nil {
		steps := 3.0
		if s.Exposure.Halves {
			steps = 2
		}
		if math.Abs(*a*steps-math.Round(*a*steps)) > 1e-6 {
			return false
		}
	}
	return true
}

// unest takes the comments off that mark an estimate.
func unest(src string) string {
	lines := strings.Split(src, "\n")
	for i, l := range lines {
		if at := strings.Index(l, "  # power est."); at >= 0 {
			lines[i] = l[:at]
		}
	}
	return strings.Join(lines, "\n")
}

// same compares two setups as meant: powers within a slack in stops, readings and
// differences within a hundredth, places within two centimetres.
func same(t require.TestingT, a, b *setup.Setup, src string, power float64, gone map[string]bool) {
	near := func(x, y *float64, slack float64, what string) {
		require.Equal(t, x == nil, y == nil, "%s\n%s", what, src)
		if x != nil {
			require.InDelta(t, *x, *y, slack, "%s\n%s", what, src)
		}
	}
	near(a.Exposure.KeyAv, b.Exposure.KeyAv, 0.011, "key")
	near(a.Exposure.ISO, b.Exposure.ISO, 0, "iso")
	if !gone["exposure"] {
		near(a.Exposure.ApertureAv, b.Exposure.ApertureAv, 0.17, "aperture")
		near(a.Exposure.AmbientAv, b.Exposure.AmbientAv, 0.17, "ambient")
	}
	near(a.Camera.Distance, b.Camera.Distance, 0.002, "camera")
	require.Len(t, b.Lights, len(a.Lights))
	for i := range a.Lights {
		x, y := &a.Lights[i], &b.Lights[i]
		require.Equal(t, x.Name, y.Name)
		if gone[strings.ToLower(called(x))] || gone[strings.ToLower(x.Name)] || slow(x) && gone["exposure"] {
			continue
		}
		require.InDelta(t, x.Delta, y.Delta, 0.011, "delta of %s\n%s", x.Name, src)
		near(x.Power, y.Power, power, "power of "+x.Name)
		if x.Dimmer != nil && y.Dimmer != nil {
			require.InDelta(t, 0, math.Log2(*x.Dimmer / *y.Dimmer), 0.02)
		}
		samePlace(t, x.Place, y.Place, x.Name+"\n"+src)
	}
	require.Len(t, b.Grip, len(a.Grip))
	for i := range a.Grip {
		x, y := copied(a.Grip[i].Place), copied(b.Grip[i].Place)
		if x != nil && y != nil { // one near the floor may come to stand on it
			x.Height, y.Height = nil, nil
		}
		samePlace(t, x, y, a.Grip[i].Name+"\n"+src)
	}
}

func samePlace(t require.TestingT, a, b *setup.Place, what string) {
	require.Equal(t, a == nil, b == nil, what)
	if a == nil {
		return
	}
	slack := math.Max(0.02, 0.01*a.Distance())
	require.InDelta(t, a.Right, b.Right, slack, what)
	require.InDelta(t, a.Front, b.Front, slack, what)
	require.Equal(t, a.Height == nil, b.Height == nil, what)
	if a.Height != nil {
		require.InDelta(t, *a.Height, *b.Height, slack, what)
	}
}

// Mirrored twice is the file as it was, and once it is its mirror image.
func TestMirror(t *testing.T) {
	t.Parallel()
	onMany(t, 300, func(t require.TestingT, name, src string, turn int) bool {
		s, _ := setup.Parse(name, []byte(src), setup.Options{NoPhotos: true, AllowOutside: true})
		once := run(t, name, src, Options{Mirror: true})
		mirrorImage(t, s, once.Setup, src)
		twice := run(t, name, string(once.Source), Options{Mirror: true})
		require.Equal(t, body([]byte(src)), body(twice.Source))
		return true
	})
	files, err := filepath.Glob("../../testdata/ok/*.yaml")
	require.NoError(t, err)
	for _, f := range files {
		src, err := os.ReadFile(f)
		require.NoError(t, err)
		s, _ := setup.Parse(f, src, setup.Options{NoPhotos: true, AllowOutside: true})
		if s == nil || strings.Contains(f, "alias") {
			continue // an alias is untied by the first edit
		}
		once := run(t, f, string(src), Options{Mirror: true})
		mirrorImage(t, s, once.Setup, f)
		twice := run(t, f, string(once.Source), Options{Mirror: true})
		require.Equal(t, body(src), body(twice.Source), f)
	}
}

// mirrorImage holds that for every light there is one that is its mirror image,
// with the same difference, power, aim and boom.
func mirrorImage(t require.TestingT, a, b *setup.Setup, src string) {
	type image struct {
		role                  string
		delta, power          float64
		x, y, z, ax, ay, az   float64
		bx, by                float64
		deg                   float64
		toward                string
		placed, aimed, boomed bool
	}
	of := func(l *setup.Light, k float64) image {
		m := image{role: l.Role, delta: l.Delta}
		if l.Power != nil {
			m.power = *l.Power
		}
		if p := l.Place; p != nil {
			m.placed, m.x, m.y = true, k*p.Right, p.Front
			if p.Height != nil {
				m.z = *p.Height
			}
		}
		if !l.Aim.Unknown {
			m.aimed, m.ax, m.ay, m.az = true, k*l.Aim.Right, l.Aim.Front, l.Aim.Height
		}
		if f := l.Aim.Feather; f != nil {
			m.deg, m.toward = f.Deg, f.Toward
			if k < 0 {
				m.toward = flipSide(f.Toward)
			}
		}
		if l.Stand != nil && l.Stand.Base != nil {
			m.boomed, m.bx, m.by = true, k*l.Stand.Base.Right, l.Stand.Base.Front
		}
		return m
	}
	near := func(x, y float64) bool { return math.Abs(x-y) < 1e-6 }
	alike := func(m, n image) bool {
		return m.role == n.role && near(m.delta, n.delta) && near(m.power, n.power) && m.placed == n.placed && m.aimed == n.aimed && m.boomed == n.boomed &&
			near(m.x, n.x) && near(m.y, n.y) && near(m.z, n.z) && near(m.ax, n.ax) && near(m.ay, n.ay) && near(m.az, n.az) &&
			near(m.bx, n.bx) && near(m.by, n.by) && m.deg == n.deg && m.toward == n.toward
	}
	require.Len(t, b.Lights, len(a.Lights))
	taken := make([]bool, len(b.Lights))
	for i := range a.Lights {
		want := of(&a.Lights[i], -1)
		found := false
		for j := range b.Lights {
			if !taken[j] && alike(want, of(&b.Lights[j], 1)) {
				taken[j], found = true, true
				break
			}
		}
		require.True(t, found, "no mirror image of %s: %+v\n%s", a.Lights[i].Name, want, src)
	}
	for i := range a.Grip {
		p, q := a.Grip[i].Place, b.Grip[i].Place
		require.Equal(t, p == nil, q == nil)
		if p != nil {
			require.InDelta(t, -p.Right, q.Right, 1e-6, src)
			require.InDelta(t, p.Front, q.Front, 1e-6, src)
		}
	}
	require.InDelta(t, -a.Subject.Turned, b.Subject.Turned, 1e-9)
}

// Distances times k and then 1/k is the setup as it was.
func TestScaleAndBack(t *testing.T) {
	t.Parallel()
	onMany(t, 300, func(t require.TestingT, name, src string, turn int) bool {
		s, _ := setup.Parse(name, []byte(src), setup.Options{NoPhotos: true, AllowOutside: true})
		k := 0.8
		there := run(t, name, src, Options{Scale: k})
		if there == nil {
			return false
		}
		back := run(t, name, string(there.Source), Options{Scale: 1 / k})
		gone, ok := lost(there, back)
		if ok {
			same(t, s, back.Setup, src, 0.11, gone)
		}
		return ok
	})
}

// Whatever is asked for, the new file reads without errors, says what was planned,
// and its lights have the differences they had, but for those that are said to
// have another.
func TestEverything(t *testing.T) {
	list := []Options{
		{BaseAv: v(5)}, {BaseAv: v(3), Mirror: true}, {ISO: v(400)}, {ShutterS: v(1. / 64)}, {Scale: 1.3}, {Scale: 0.7, BaseAv: v(6)},
		{Room: setup.Room{Left: v(1.8), Right: v(2), Front: v(3), Behind: v(2), Ceiling: v(2.4)}},
		{Room: setup.Room{Ceiling: v(2.2)}, Mirror: true}, {FaceM: v(1.15)}, {LensMM: v(50)},
		{BaseAv: v(4), ISO: v(800), Mirror: true, FaceM: v(1.2), LensMM: v(35), Scale: 0.9, Room: setup.Room{Left: v(2), Ceiling: v(2.5)}},
	}
	t.Parallel()
	onMany(t, 400, func(t require.TestingT, name, src string, turn int) bool {
		s, _ := setup.Parse(name, []byte(src), setup.Options{NoPhotos: true, AllowOutside: true})
		done := false
		for _, o := range append(some(list, 1, turn), anything(src)) {
			r := run(t, name, src, o)
			if r == nil {
				continue
			}
			done = true
			if o.Mirror {
				continue // lights change names
			}
			was, now := numbers(s), numbers(r.Setup)
			for i := range was.Lights {
				if slices.ContainsFunc(r.Warned, func(w setup.Problem) bool {
					return w.Code == "not-held" && strings.Contains(w.Message, called(&s.Lights[i]))
				}) {
					continue
				}
				require.InDelta(t, was.Lights[i].Delta, now.Lights[i].Delta, 0.0151, "%s, %+v\n%s", was.Lights[i].Name, o, r.Source)
			}
		}
		return done
	})
}

// anything draws options for a set.
func anything(src string) Options {
	h := fnv.New64()
	h.Write([]byte(src))
	r := rand.New(rand.NewPCG(h.Sum64(), 4))
	maybe := func(values ...float64) *float64 {
		if r.IntN(3) > 0 {
			return nil
		}
		return &values[r.IntN(len(values))]
	}
	o := Options{
		BaseAv: maybe(1, 3.4, 5, 6, 7.7, 10), ISO: maybe(50, 100, 640, 3200), ShutterS: maybe(1./512, 1./128, 1./30, 2),
		Room:  setup.Room{Left: maybe(0.6, 1.5, 3), Right: maybe(0.6, 1.5, 3), Front: maybe(0.6, 2, 5), Behind: maybe(0.6, 1.5, 3), Ceiling: maybe(1.9, 2.3, 3)},
		FaceM: maybe(0.3, 1.1, 1.8), LensMM: maybe(24, 50, 200), Mirror: r.IntN(3) == 0,
	}
	if k := maybe(0.5, 0.8, 1.5); k != nil {
		o.Scale = *k
	}
	return o
}

// The new file differs from the old in the values that are listed, and in its
// head; comments and order stay.
func TestOnlyWhatIsListed(t *testing.T) {
	for name, src := range corpus(t) {
		for _, o := range []Options{{BaseAv: v(4)}, {ISO: v(400), ShutterS: v(1. / 64)}, {Scale: 0.8}, {FaceM: v(1.15)}, {LensMM: v(50)}, {Mirror: true},
			{Room: setup.Room{Left: v(1.5), Right: v(1.5), Front: v(3), Behind: v(1.5), Ceiling: v(2.3)}}} {
			r := run(t, name, src, o)
			if r == nil {
				continue
			}
			before, after := flat(t, []byte(src)), flat(t, r.Source)
			listed := map[string]bool{}
			for _, c := range r.Changes {
				listed[c.What] = true
				for _, word := range strings.Fields(c.What) {
					listed[word] = true
				}
			}
			for _, path := range append(sorted(before), sorted(after)...) {
				if before[path] == after[path] {
					continue
				}
				keys := strings.Split(path, "/")
				found := slices.ContainsFunc(keys, func(k string) bool { return listed[k] })
				assert.True(t, found, "%s: %s: %q to %q is not among %v", name, path, before[path], after[path], r.Changes)
			}
			var kept []string
			for _, c := range comments(r.Source) {
				if !strings.HasPrefix(c, "# power est.") {
					kept = append(kept, c)
				}
			}
			gone := 0
			for _, c := range r.Changes {
				if c.To == "" {
					gone++
				}
			}
			if gone == 0 {
				assert.Equal(t, comments([]byte(src)), kept, name)
			}
			assert.Equal(t, "# adapted from", string(r.Source[:14]), name)
		}
	}
}

// The light is where the room is, and what it gave is what it gives: by the
// emission of its own size.
func TestRoomProperty(t *testing.T) {
	t.Parallel()
	onMany(t, 400, func(t require.TestingT, name, src string, turn int) bool {
		room := setup.Room{Left: v(1.9), Right: v(1.9), Front: v(3), Behind: v(2), Ceiling: v(2.3)}
		r := run(t, name, src, Options{Room: room})
		if r == nil {
			return false
		}
		for _, w := range checked(r.Setup) {
			_, item, _ := strings.Cut(finding(w), " ")
			switch w.Code {
			case "outside-room", "above-ceiling", "through-wall":
				head := strings.ToLower(strings.TrimSuffix(string(r.Source), body(r.Source)))
				require.Contains(t, head, strings.TrimSuffix(strings.TrimSuffix(strings.TrimSuffix(item, "..."), " l"), " r"), "%s\n%s", w.Message, r.Source)
			}
		}
		return true
	})
}
