package layout_test

import (
	"fmt"
	"regexp"
	"testing"

	"stopleaf/exposure/apex"
	"stopleaf/layout"
	"stopleaf/setup"
)

// However the house prints readings, the papers that build the light are as
// good, and have one notation.
func TestSheetAndStandsInEveryNotation(t *testing.T) {
	words := wording(t)
	styles := []apex.Style{apex.StyleThirds, apex.StyleDecimal}
	tenths := regexp.MustCompile(`f/[0-9.]+\+0\.[0-9]`)
	forRandom(t, howMany(12, 200), 1, 10, func(seed int, r random) (faults []string) {
		job, err := r.job(words)
		if err != nil {
			return []string{"setup: not a setup: " + err.Error()}
		}
		job.Setup.House = &setup.House{PrintedReadings: styles[seed%2]}
		docs := map[string]func() (*layout.Document, error){
			"sheet":  func() (*layout.Document, error) { return layout.Sheet([]layout.Job{job}, layout.SheetOptions{}) },
			"stands": func() (*layout.Document, error) { return layout.Stands([]layout.Job{job}, layout.StandsOptions{}) },
		}
		for _, name := range []string{"sheet", "stands"} {
			doc, err := docs[name]()
			if err != nil {
				return append(faults, "documents: "+err.Error())
			}
			for i := range doc.Pages {
				for _, f := range layout.Check(&doc.Pages[i]) {
					faults = append(faults, fmt.Sprintf("%s, page %d: %s", name, i+1, f))
				}
			}
			if found := tenths.FindString(textOf(doc.Pages)); found != "" {
				faults = append(faults, name+": in tenths: "+found)
			}
		}
		return faults
	})
}
