package binder

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestOwnerIsTheOneNameThatAllGive(t *testing.T) {
	const one, other = "by: Halvard Studio\n" + plainSet, "by: Studio Ostberg\n" + plainSet
	for _, c := range []struct {
		files []string
		want  string
	}{
		{nil, ""}, {[]string{plainSet}, ""}, {[]string{one}, "Halvard Studio"}, {[]string{plainSet, one, plainSet}, "Halvard Studio"},
		{[]string{one, "by: halvard  studio\n" + plainSet}, "Halvard Studio"}, {[]string{one, other}, ""}, {[]string{one, other, one}, ""}, {[]string{one, "by: [\n"}, "Halvard Studio"},
	} {
		files := map[string]string{"x.txt": ""}
		for i, text := range c.files {
			files[string(rune('a'+i))+".yaml"] = text
		}
		folder(t, files)
		require.Equal(t, c.want, Read([]string{"."}, Options{}).Owner(), c.files)
	}
}
