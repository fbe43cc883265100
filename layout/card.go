package layout

import (
	"slices"

	"stopleaf/setup"
)

// CardOptions says how cards are made.
type CardOptions struct {
	Paper  string  // one of Papers; "" is "a5"
	Rulers bool    // the stop rulers, even where there is little room
	Codes  bool    // the codes that hold the setup on the front, not on the back
	NoBack bool    // no side for the codes alone, where the file holds the setup itself
	Format *Format // a page format of one's own, in place of a paper
}

// Card lays out the cards of several setups, one after another. A card is one
// side; what does not fit goes to further sides, and each side says so.
func Card(jobs []Job, opt CardOptions) (*Document, error) {
	if opt.Paper == "" {
		opt.Paper = "a5"
	}
	f, err := formatOf("card", opt.Paper, opt.Format)
	if err != nil {
		return nil, err
	}
	if opt.Rulers {
		f.keep("rulers")
	}
	on := backSide
	switch {
	case opt.Codes:
		on = frontSide
	case opt.NoBack:
		on = backIfAny
	}
	return gather(jobs, "card.desc", func(job Job) ([]Page, error) { return cardPages(job, f, on) })
}

// keywords are a setup's tags, the roles of its lights and the kinds of their
// modifiers, each once.
func keywords(job Job) []string {
	var out []string
	put := func(s string) {
		if s != "" && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	for _, t := range job.Setup.Tags {
		put(t)
	}
	for _, l := range job.Setup.Lights {
		put(l.Role)
	}
	for _, l := range job.Setup.Lights {
		if l.Modifier != nil {
			put(l.Modifier.Kind)
		}
	}
	return out
}

// cardPages fits one setup to a format and draws its sides.
func cardPages(job Job, f *format, on bearer) ([]Page, error) {
	b := builder{job: job, f: f, made: map[string]box{}, codes: newCodes(job, f, setup.Nothing), bearer: on}
	sides, err := b.fitted()
	if err != nil {
		return nil, err
	}
	return b.drawn(sides)
}
