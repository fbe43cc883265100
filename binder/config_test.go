package binder

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestArrange(t *testing.T) {
	set := func(code, title, made, tags string) string {
		return "title: " + title + "\ncode: " + code + "\nmade: " + made + "\ntags: [" + tags + "]\nlights:\n  - {name: Key, role: key}\n"
	}
	folder(t, map[string]string{
		"a.yaml":         set("B-14", "Apples", "2026-03-01", "still"),
		"b.yaml":         set("B-2", "Zeno", "2026-05-01", "Portrait"),
		"c/c.yaml":       set("B-3", "Mira", "2026-01-01", "portrait"),
		"c/d.yaml":       set("B-1", "Plums", "2026-04-01", "still, portrait"),
		"c/broken.yaml":  "title: X\nlights: 3\n",
		"not-here.yaml2": "",
	})
	shelf := Read([]string{"."}, Options{})
	codes := func(text string) map[string][]string {
		conf, problems := ParseConfig("binder.yaml", []byte(text))
		require.Empty(t, problems)
		groups, problems := conf.Arrange(shelf)
		require.Empty(t, problems)
		out := map[string][]string{}
		n := 0
		for _, g := range groups {
			for _, it := range g.Items {
				out[g.Title] = append(out[g.Title], it.Code())
				n++
			}
		}
		require.Equal(t, 5, n, "nothing is lost")
		return out
	}
	require.Equal(t, map[string][]string{"": {"B-1", "B-2", "B-3", "B-14", "broken"}}, codes("title: T\n"), "by code, as people count")
	require.Equal(t, map[string][]string{"": {"B-3", "B-14", "B-1", "B-2", "broken"}}, codes("order: date\n"))
	require.Equal(t, map[string][]string{"": {"B-14", "broken", "B-3", "B-1", "B-2"}}, codes("order: title\n"))
	require.Equal(t, map[string][]string{"In c": {"B-1", "B-3", "broken"}, "P": {"B-2"}, "": {"B-14"}},
		codes("sections: [{title: P, tags: portrait}, {title: In c, setups: c}]\n"), "a name comes before a tag")
	require.Equal(t, map[string][]string{"H": {"B-14", "B-3"}, "": {"B-2", "broken", "B-1"}},
		codes("order: hand\nsections: [{title: H, setups: [a.yaml, b-3]}]\n"), "what no section names is in the order of its paths")
}

// FuzzParseConfig: whatever the bytes, there is a binder, with what is wrong, and it
// can be arranged.
func FuzzParseConfig(f *testing.F) {
	f.Add([]byte("title: T\norder: hand\nduplex: yes\nsections: [{title: A, setups: [x, y]}, {title: B, tags: z}]\n"))
	f.Add([]byte("sections: [a, {}, {title: [x]}]\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		c, problems := ParseConfig("binder.yaml", src)
		for _, p := range problems {
			if p.Message == "" {
				t.Fatal("a problem that says nothing")
			}
		}
		c.Arrange(&Shelf{})
	})
}
