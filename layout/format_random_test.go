package layout_test

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"
)

// dice draws the parts of a random page format.
type dice struct{ t *rapid.T }

func (d dice) in(lo, hi int) int       { return rapid.IntRange(lo, hi).Draw(d.t, "n") }
func (d dice) one(of ...string) string { return rapid.SampledFrom(of).Draw(d.t, "one") }
func (d dice) chance(percent int) bool { return d.in(0, 99) < percent }

// some draws a few of them, in any order.
func (d dice) some(of ...string) []string {
	all := rapid.Permutation(of).Draw(d.t, "some")
	return all[:d.in(0, len(all))]
}

// formats generates page formats for a document, most of them sound.
func formats(document string) *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		switch d := (dice{t}); document {
		case "sheet":
			return d.sheetFormat()
		case "stands":
			return d.standsFormat()
		default:
			return d.cardFormat()
		}
	})
}

func (d dice) page(least int) string {
	return fmt.Sprintf("width: %d\nheight: %d\nmargin: %d\ngap: %d\n", d.in(least, 420), d.in(least, 420), d.in(3, 12), d.in(1, 5)) +
		"frame: " + d.one("yes", "no") + "\n"
}

func (d dice) sizes() string {
	return fmt.Sprintf("type: {text: %s, target: %s, title: %s, code: %s, balloon: %s}\n", d.one("2.5", "2.5", "3.5"), d.one("2.5", "3.5", "5"), d.one("2.5", "5"), d.one("3.5", "7"), d.one("2.5", "3.5"))
}

func (d dice) cardFormat() string {
	var b strings.Builder
	b.WriteString(d.page(95) + d.sizes() + "sides:\n")
	for range d.in(1, 3) {
		fmt.Fprintf(&b, "  - %s: [%s]\n    give: [%s]\n", d.one("down", "down", "across"), strings.Join([]string{
			d.one("lights", "{block: lights, as: targets}", "{block: lights, columns: [[number], [name], [difference], [target, dial], [place, height], [aim, meter, modifier]]}"),
			d.one("{across: [{block: photo, width: 40}, plan]}", "plan", "{down: [plan, side]}"),
			d.one("{block: cautions, short: true}", "cautions", "{block: cautions, run: true}"),
			d.one("camera", "{across: [camera, sums]}", "{down: [notes, rulers]}"),
		}, ", "), d.one("plan", "plan, plan")[:4])
	}
	if d.chance(50) {
		b.WriteString("next: [" + d.one("notes, {across: [camera, sums]}", "{block: lights, as: places}, plan", "photo", "{flow: true, across: [notes, cautions]}") + "]\n")
	}
	return b.String()
}

func (d dice) sheetFormat() string {
	var b strings.Builder
	b.WriteString("for: sheet\n" + d.page(130) + d.sizes() + "sides:\n")
	for range d.in(1, 2) {
		fmt.Fprintf(&b, "  - down: [%s]\n    give: [%s]\n", strings.Join([]string{
			d.one("lights", "{block: lights, as: targets}"),
			d.one("{across: [{block: photo, width: 40}, plan]}", "plan", "build", "{across: [{block: strike, width: 60}, {down: [kit, notes]}]}"),
			d.one("{block: cautions, short: true}", "cautions", "{block: cautions, run: true}"),
			d.one("camera", "{across: [camera, set]}", "{down: [camera, bases]}", "{down: [photos, camera]}"),
		}, ", "), d.one("", "camera"))
	}
	if d.chance(80) {
		next := d.some("build", "{block: today, columns: [[number], [name, difference], [target], [reads], [set]]}", "{flow: true, across: [{block: kit, width: 70}, {down: [photos, notes]}]}",
			"{flow: true, across: [cautions, strike]}", "{across: [set, {block: camera, width: 50}]}", "{down: [bases, circuits]}", "rulers", "{block: plan, least: 80}")
		b.WriteString("next: [" + strings.Join(next, ", ") + "]\n")
	}
	if d.chance(30) {
		b.WriteString("leave out: [" + d.one("rulers", "drift", "rulers, looks") + "]\n")
	}
	return b.String()
}

func (d dice) standsFormat() string {
	var b strings.Builder
	fmt.Fprintf(&b, "for: stands\nwidth: %d\nheight: %d\nmargin: %d\ngap: %d\nframe: %s\n", d.in(60, 160), d.in(80, 220), d.in(2, 6), d.in(1, 4), d.one("yes", "no"))
	fmt.Fprintf(&b, "type: {text: %s, target: %s, title: 2.5, code: %s, balloon: 2.5}\n", d.one("2.5", "2.5", "3.5"), d.one("10", "10", "14"), d.one("2.5", "5"))
	if d.chance(50) {
		b.WriteString("sheet: " + d.one("a4", "letter", "{width: 320, height: 450}", "{width: 297, height: 420, margin: 10, across: 1}") + "\n")
	}
	b.WriteString("sides:\n")
	for range d.in(1, 3) {
		fmt.Fprintf(&b, "  - down: [%s]\n    give: [%s]\n", strings.Join(append([]string{
			d.one("stand-head"), d.one("stand-today", "{block: stand-today, as: stand-bases}"),
			d.one("{block: cautions, short: true}", "cautions", "{block: cautions, run: true}"),
			d.one("stand-place", "{across: [stand-place, {block: plan, width: 40}]}"),
		}, d.some("stand-setting", "stand-note")...), ", "), d.one("", "stand-place"))
	}
	if d.chance(50) {
		b.WriteString("next: [" + d.one("plan, stand-note", "{across: [stand-setting, stand-note]}", "{flow: true, across: [stand-setting, {down: [stand-note, cautions]}]}") + "]\n")
	}
	return b.String()
}
