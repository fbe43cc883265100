package setup

import (
	"fmt"
	"strings"

	"stopleaf/setup/grammar"
)

// placeSpec is a place as written, read but not yet solved: it may lean on the
// camera, on another item or on the tilt of the light itself.
type placeSpec struct {
	w    *written
	form string // as Place.Form
	deg  float64
	side int // -1 left, 1 right, 0 neither said nor needed

	distance, slant *float64 // m
	right, front    float64  // m
	tapes           []tapeSpec
	ref             string // under, over: the light
	refPos          Pos

	height    *float64 // m
	lowerEdge bool     // height is that of the lower edge
	mirrored  bool     // the other one of a pair
}

type tapeSpec struct {
	from   string
	length float64
	pos    Pos
}

// place reads a place in any of its forms; nil when it is wrong or not there.
// In a pair the side may be left out.
func (m *meaning) place(w *written, pair bool) *placeSpec {
	switch {
	case w == nil:
		return nil
	case w.kind == isMap:
		return m.longPlace(w, pair)
	case !m.isText(w, "place"):
		return nil
	}
	return m.shortPlace(w, pair)
}

// placeForms are the ways of saying where, by the key that begins them, with
// the keys that belong to each.
func placeForms() []struct {
	form string
	keys []string
} {
	return []struct {
		form string
		keys []string
	}{
		{"angle", []string{"angle", "distance", "slant"}},
		{"clock", []string{"clock", "distance", "slant"}},
		{"tape", []string{"tape", "side"}},
		{"under", []string{"under"}},
		{"over", []string{"over"}},
		{"cartesian", []string{"left", "right", "front", "behind"}},
	}
}

func (m *meaning) longPlace(w *written, pair bool) *placeSpec {
	p := &placeSpec{w: w}
	var belongs []string
	for _, f := range placeForms() {
		if w.has(f.keys[0]) || f.form == "cartesian" && anyKey(w, f.keys) {
			p.form, belongs = f.form, f.keys
			break
		}
	}
	if p.form == "" {
		m.noForm(w)
		return nil
	}
	for _, f := range w.fields {
		if f.name != "height" && f.name != "height to" && among(f.name, belongs) == "" {
			m.err(f.pos, "two-places", fmt.Sprintf("%q does not go with %q in one place", f.name, firstKey(w, belongs)),
				"one way of saying where is enough: angle or clock with distance or slant; left or right with front or behind; tape with side; under or over")
			return nil
		}
	}
	before := len(m.problems)
	m.readForm(p, w, pair)
	p.height = m.length(w.get("height"))
	p.lowerEdge = m.word(w.get("height to"), wordsOf("place", "height to")) == "lower edge"
	if p.lowerEdge && !w.has("height") {
		m.err(w.keyPos("height to"), "no-height", "\"height to\" stands without \"height\"", "write the height that was taped")
	}
	if m.newErrors(before) || !p.whole() {
		return nil
	}
	return p
}

// whole reports whether all that the form needs was understood.
func (p *placeSpec) whole() bool {
	switch p.form {
	case "angle", "clock":
		return p.distance != nil || p.slant != nil && p.height != nil
	case "tape":
		return len(p.tapes) >= 2
	case "under", "over":
		return p.ref != ""
	}
	return true
}

// newErrors reports whether an error came since the log was so long.
func (m *meaning) newErrors(since int) bool {
	return m.problems[since:].HasErrors()
}

func anyKey(w *written, keys []string) bool {
	for _, k := range keys {
		if w.has(k) {
			return true
		}
	}
	return false
}

func firstKey(w *written, keys []string) string {
	for _, k := range keys {
		if w.has(k) {
			return k
		}
	}
	return keys[0]
}

func (m *meaning) noForm(w *written) {
	hint := "write angle or clock with distance, left or right with front or behind, tapes, or under or over another light"
	switch {
	case w.has("distance") || w.has("slant"):
		m.err(w.pos, "no-direction", "a place has a distance and no direction", "add angle: 55 left, or clock: 7:30")
	case w.has("side"):
		m.err(w.keyPos("side"), "no-tape", "\"side\" stands without \"tape\"", hint)
	default:
		m.err(w.pos, "no-place", "a place does not say where", hint)
	}
}

func (m *meaning) readForm(p *placeSpec, w *written, pair bool) {
	switch p.form {
	case "angle":
		if t := w.get("angle"); m.isText(t, "angle") {
			m.setAngle(p, t, pair)
		}
		m.setReach(p, w)
	case "clock":
		if t := w.get("clock"); m.isText(t, "clock") {
			m.setClock(p, t)
		}
		m.setReach(p, w)
	case "cartesian":
		m.setCartesian(p, w)
	case "tape":
		m.setTapes(p, w)
	case "under", "over":
		if t := w.get(p.form); m.isText(t, "name") {
			p.ref, p.refPos = line(t), t.pos
		}
	}
}

func (m *meaning) setAngle(p *placeSpec, t *written, pair bool) {
	deg, side, err := parseAngle(t.text)
	if err == nil && side == 0 && deg != 0 && deg != 180 && !pair {
		err = fmt.Errorf("%s does not say on which side: write %s left or %s right", quote(t.text), short(deg), short(deg))
	}
	if err != nil {
		m.bad(t.pos, "angle", err)
	}
	p.deg, p.side = deg, side
}

func (m *meaning) setClock(p *placeSpec, t *written) {
	deg, side, err := parseClock(t.text)
	if err != nil {
		m.bad(t.pos, "clock", err)
	}
	p.deg, p.side = deg, side
}

func (m *meaning) setReach(p *placeSpec, w *written) {
	p.distance, p.slant = m.length(w.get("distance")), m.length(w.get("slant"))
	switch {
	case w.has("distance") && w.has("slant"):
		m.err(w.keyPos("slant"), "two-places", "\"slant\" does not go with \"distance\" in one place", "one way of saying how far is enough")
	case !w.has("distance") && !w.has("slant"):
		m.err(w.pos, "no-distance", "a place has a direction and no distance", "add distance, along the floor, or slant, the tape from the face to the light's centre")
	case w.has("slant") && !w.has("height"):
		m.err(w.keyPos("slant"), "no-height", "\"slant\" needs \"height\"", "without the height the tape from the face does not say how far it is along the floor")
	}
}

func (m *meaning) setCartesian(p *placeSpec, w *written) {
	for _, pair := range [][2]string{{"left", "right"}, {"front", "behind"}} {
		if w.has(pair[0]) && w.has(pair[1]) {
			m.err(w.keyPos(pair[1]), "two-places", fmt.Sprintf("%q does not go with %q in one place", pair[1], pair[0]), "keep one")
		}
	}
	value := func(key string) float64 {
		if v := m.length(w.get(key)); v != nil {
			return *v
		}
		return 0
	}
	p.right = value("right") - value("left")
	p.front = value("front") - value("behind")
	switch {
	case w.has("left"):
		p.side = -1
	case w.has("right"):
		p.side = 1
	}
}

func (m *meaning) setTapes(p *placeSpec, w *written) {
	t := w.get("tape")
	if t == nil {
		return
	}
	for _, f := range t.fields {
		if v := m.length(f.value); v != nil {
			p.tapes = append(p.tapes, tapeSpec{f.name, *v, f.pos})
		}
	}
	if len(t.fields) < 2 {
		m.err(t.pos, "one-tape", "one tape does not say where", "write two or more: {subject: 1.2, camera: 2.6}, and the side")
	}
	if len(t.fields) > 12 {
		m.err(t.pos, "too-many-tapes", "more than 12 tapes for one place", "keep the best of them")
	}
	switch m.word(w.get("side"), wordsOf("place", "side")) {
	case "left":
		p.side = -1
	case "right":
		p.side = 1
	}
}

// shortPlace reads "55 left, 1.4 m, 2.15 high", "7:30, 1.4 m, 2.15 high",
// "1.3 left, 0.9 behind, 1.2 high", "under Key, 1.1 high".
func (m *meaning) shortPlace(w *written, pair bool) *placeSpec {
	p := &placeSpec{w: w}
	before := len(m.problems)
	var where []*written
	for _, part := range parts(w.text) {
		piece := &written{pos: w.pos, kind: isText, text: part}
		low := strings.ToLower(part)
		switch {
		case part == "":
			m.err(w.pos, "bad-place", "two commas stand together, or one at the end", "write 55 left, 1.4 m, 2.15 high")
		case strings.HasSuffix(low, " high") || strings.HasSuffix(low, " up"):
			m.setShortHeight(p, piece, part[:strings.LastIndexByte(part, ' ')])
		case strings.HasSuffix(low, " to lower edge"):
			p.lowerEdge = true
			m.setShortHeight(p, piece, part[:len(part)-len(" to lower edge")])
		default:
			where = append(where, piece)
		}
	}
	if !m.newErrors(before) {
		m.shortWhere(p, w, where, pair)
	}
	if m.newErrors(before) || !p.whole() {
		return nil
	}
	return p
}

func (m *meaning) setShortHeight(p *placeSpec, w *written, text string) {
	if p.height != nil {
		m.err(w.pos, "two-heights", "the place has two heights", "keep one")
		return
	}
	p.height = m.length(&written{pos: w.pos, kind: isText, text: strings.TrimSpace(text)})
}

func (m *meaning) shortWhere(p *placeSpec, w *written, where []*written, pair bool) {
	bad := func() {
		m.err(w.pos, "bad-place", quote(w.text)+" is not a place", "write angle and side or clock, distance, height: 55 left, 1.4 m, 2.15 high")
	}
	if len(where) == 3 && p.height == nil {
		m.err(w.pos, "no-high", quote(w.text)+" has a third figure that says nothing of itself", "a height is followed by the word: 55 left, 1.4 m, 2.15 high")
		return
	}
	if len(where) == 0 || len(where) > 2 {
		bad()
		return
	}
	first := where[0]
	low := strings.ToLower(first.text)
	for _, form := range []string{"under", "over"} {
		if strings.HasPrefix(low, form+" ") {
			if len(where) != 1 {
				bad()
				return
			}
			p.form, p.ref, p.refPos = form, strings.TrimSpace(first.text[len(form):]), w.pos
			return
		}
	}
	if m.shortCartesian(p, w, where) {
		return
	}
	if len(where) == 1 {
		m.err(w.pos, "no-distance", quote(w.text)+" does not say how far", "write the distance along the floor after the angle: 55 left, 1.4 m, 2.15 high")
		return
	}
	if strings.Contains(low, ":") || strings.Contains(low, "o'clock") {
		p.form = "clock"
		m.setClock(p, first)
	} else {
		p.form = "angle"
		m.setAngle(p, first, pair)
	}
	p.distance = m.length(where[1])
}

// shortCartesian takes the form in lengths, which is known by front or behind,
// or by a unit before left or right.
func (m *meaning) shortCartesian(p *placeSpec, w *written, where []*written) bool {
	fields := map[string]*written{}
	lengths := false
	for _, piece := range where {
		low := grammar.Canonical(piece.text)
		i := strings.LastIndexByte(low, ' ')
		if i < 0 {
			return false
		}
		way := low[i+1:]
		if among(way, []string{"left", "right", "front", "behind"}) == "" {
			return false
		}
		amount := strings.TrimSpace(piece.text[:len(piece.text)-len(way)])
		if way == "front" || way == "behind" || strings.ContainsAny(strings.ToLower(amount), "mfi'\"") {
			lengths = true
		}
		fields[way] = &written{pos: piece.pos, kind: isText, text: amount}
	}
	if !lengths {
		return false
	}
	as := &written{pos: w.pos, kind: isMap}
	for _, way := range []string{"left", "right", "front", "behind"} {
		if v := fields[way]; v != nil {
			as.fields = append(as.fields, field{way, w.pos, v})
		}
	}
	if len(as.fields) < len(where) {
		m.err(w.pos, "two-places", quote(w.text)+" says the same way twice", "keep one")
		return true
	}
	p.form = "cartesian"
	m.setCartesian(p, as)
	return true
}

// forSide is the place of one of a pair: side -1 is L, 1 is R.
func (p *placeSpec) forSide(side int) *placeSpec {
	if p == nil {
		return nil
	}
	out := *p
	wrote := p.side
	if wrote == 0 {
		wrote = -1
	}
	out.mirrored = side != wrote
	switch p.form {
	case "angle", "clock", "tape":
		out.side = side
	case "cartesian":
		out.side = side
		if p.right < 0 {
			out.right = -p.right
		}
		out.right *= float64(side)
	}
	return &out
}
