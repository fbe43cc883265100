package main

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"stopleaf/exposure/apex"
	"stopleaf/rebuild/heads"
	"stopleaf/setup"
)

// gearOut is the JSON of "gear --json".
type gearOut struct {
	Stopleaf int          `json:"stopleaf"`
	Setups   int          `json:"setups"`
	At       gearAt       `json:"at"` // what every "av" is told for
	Outputs  []outputOut  `json:"outputs"`
	LeftOut  []leftOutOut `json:"left_out"`
	Problems []problemOut `json:"problems"`
}

type gearAt struct {
	DistanceM float64 `json:"distance_m"`
	Power     float64 `json:"power_stops"`
	ISO       float64 `json:"iso"`
}

type outputOut struct {
	Head     string      `json:"head"`
	EnergyWs *float64    `json:"energy_ws"`
	Modifier string      `json:"modifier"`
	Av       float64     `json:"av"`
	F        float64     `json:"f"`
	Tenths   string      `json:"tenths"`
	GearFile bool        `json:"gear_file"` // av is that of its lines of "output"; else the median of the lights
	LightsAv *float64    `json:"lights_av"` // the median of the lights; null without one
	Lights   int         `json:"lights"`
	Setups   int         `json:"setups"`
	Spread   *float64    `json:"spread"` // stops from av to the record furthest from it; null with one record
	Furthest *recordOut  `json:"furthest"`
	Records  []recordOut `json:"records"`
}

type recordOut struct {
	File  string  `json:"file"`
	Line  int     `json:"line"`
	Col   int     `json:"col"`
	Setup *string `json:"setup"` // null for a line of "output"
	Light *string `json:"light"`
	Av    float64 `json:"av"`
	Off   float64 `json:"off"` // stops over av
}

type leftOutOut struct {
	File  string  `json:"file"`
	Line  int     `json:"line"`
	Col   int     `json:"col"`
	Light *string `json:"light"`
	Why   string  `json:"why"`
}

// nano rounds to what processors agree on.
func nano(v float64) float64 { return math.Round(v*1e9)/1e9 + 0 }

func gearJSON(t *heads.Table, problems setup.Problems) []byte {
	out := gearOut{Stopleaf: contract, Setups: t.Setups, At: gearAt{1, 0, 100}, Outputs: []outputOut{}, LeftOut: []leftOutOut{},
		Problems: problemList(distinct(problems), filepath.ToSlash)}
	for i := range t.Outputs {
		o := &t.Outputs[i]
		row := outputOut{Head: o.Head, EnergyWs: o.EnergyWs, Modifier: o.Modifier, Av: nano(o.Av), F: nano(apex.FNumber(o.Av)), Tenths: apex.Tenths(o.Av), GearFile: o.Written}
		row.Lights, row.Setups = o.Lights()
		if av, ok := o.OfLights(); ok {
			av = nano(av)
			row.LightsAv = &av
		}
		if o.Spread != nil {
			v := nano(*o.Spread)
			row.Spread = &v
		}
		if far := o.Furthest(); far != nil {
			r := recordJSON(far)
			row.Furthest = &r
		}
		for j := range o.Records {
			row.Records = append(row.Records, recordJSON(&o.Records[j]))
		}
		out.Outputs = append(out.Outputs, row)
	}
	for _, l := range t.LeftOut {
		out.LeftOut = append(out.LeftOut, leftOutOut{filepath.ToSlash(l.Pos.File), l.Pos.Line, l.Pos.Col, known(l.Light), l.Why})
	}
	return marshal(out)
}

func recordJSON(r *heads.Record) recordOut {
	out := recordOut{File: filepath.ToSlash(r.Pos.File), Line: r.Pos.Line, Col: r.Pos.Col, Av: nano(r.Av), Off: nano(r.Off)}
	if !r.Written {
		out.Setup, out.Light = known(r.Setup), &r.Light
	}
	return out
}

// proposedGear gives the lines of "output" that the lights speak for and the gear
// file does not have yet, as a gear file of its own to copy from.
func proposedGear(t *heads.Table) []byte {
	list := &yaml.Node{Kind: yaml.SequenceNode}
	var b, aside bytes.Buffer
	var at *yaml.Node
	last := ""
	for i := range t.Outputs {
		o := &t.Outputs[i]
		text := ""
		switch comes := fmt.Sprintf("comes to %s, from %s; left out, since", apex.Tenths(o.Av), gearFrom(o)); {
		case o.Written:
			text = "has an output already, " + writtenSays(o)
		case o.SameName():
			text = comes + " there are several heads of that name"
		case !o.Writable():
			text = comes + " \"with\" takes no such modifier in words"
		}
		if r, err := apex.ParseReading(apex.Tenths(o.Av), apex.Notation{}); text == "" && (err != nil || math.Abs(r.Value-o.Av) > aTenth+1e-9) {
			text = "comes to " + apex.Tenths(o.Av) + " at 1 m, more or less than a reading can be"
		}
		if text != "" {
			aside.WriteString(comment("%s through %s %s", o.Called(), o.Modifier, text))
			continue
		}
		if at == nil || last != strings.ToLower(o.Head) {
			last = strings.ToLower(o.Head)
			at = &yaml.Node{Kind: yaml.SequenceNode}
			list.Content = append(list.Content, yamlMap(0, "name", yamlText(o.Head), "output", at))
		}
		line := yamlMap(yaml.FlowStyle, "reads", yamlText(apex.Tenths(o.Av)), "at", yamlText("1 m"), "iso", &yaml.Node{Kind: yaml.ScalarNode, Value: "100"})
		if o.Modifier != "bare" {
			line.Content = append(line.Content, yamlText("with"), yamlText(o.Modifier))
		}
		line.HeadComment = "from " + gearFrom(o) + spreadText(o)
		at.Content = append(at.Content, line)
	}
	b.WriteString("# Lines of \"output\" for the gear file, from the setups: est., at 1 m and full power.\n")
	b.Write(aside.Bytes())
	if len(list.Content) == 0 {
		b.WriteString("heads: []\n")
		return b.Bytes()
	}
	enc := yaml.NewEncoder(&b)
	enc.SetIndent(2)
	if err := enc.Encode(yamlMap(0, "heads", list)); err != nil {
		panic(err) // nodes of ours
	}
	return b.Bytes()
}

// comment is one line of comment, whatever stands in a name.
func comment(format string, a ...any) string {
	text := strconv.Quote(fmt.Sprintf(format, a...))
	return "# " + strings.ReplaceAll(text[1:len(text)-1], `\"`, `"`) + "\n"
}

// spreadText says how far apart the records of a proposed line are.
func spreadText(o *heads.Output) string {
	if o.Spread == nil {
		return " alone"
	}
	return fmt.Sprintf(", the furthest %s from it", stops(*o.Spread))
}

// writtenSays is what a line says, and what the lights say to it.
func writtenSays(o *heads.Output) string {
	text := apex.Tenths(o.Av)
	if av, ok := o.OfLights(); ok {
		lights, setups := o.Lights()
		text += fmt.Sprintf(", and %s in %s %s %s", many(lights, "light"), many(setups, "setup"), says(lights), apex.Tenths(av))
	}
	return text
}

func says(n int) string {
	if n == 1 {
		return "says"
	}
	return "say"
}

func yamlText(s string) *yaml.Node {
	n := &yaml.Node{}
	n.SetString(s)
	return n
}

func yamlMap(style yaml.Style, fields ...any) *yaml.Node {
	n := &yaml.Node{Kind: yaml.MappingNode, Style: style}
	for _, f := range fields {
		switch f := f.(type) {
		case string:
			n.Content = append(n.Content, yamlText(f))
		case *yaml.Node:
			n.Content = append(n.Content, f)
		}
	}
	return n
}
