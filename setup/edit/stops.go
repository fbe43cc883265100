package edit

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
)

// Delta writes a difference in stops as one was written: "1.6 under", "-1.6",
// "-1 2/3", and "1.6 under" where was says neither. Tenths, thirds or hundredths,
// whichever holds it first. It is an error beyond what the format takes.
func Delta(was string, stops float64) (string, error) {
	good := func(s string) bool {
		got, err := apex.ParseDelta(s)
		return err == nil && math.Abs(got-stops) <= sameStops+1e-9
	}
	if good(was) {
		return was, nil
	}
	f, _ := firstFigure(was)
	low := strings.ToLower(was)
	word, sep := !strings.ContainsAny(was, "+-−–"), " "
	for _, w := range []string{"under", "over"} {
		if i := strings.Index(low, w); i > 0 {
			from := len(strings.TrimRight(low[:i], " abcdefghijklmnopqrstuvwxyz"))
			sep = was[from:i]
		}
	}
	for _, way := range ways(was) {
		size := offset(math.Abs(stops), way, f.comma)
		if size == "" {
			continue
		}
		if f.places > 1 && way == "tenths" {
			size += strings.Repeat("0", f.places-1)
		}
		text := size
		switch {
		case math.Abs(stops) <= sameStops:
			text = "0"
		case word && stops < 0:
			text += sep + "under"
		case word:
			text += sep + "over"
		case stops > 0:
			text = "+" + size + after(was)
		case strings.Contains(was, "−"):
			text = "−" + size + after(was)
		default:
			text = "-" + size + after(was)
		}
		if good(text) {
			return text, nil
		}
	}
	return "", fmt.Errorf("a difference of %.2f stops cannot be written", stops)
}

// after is the word behind a figure: " stops".
func after(was string) string {
	return was[len(strings.TrimRight(was, " abcdefghijklmnopqrstuvwxyzEVS")):]
}

// Power writes a power, in stops from full, as one was written: "1/4 +0.2",
// "full", "62 Ws", "50 %", "-3.3", and a bare figure as the head's own dial shows
// it. Where was is "", or written in a way that this head cannot be, it is the
// head's own way, and that failing fractions. head may be nil. It is an error
// above full and below 1/4096.
func Power(was string, stops float64, head *exposure.Head) (string, error) {
	if head == nil {
		head = &exposure.Head{}
	}
	dial := apex.Dial{Kind: head.Dial.Kind, Full: head.Dial.Full}
	good := func(s string) bool {
		got, err := apex.ParsePower(s, head.EnergyWs, dial)
		return err == nil && math.Abs(got-stops) <= sameStops+1e-9
	}
	if good(was) {
		return was, nil
	}
	texts := powerTexts(was, stops, head)
	for _, kind := range []string{dial.Kind, "fractions"} {
		own := map[string]string{"number": "10", "ws": "1 Ws", "percent": "1 %"}[kind]
		if own == "" {
			own = "1/2"
		}
		texts = append(texts, powerTexts(own, stops, head)...)
	}
	if text, ok := firstGood(good, texts...); ok {
		return text, nil
	}
	return "", fmt.Errorf("a power of %.2f stops below full cannot be written", -stops)
}

// powerTexts are the ways in which a power could be written like another.
func powerTexts(was string, stops float64, head *exposure.Head) (texts []string) {
	low := strings.ToLower(strings.TrimSpace(was))
	f, any := firstFigure(was)
	figures := func(v float64) {
		if math.IsInf(v, 0) || math.IsNaN(v) {
			return
		}
		for places := f.places; places <= 4; places++ {
			texts = append(texts, was[:f.from]+decimals(v, places, f.comma)+was[f.to:])
		}
	}
	energy := func() {
		if head.EnergyWs != nil {
			figures(*head.EnergyWs * math.Exp2(stops))
		}
	}
	switch {
	case was == "":
	case strings.HasPrefix(low, "-") || strings.HasPrefix(low, "−"):
		sign := was[:len(was)-len(strings.TrimLeft(was, " -−"))]
		for _, way := range ways(was) {
			if size := offset(-stops, way, f.comma); size != "" && stops < 0 {
				texts = append(texts, sign+size+after(was))
			}
		}
	case strings.Contains(low, "/") || strings.HasPrefix(low, "full") || low == "1" && head.Dial.Kind != "number":
		texts = fractions(was, stops)
	case !any:
	case strings.HasSuffix(low, "%") || strings.HasSuffix(low, "percent"):
		figures(100 * math.Exp2(stops))
	case strings.HasSuffix(low, "s") || strings.HasSuffix(low, "j") || strings.HasSuffix(low, "joule"):
		energy()
	case head.Dial.Kind == "number":
		figures(head.Dial.Full + stops)
	case head.Dial.Kind == "ws":
		energy()
	case head.Dial.Kind == "percent":
		figures(100 * math.Exp2(stops))
	}
	return texts
}

// fractions are the ways of writing a power as a mark and what is left.
func fractions(was string, stops float64) (texts []string) {
	plus := " +"
	if i := strings.IndexByte(was, '+'); i > 0 {
		plus = was[len(strings.TrimRight(was[:i], " ")) : i+1]
	}
	whole := math.Floor(stops + sameStops)
	mark := "full"
	if whole < 0 {
		mark = "1/" + strconv.FormatFloat(math.Exp2(-whole), 'f', 0, 64)
	}
	texts = append(texts, mark)
	_, rest, _ := strings.Cut(was, "+")
	f, _ := firstFigure(rest)
	for _, way := range ways(rest) {
		if part := offset(stops-whole, way, f.comma); part != "" {
			texts = append(texts, mark+plus+part)
		}
	}
	return texts
}
