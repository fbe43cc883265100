package layout

import (
	"testing"

	"stopleaf/exposure"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

// BenchmarkCard lays out one card, from numbers to finished pages.
func BenchmarkCard(b *testing.B) {
	s, _ := setup.Read("../templates/demo/bread.yaml", setup.Options{})
	bases, err := s.ChooseBases("")
	if err != nil {
		b.Fatal(err)
	}
	n := exposure.Compute(s.Input(bases))
	w, err := templates.Load("en")
	if err != nil {
		b.Fatal(err)
	}
	job := Job{Setup: s, Numbers: &n, Words: w, Safety: safety.Notes(s, &n, w)}
	for b.Loop() {
		if _, err := Card([]Job{job}, CardOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}
