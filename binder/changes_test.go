package binder

import (
	"bytes"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func leaf(labels ...string) Leaf {
	var l Leaf
	for _, s := range labels {
		l = append(l, Print{s, "p-" + s})
	}
	return l
}

func never(string) bool { return false }

func TestCompareNamesTheSheets(t *testing.T) {
	a, b, c, x := leaf("A/1", "A/2"), leaf("B/1", "B/2"), leaf("C/1", "C/2"), leaf("X/1", "X/2")
	changed := slices.Clone(b)
	changed[1].Print = "other"

	require.Equal(t, Changes{}, Compare([]Leaf{a, b, c}, []Leaf{a, b, c}, never))
	require.Equal(t, Changes{Out: []Leaf{b}, In: []Put{{changed, a}}}, Compare([]Leaf{a, b, c}, []Leaf{a, changed, c}, never), "a back that changes costs the sheet")
	require.Equal(t, Changes{In: []Put{{a, nil}}}, Compare([]Leaf{b, c}, []Leaf{a, b, c}, never))
	require.Equal(t, Changes{Out: []Leaf{b}}, Compare([]Leaf{a, b, c}, []Leaf{a, c}, never))
	require.Equal(t, Changes{Move: []Put{{c, a}}}, Compare([]Leaf{a, b, c}, []Leaf{a, c, b}, never))
	require.Equal(t, Changes{Out: []Leaf{x}, In: []Put{{x, c}}}, Compare([]Leaf{a, b, c, x}, []Leaf{a, b, c, x}, func(l string) bool { return l == "X/1" }))
}

// Whoever does what the list says has the binder of now.
func TestCompareLeadsFromTheOldToTheNew(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) []Leaf {
			var out []Leaf
			seen := map[int]bool{}
			for _, n := range rapid.SliceOfN(rapid.IntRange(0, 12), 0, 12).Draw(t, name) {
				if !seen[n] {
					seen[n] = true
					out = append(out, Leaf{{fmt.Sprint(n), fmt.Sprint(rapid.IntRange(0, 2).Draw(t, "print"))}})
				}
			}
			return out
		}
		before, now := draw("before"), draw("now")
		c := Compare(before, now, never)
		shelf := slices.Clone(before)
		find := func(l Leaf) int { return slices.IndexFunc(shelf, func(o Leaf) bool { return slices.Equal(o, l) }) }
		for _, l := range c.Out {
			at := find(l)
			require.GreaterOrEqual(t, at, 0)
			shelf = slices.Delete(shelf, at, at+1)
		}
		puts := map[string]Put{}
		for _, p := range c.Move {
			at := find(p.Leaf)
			require.GreaterOrEqual(t, at, 0)
			shelf = slices.Delete(shelf, at, at+1)
			puts[p.Leaf[0].Label] = p
		}
		for _, p := range c.In {
			puts[p.Leaf[0].Label] = p
		}
		for _, l := range now { // from the front, as a person does
			p, ok := puts[l[0].Label]
			if !ok {
				continue
			}
			at := 0
			if p.Behind != nil {
				at = find(p.Behind) + 1
				require.Positive(t, at)
			}
			shelf = slices.Insert(shelf, at, p.Leaf)
		}
		require.Equal(t, len(now), len(shelf))
		for i := range now {
			require.Equal(t, now[i], shelf[i])
		}
	})
}

const someXMP = "%PDF stream\n<binder:sides>2</binder:sides>\n<binder:pages><rdf:Seq>\n<rdf:li>00ab-1234-cdef B &amp; C/1</rdf:li>\n<rdf:li>10ab-1234-cdef B &amp; C/2</rdf:li>\n</rdf:Seq></binder:pages>\nendstream"

func TestReadPrints(t *testing.T) {
	p, err := ReadPrints([]byte(someXMP))
	require.NoError(t, err)
	require.Equal(t, &Printed{Duplex: true, Pages: []Print{{"B & C/1", "00ab-1234-cdef"}, {"B & C/2", "10ab-1234-cdef"}}}, p)
	require.Equal(t, "B & C/1, B & C/2", p.Leaves()[0].Labels())
	for _, bad := range []string{"", "%PDF", "<binder:pages>", "<binder:pages></binder:pages>"} {
		_, err := ReadPrints([]byte(bad))
		require.ErrorIs(t, err, ErrNoPrints)
	}
}

// FuzzReadPrints: whatever the bytes, there are pages or an error.
func FuzzReadPrints(f *testing.F) {
	f.Add([]byte(someXMP))
	f.Add(bytes.Replace([]byte(someXMP), []byte("</binder:pages>"), nil, 1))
	f.Fuzz(func(t *testing.T, src []byte) {
		p, err := ReadPrints(src)
		if (p == nil) == (err == nil) {
			t.Fatal("neither pages nor an error")
		}
		if p != nil {
			p.Leaves()
		}
	})
}
