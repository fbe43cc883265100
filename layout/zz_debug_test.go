package layout_test

import (
	"fmt"
	"os"
	"sort"
	"strings"
	"sync"
	"testing"

	"stopleaf/layout"
)

func TestZZ(t *testing.T) {
	if os.Getenv("ZZ") == "" {
		t.Skip()
	}
	var lo, hi, least, most int
	fmt.Sscan(os.Getenv("ZZ"), &lo, &hi, &least, &most)
	words, papers := wording(t), layout.Papers()
	gen := setups(least, most)
	count := map[string]int{}
	ex := map[string]string{}
	var mu sync.Mutex
	var wg sync.WaitGroup
	for w := 0; w < 2; w++ {
		wg.Go(func() {
			for s := lo + w; s < hi; s += 2 {
				r := gen.Example(s)
				for _, f := range faultsOf(r, papers[s%len(papers)], words) {
					_, k, _ := strings.Cut(f, ": ")
					k = kindOf(k)
					mu.Lock()
					count[k]++
					if ex[k] == "" {
						ex[k] = fmt.Sprintf("seed %d %s", s, f)
					}
					mu.Unlock()
				}
			}
		})
	}
	wg.Wait()
	var ks []string
	for k := range count {
		ks = append(ks, k)
	}
	sort.Slice(ks, func(i, j int) bool { return count[ks[i]] > count[ks[j]] })
	for _, k := range ks {
		fmt.Printf("%5d %s\n        %.170s\n", count[k], k, ex[k])
	}
}

func TestZW(t *testing.T) {
	if os.Getenv("ZW") == "" {
		t.Skip()
	}
	var s, least, most int
	fmt.Sscan(os.Getenv("ZW"), &s, &least, &most)
	os.WriteFile("/tmp/lt-seed.yaml", []byte(setups(least, most).Example(s).yaml()), 0o644)
}

func kindOf(s string) string {
	out, quote := []rune{}, false
	for _, r := range s {
		if r == '"' {
			quote = !quote
		}
		if !quote && (r < '0' || r > '9') {
			out = append(out, r)
		}
	}
	return string(out)
}
