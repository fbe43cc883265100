package layout

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Columns and further pages that begin within a term's codes name the term again, each
// code stands once, and no column ends with a term.
func TestIndexNamesATermAgain(t *testing.T) {
	var many []*BinderSetup
	for i := range 400 {
		many = append(many, &BinderSetup{Code: fmt.Sprintf("B-%03d", i)})
	}
	x := newIndex("Tags", "(continued)", []term{{name: "few", setups: many[:3]}, {name: "low key", setups: many}, {name: "two", setups: many[:2]}}, Mm(180))
	var pages []*index
	for rest := block(x); rest != nil; {
		head, left := rest.(*index).split(Mm(180), Mm(100))
		require.NotNil(t, head)
		assert.LessOrEqual(t, head.least(Mm(180)), Mm(100))
		pages, rest = append(pages, head.(*index)), left
	}
	require.Greater(t, len(pages), 1)
	seen, term := map[string]int{}, ""
	for _, p := range pages {
		for _, c := range p.columns() {
			require.NotEmpty(t, c)
			assert.Empty(t, c[len(c)-1].term, "a column ends with a term")
			require.NotEmpty(t, c[0].term, "a column begins without a term")
			for _, l := range c {
				if l.term != "" {
					term = strings.TrimSuffix(l.term, " (continued)")
				}
				for _, code := range l.codes {
					seen[term+" "+strings.TrimSuffix(code.text, ",")]++
				}
			}
		}
	}
	assert.Len(t, seen, 3+400+2)
	for s, n := range seen {
		assert.Equal(t, 1, n, s)
	}
}
