package layout

import (
	"math"
	"slices"
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/safety"
	"stopleaf/setup"
)

// cameraBlock is the line for camera, exposure and frame.
func cameraBlock(job Job, f *format) *paragraphs {
	w, s, n := job.Words, job.Setup, job.Numbers
	var camera []string
	put := func(dst *[]string, v *float64, text func(float64) string) {
		if v != nil {
			*dst = append(*dst, text(*v))
		}
	}
	put(&camera, s.Exposure.ISO, func(v float64) string { return w.T("camera.iso", "iso", trimFloat(v)) })
	put(&camera, s.Exposure.ShutterS, timeText)
	put(&camera, s.Exposure.WhiteBalance, func(v float64) string { return w.T("camera.kelvin", "k", whole(v)) })
	put(&camera, s.Camera.FocalMM, func(v float64) string { return w.T("camera.lens", "mm", trimFloat(v)) })
	if s.Camera.Given {
		held := w.T("camera.level")
		if s.Camera.Upright {
			held = w.T("camera.upright")
		}
		if s.Camera.FrameGiven || s.Camera.FormatGiven {
			camera = append(camera, w.T("camera.format", "w", trimFloat(s.Camera.FormatW), "h", trimFloat(s.Camera.FormatH), "held", held))
		}
	}
	u := s.Units
	put(&camera, s.Camera.Distance, func(v float64) string { return w.T("camera.distance", "d", setup.FormatLength(v, u)) })
	put(&camera, s.Camera.Height, func(v float64) string { return w.T("camera.height", "h", setup.FormatLength(v, u)) })
	if bg := s.Background; bg != nil {
		put(&camera, bg.Distance, func(v float64) string { return w.T("camera.background", "d", setup.FormatLength(v, u)) })
	}
	var frame []string
	if f := n.Camera.FrameM.AtSubject; f.Width != nil && f.Height != nil {
		frame = append(frame, w.T("camera.frame", "w", setup.FormatLength(*f.Width, u), "h", setup.FormatLength(*f.Height, u)))
	}
	if f := n.Camera.FrameM.AtBackground; f.Width != nil && f.Height != nil {
		frame = append(frame, w.T("camera.frame-background", "w", setup.FormatLength(*f.Width, u), "h", setup.FormatLength(*f.Height, u)))
	}
	if m := n.Camera.Magnification; m != nil && n.Camera.LossStops != nil {
		frame = append(frame, w.T("camera.magnification", "m", trimFloat(math.Round(*m*100)/100), "stops", strings.TrimPrefix(apex.FormatSigned(*n.Camera.LossStops), "+")))
	}
	for _, d := range n.Camera.DepthOfField {
		if d.NearM == nil {
			continue
		}
		far := w.T("camera.infinity")
		if d.FarM != nil {
			far = setup.FormatLength(*d.FarM, u)
		}
		frame = append(frame, w.T("camera.depth", "base", job.base(d.Base), "near", setup.FormatLength(*d.NearM, u), "far", far))
	}
	b := textBlock(job, f)
	b.addLine(w.T("camera.title"), camera, "camera")
	b.addLine(w.T("camera.frame-title"), frame, "camera")
	var room []string
	if r := s.Room; r != nil {
		for _, side := range []struct {
			key string
			m   *float64
		}{{"left", r.Left}, {"right", r.Right}, {"front", r.Front}, {"behind", r.Behind}, {"ceiling", r.Ceiling}} {
			put(&room, side.m, func(v float64) string { return w.T("room."+side.key, "d", setup.FormatLength(v, u)) })
		}
	}
	b.addLine(w.T("room.title"), room, "room")
	return b
}

func textBlock(job Job, f *format) *paragraphs {
	return &paragraphs{st: style{cap: Mm(f.Type.Text), kind: "note", used: true}, small: style{cap: capCaption, kind: "head"}, more: job.Words.T("table.continued")}
}

func (b *paragraphs) addLine(lead string, parts []string, of string) {
	if len(parts) > 0 {
		b.paras = append(b.paras, para{lead: lead, text: strings.Join(parts, ", "), of: of})
	}
}

// sumsBlock is what was computed for the set as a whole: ratios, the frontal
// lights together, the base range, ambient.
func sumsBlock(job Job, f *format) *paragraphs {
	w, n := job.Words, job.Numbers
	b := textBlock(job, f)
	var ratios []string
	if r := n.Ratios; r.KeyToFill != nil {
		ratios = append(ratios, w.T("ratio.key-fill", "r", ratioText(*r.KeyToFill)))
		if r.LitToShadow != nil && !r.LitToShadowEst {
			ratios = append(ratios, w.T("ratio.lit-shadow", "r", ratioText(*r.LitToShadow)))
		} else if r.LitToShadow != nil {
			why := "ratio.lit-shadow-est"
			for i := range job.Setup.Lights {
				if l := &job.Setup.Lights[i]; l.Role == "fill" && !l.Off && (l.Place == nil || l.Place.Height == nil) {
					why = "ratio.lit-shadow-unplaced"
				}
			}
			ratios = append(ratios, w.T(why, "r", ratioText(*r.LitToShadow)))
		}
	}
	b.addLine(w.T("ratio.title"), ratios, "ratios")
	var together []string
	t := n.Together
	alone := job.Setup.Exposure.Zero == "" && t.Delta != nil && *t.Delta == 0 // nothing burns with the key
	if alone {
		t = exposure.Together{}
	}
	if t.AllToCamera && t.Delta != nil {
		together = append(together, zeroWords(job, "together.sum", "delta", togetherText(*t.Delta, job)))
	} else if t.DomeToCamera != nil {
		together = append(together, zeroWords(job, "together.dome", "delta", togetherText(*t.DomeToCamera, job)))
	}
	b.addLine(zeroWords(job, "together.title"), together, "together")
	b.addLine(w.T("range.title"), rangeText(job), "range")
	var ambient []string
	for _, a := range n.Ambient.At {
		s := w.T("ambient.at", "base", job.base(a.Base), "delta", apex.FormatSigned(a.Delta))
		if a.HoldShutterS != nil {
			s += " " + w.T("ambient.hold", "time", holdText(job, *a.HoldShutterS))
		}
		ambient = append(ambient, s)
	}
	b.addLine(w.T("ambient.title"), ambient, "ambient")
	for _, l := range n.Lights {
		var hold []string
		for _, h := range l.Hold {
			if h.ShutterS != nil {
				hold = append(hold, w.T("hold.at", "base", job.base(h.Base), "time", holdText(job, *h.ShutterS)))
			}
		}
		b.addLine(w.T("hold.title", "name", l.Name), hold, "light")
	}
	return b
}

// togetherText is a difference from the key in words.
func togetherText(delta float64, job Job) string {
	w := job.Words
	if job.Setup.Exposure.Zero != "" { // the sentence names the zero itself
		return deltaText(delta, w)
	}
	if math.Abs(delta) < 0.05 {
		return w.T("together.same")
	}
	return w.T("together.delta", "delta", deltaText(delta, w))
}

func ratioText(r float64) string {
	return trimFloat(math.Round(r*10)/10) + ":1"
}

// rangeText is the base range in words, rounded inward to tenths.
func rangeText(job Job) []string { return rangeWords(job, "range.words") }

// rangeWords is the base range in the words of a key.
func rangeWords(job Job, key string) []string {
	w, r := job.Words, job.Numbers.BaseRange
	by := func(names []string) string {
		if len(names) > 3 { // by number, as on the drawing
			var lost []lostLabel
			for _, l := range job.Setup.Lights {
				if slices.Contains(names, l.Name) {
					lost = append(lost, lostLabel{number: l.Number})
				}
			}
			return w.T("range.numbers", "numbers", strings.Join(lostWords(lost), ", "))
		}
		out := make([]string, len(names))
		for i, n := range names {
			if out[i] = n; n == "lens" {
				out[i] = w.T("range.lens")
			}
		}
		return strings.Join(out, ", ")
	}
	low, high, ok := job.inward(r)
	if ok {
		return []string{w.T(key, "low", job.reading(low), "high", job.reading(high), "lowby", by(r.LowBy), "highby", by(r.HighBy))}
	}
	if r.LowAv == nil && (len(r.LowBy) > 0 || len(r.HighBy) > 0) {
		return []string{w.T("range.none", "lowby", by(r.LowBy), "highby", by(r.HighBy))}
	}
	return nil
}

// cautionsBlock is the safety notes; short takes each one's short form.
func cautionsBlock(notes []safety.Note, job Job, f *format, short, run bool) *paragraphs {
	b := textBlock(job, f)
	b.title = job.Words.T("cautions.title")
	b.st.kind = "caution"
	for _, n := range notes {
		if n.Code == "local-rules" { // stands over all the others
			b.title += ". " + n.Text
			continue
		}
		t := n.Text
		if short && n.Short != "" {
			t = n.Short
		}
		b.paras = append(b.paras, para{text: t, of: "caution " + n.Code})
	}
	if short || run { // one running paragraph takes the least room
		var all []string
		for _, q := range b.paras {
			all = append(all, q.text)
		}
		b.paras = []para{{text: strings.Join(all, " • "), of: "cautions"}}
	}
	return b
}

// notesBlock is the file's own words: what to look for, notes, and the notes
// of the whole setup.
func notesBlock(job Job, f *format) *paragraphs {
	w, s := job.Words, job.Setup
	b := textBlock(job, f)
	b.title = w.T("notes.title")
	put := func(lead, of string, texts ...string) {
		var parts []string
		for _, t := range texts {
			if t = strings.TrimSpace(t); t != "" {
				parts = append(parts, t)
			}
		}
		if len(parts) > 0 {
			b.paras = append(b.paras, para{lead: lead, text: phrases(parts), of: of})
		}
	}
	labelled := func(key, text string) string {
		if text == "" {
			return ""
		}
		return w.T(key, "text", text)
	}
	for i := range s.Lights {
		l := &s.Lights[i]
		put(number(body{number: l.Number})+" "+l.Name, "light", labelled("notes.look-for", l.LookFor), l.Note,
			labelled("notes.mark", l.Mark), labelled("notes.trigger", l.Trigger), labelled("notes.circuit", l.Circuit), packWords(l, w))
	}
	for i := range s.Grip {
		g := &s.Grip[i]
		put(number(body{number: g.Number})+" "+g.Name, "grip", labelled("notes.look-for", g.LookFor), g.Note, labelled("notes.mark", g.Mark))
	}
	put(w.T("notes.subject"), "subject", s.Subject.Note, labelled("notes.mark", s.Subject.Mark))
	put(w.T("notes.camera"), "camera", s.Camera.Note)
	if bg := s.Background; bg != nil {
		put(w.T("notes.background"), "background", colouredKind(bg.Tone, bg.Kind, w), bg.Note, labelled("notes.reading", readingText(job, bg.ReadingAv)))
	}
	if looks := lookWords(job); looks != "" {
		put(w.T("looks.title"), "looks", looks)
	}
	for _, line := range strings.Split(strings.TrimSpace(s.Notes), "\n") {
		put("", "notes", line)
	}
	return b
}

// phrases sets texts one after another, parted by a semicolon where they do not
// end a sentence.
func phrases(parts []string) string {
	var b strings.Builder
	for i, s := range parts {
		if i > 0 && !strings.ContainsRune(".!?;:", rune(parts[i-1][len(parts[i-1])-1])) {
			b.WriteByte(';')
		}
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(s)
	}
	return b.String()
}

func readingText(job Job, av *float64) string {
	if av == nil {
		return ""
	}
	return job.reading(*av)
}

// holdText is a shutter time, with a warning where it is faster than the camera
// can be with flash: the flashes of the same set would be cut off.
func holdText(job Job, s float64) string {
	t := timeText(s)
	if sync := job.Setup.Exposure.SyncS; sync != nil && s < *sync*0.999 {
		t += ", " + job.Words.T("hold.too-fast")
	}
	return t
}

// timeText prints a time with its unit: "1/200 s".
func timeText(s float64) string {
	t := apex.FormatTime(s)
	if strings.HasSuffix(t, "s") {
		return t
	}
	return t + " s"
}
