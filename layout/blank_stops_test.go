package layout

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func figure(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimPrefix(s, "f/"), 64)
	require.NoError(t, err)
	return v
}

// column is where a step stands among stopSteps.
func stepAt(stops float64) int {
	for i, s := range stopSteps {
		if math.Abs(s.stops-stops) < 1e-9 {
			return i
		}
	}
	return -1
}

func TestStopTable(t *testing.T) {
	rows := stopRows()
	// Whole stops: Exif 2.31, CIPA DC-008, Annex C, table 52.
	whole := []string{"1", "1.4", "2", "2.8", "4", "5.6", "8", "11", "16", "22", "32"}
	require.Len(t, rows, len(whole))
	for av, mark := range whole {
		assert.Equal(t, stopCell{"f/" + mark, true}, rows[av][0])
	}
	// Third-stop marks, the series common on lenses and meters.
	thirds := []string{"1.1", "1.2", "1.6", "1.8", "2.2", "2.5", "3.2", "3.5", "4.5", "5", "6.3", "7.1", "9", "10", "13", "14", "18", "20", "25", "29"}
	var got []string
	for _, row := range rows[:len(rows)-1] {
		require.Len(t, row, 13)
		got = append(got, row[1+stepAt(1.0/3)].s, row[1+stepAt(2.0/3)].s)
	}
	assert.Equal(t, thirds, got)
	// Exact f-numbers of whole and half stops, N = 2^(Av/2), to the figures printed.
	for av, n := range map[float64]string{0: "1.00", 1: "1.41", 3: "2.83", 5: "5.7", 7: "11.3", 9: "22.6", 10: "32.0",
		0.5: "1.19", 1.5: "1.68", 2.5: "2.38", 3.5: "3.36", 4.5: "4.8", 5.5: "6.7", 6.5: "9.5", 7.5: "13.5", 8.5: "19.0", 9.5: "26.9"} {
		w := math.Floor(av)
		assert.Equal(t, n, rows[int(w)][1+stepAt(av-w)].s, "Av %v", av)
	}
	assert.Len(t, rows[lastStop], 2)
	// Every exact cell is within half its last place, and they rise.
	for av, row := range rows {
		last := 0.0
		for i, c := range row[1:] {
			if c.mark {
				continue
			}
			v := figure(t, c.s)
			assert.InDelta(t, math.Pow(math.Sqrt2, float64(av)+stopSteps[i].stops), v, 0.0501)
			assert.Greater(t, v, last)
			last = v
		}
	}
}

func TestRatioTable(t *testing.T) {
	key, both := ratioRows()
	require.Len(t, key, lastRatio+1)
	// Key to fill and key and fill to fill: the second is the cinematographers'
	// society's definition, of which 1 and 2 stops (3:1, 5:1) are printed widely.
	for d, want := range map[float64][2]string{0: {"1.00", "2.00"}, 1.0 / 3: {"1.26", "2.26"}, 0.5: {"1.41", "2.41"}, 2.0 / 3: {"1.59", "2.59"},
		1: {"2.00", "3.00"}, 1.5: {"2.83", "3.83"}, 2: {"4.00", "5.00"}, 3: {"8.00", "9.00"}, 4: {"16.00", "17.00"}} {
		w := math.Floor(d)
		i := stepAt(d - w)
		assert.Equal(t, want, [2]string{key[int(w)][i].s, both[int(w)][i].s}, "%v stops", d)
	}
	// The wrong rule "twice the stops": 5:1 is 2.322 stops and 8:1 is 3, not 2.5 and 4.
	assert.Equal(t, "4.92", key[2][stepAt(0.3)].s)
	assert.Equal(t, "5.66", key[2][stepAt(0.5)].s)
	var steps int
	for w := range key {
		require.Len(t, both[w], len(key[w]))
		for i := range key[w] {
			steps++
			assert.InDelta(t, figure(t, key[w][i].s)+1, figure(t, both[w][i].s), 1e-9)
		}
	}
	assert.Equal(t, 4*12+1, steps)
}

func TestPowerTable(t *testing.T) {
	rows := powerRows()
	var fractions, stops []string
	for k, row := range rows {
		fractions, stops = append(fractions, row[0].s), append(stops, row[1].s)
		assert.InDelta(t, 100/float64(int(1)<<k), figure(t, row[2].s), 0.0501)
	}
	assert.Equal(t, []string{"1/1", "1/2", "1/4", "1/8", "1/16", "1/32", "1/64", "1/128", "1/256"}, fractions)
	assert.Equal(t, []string{"0", "−1", "−2", "−3", "−4", "−5", "−6", "−7", "−8"}, stops)
	// A third of a stop down leaves 2^(-1/3) = 0.79370, two thirds 0.62996.
	assert.Equal(t, []string{"100.0", "79.4", "63.0"}, []string{rows[0][2].s, rows[0][3].s, rows[0][4].s})
	assert.Equal(t, []string{"50.0", "25.0", "12.5", "6.25", "3.13"}, []string{rows[1][2].s, rows[2][2].s, rows[3][2].s, rows[4][2].s, rows[5][2].s})
}

// The examples under the tables are what the tables say.
func TestStopExamples(t *testing.T) {
	w := templateWords(t)
	at8 := stopRows()[6]
	k, b := ratioRows()
	key, both := k[1], b[1]
	assert.Contains(t, w["blank.stops-example"], "f/8 +0.6) is f/"+at8[1+stepAt(0.6)].s)
	assert.Contains(t, w["blank.stops-example"], "marked f/"+at8[1+stepAt(1.0/3)].s)
	assert.Contains(t, w["blank.ratio-example"], key[stepAt(0.6)].s+" : 1")
	assert.Contains(t, w["blank.ratio-example"], both[stepAt(0.6)].s+" : 1")
	assert.True(t, slices.IsSortedFunc(stopSteps, func(a, b struct {
		head  string
		stops float64
		third bool
	}) int {
		return int(math.Copysign(1, a.stops-b.stops))
	}))
}
