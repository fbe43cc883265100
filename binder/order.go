package binder

import (
	"cmp"
	"strconv"
	"strings"
)

// Natural orders texts as people do: figures in them by their value.
func Natural(a, b string) int {
	a, b = strings.ToLower(a), strings.ToLower(b)
	for a != "" && b != "" {
		x, y := figures(a), figures(b)
		if x > 0 && y > 0 {
			m, _ := strconv.ParseUint(a[:min(x, 18)], 10, 64)
			n, _ := strconv.ParseUint(b[:min(y, 18)], 10, 64)
			if c := cmp.Compare(m, n); c != 0 {
				return c
			}
			a, b = a[x:], b[y:]
			continue
		}
		if a[0] != b[0] {
			return cmp.Compare(a[0], b[0])
		}
		a, b = a[1:], b[1:]
	}
	return cmp.Compare(len(a), len(b))
}

func figures(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}
