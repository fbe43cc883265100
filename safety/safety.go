// Package safety says what can hurt someone in a setup, computed where the
// file gives the figures and as a plain rule where it does not. It decides
// nothing about pages; it defers to local rules and qualified people.
package safety

// Note is one caution.
type Note struct {
	Code    string             `json:"code"`  // stable, kebab-case: "bag", "boom-balance", "circuit-load"
	Light   string             `json:"light"` // the light, grip item or circuit it is about; "" for the whole set
	Text    string             `json:"text"`  // one or two plain sentences, as printed
	Short   string             `json:"-"`     // a form of at most 60 characters for small cards; Text when empty
	Figures map[string]float64 `json:"figures"`
	Rank    int                `json:"-"` // 1 first: what can kill or fall; 9 last
}
