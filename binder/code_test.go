package binder

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestCodesInTheOrderOfPeople(t *testing.T) {
	want := []string{"", "7", "A-9", "A-10", "a-10b", "B", "B-1", "B-02", "B-2x", "B-014", "B-100", "BC"}
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortFunc(got, CompareCodes)
	require.Equal(t, want, got)
}

func TestCompareCodesIsAnOrder(t *testing.T) {
	code := rapid.StringMatching(`[abB0129\-]{0,6}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := code.Draw(t, "a"), code.Draw(t, "b"), code.Draw(t, "c")
		require.Equal(t, CompareCodes(a, b), -CompareCodes(b, a))
		require.Equal(t, a == b, CompareCodes(a, b) == 0)
		if CompareCodes(a, b) <= 0 && CompareCodes(b, c) <= 0 {
			require.LessOrEqual(t, CompareCodes(a, c), 0)
		}
	})
}
