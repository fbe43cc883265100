package main

import (
	"fmt"
	"strings"
)

// didYouMean gives a hint naming the word of the list that is nearest to what
// was typed, or "" when none is near.
func didYouMean(typed string, list []string) string {
	typed = strings.ToLower(typed)
	best, at := "", 1+len([]rune(typed))/3
	for _, word := range list {
		if d := distance(typed, strings.ToLower(word)); d <= at && (best == "" || d < at) {
			best, at = word, d
		}
	}
	if best == "" {
		return ""
	}
	return fmt.Sprintf("did you mean %q?", best)
}

// distance counts the letters to add, drop, change or swap with their neighbour
// to get from a to b.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(x)][len(y)]
}
