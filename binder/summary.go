package binder

import (
	"math"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/setup"
)

// Summary is what a list says of a setup, without the setup itself.
type Summary struct {
	File      string
	Code      string
	Title     string
	Made      string // "2026-03-14", or ""
	By        string
	Tags      []string
	Looks     []string
	Lights    int      // pairs counted as two
	KeyToFill *float64 // nil without a fill, or without a key
	HighestM  *float64 // of the set above the floor, to a centimetre; see setup.Highest
	BaseRange exposure.BaseRange
	Style     apex.Style // how its house prints readings
}

// Summarize gives the summary of a setup. numbers are its figures, for any bases.
func Summarize(s *setup.Setup, n *exposure.Numbers) Summary {
	return Summary{
		File: s.File, Code: s.Code, Title: s.TitleAsWritten(), Made: s.Made, By: s.By, Tags: s.Tags, Looks: s.LookNames(), Lights: len(s.Lights),
		KeyToFill: n.Ratios.KeyToFill, HighestM: rounded(s.Highest(), 100), BaseRange: n.BaseRange, Style: s.Style(),
	}
}

// rounded rounds to so many parts of one.
func rounded(v *float64, parts float64) *float64 {
	if v == nil {
		return nil
	}
	r := math.Floor(*v*parts+0.5+1e-9) / parts
	return &r
}
