package recovery

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The examples of RFC 9285, sections 4.3 and 4.4 (from memory).
func TestBase45(t *testing.T) {
	for text, want := range map[string]string{"AB": "BB8", "Hello!!": "%69 VD92EX0", "base-45": "UJCLQE7W581", "ietf!": "QED8WEX0", "": ""} {
		assert.Equal(t, want, base45([]byte(text)))
		back, err := unbase45(want)
		require.NoError(t, err)
		assert.Equal(t, text, string(back))
	}
	// Section 6: 65,536 and more is no pair of bytes; "::" is more than a byte.
	for _, bad := range []string{"GGW", ":::", "::", "A", "abc", "AB_"} {
		_, err := unbase45(bad)
		assert.Error(t, err, bad)
	}
}

func TestTextsAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		file := []byte(rapid.StringN(0, 6000, -1).Draw(t, "file"))
		most := rapid.IntRange(500, 4296).Draw(t, "most")
		texts, err := Texts(file, most)
		if err != nil {
			return
		}
		for i, text := range texts {
			if len(text) > most {
				t.Fatalf("%d characters, more than %d", len(text), most)
			}
			if rapid.Bool().Draw(t, "trimmed") {
				texts[i] = strings.TrimRight(text, " ")
			}
			if rapid.Bool().Draw(t, "broken") {
				texts[i] = texts[i][:20] + "\r\n" + texts[i][20:]
			}
		}
		rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1)).Shuffle(len(texts), func(i, j int) { texts[i], texts[j] = texts[j], texts[i] })
		if rapid.Bool().Draw(t, "in one") {
			texts = []string{"what a phone shows: \n" + strings.Join(texts, "\n")}
		}
		found, errs := Read(texts)
		if len(errs) > 0 || len(found) != 1 || !bytes.Equal(found[0].File, file) {
			t.Fatalf("%v %v", errs, found)
		}
	})
}

// Whatever is done to a good code, there is no wrong setup without an error.
func TestMutations(t *testing.T) {
	file, err := os.ReadFile("testdata/v1-bread.yaml")
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(45, 9285))
	for _, most := range []int{4296, 600} {
		texts, err := Texts(file, most)
		require.NoError(t, err)
		for range 10_000 {
			i := r.IntN(len(texts))
			b := []byte(texts[i])
			switch r.IntN(4) {
			case 0:
				b[r.IntN(len(b))] = alphabet[r.IntN(45)]
			case 1:
				at := r.IntN(len(b))
				b = append(b[:at:at], b[at+1:]...)
			case 2:
				at := r.IntN(len(b))
				b = append(append(b[:at:at], alphabet[r.IntN(45)]), b[at:]...)
			case 3:
				b = b[:r.IntN(len(b))]
			}
			changed := append([]string(nil), texts...)
			changed[i] = string(b)
			found, errs := Read(changed)
			for _, f := range found {
				require.Equal(t, string(file), string(f.File), "%q", b)
			}
			require.False(t, len(found) == 0 && len(errs) == 0 && strings.Contains(string(b), Mark+":"), "silence on %q", b)
		}
	}
}

// A version 1 code decodes for ever: these were written once.
func TestVectors(t *testing.T) {
	files, err := filepath.Glob("testdata/v1-*.txt")
	require.NoError(t, err)
	require.Len(t, files, 4)
	for _, f := range files {
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		want, err := os.ReadFile(strings.TrimSuffix(f, ".txt") + ".yaml")
		require.NoError(t, err)
		found, errs := Read([]string{string(text)})
		require.Empty(t, errs, f)
		require.Len(t, found, 1, f)
		assert.Equal(t, string(want), string(found[0].File))
	}
}

func TestHostile(t *testing.T) {
	says := func(text, want string) {
		t.Helper()
		found, errs := Read([]string{text})
		assert.Empty(t, found)
		require.Len(t, errs, 1, "%q", text)
		assert.Contains(t, errs[0].Error(), want)
	}
	payload := pack([]byte("title: x\n"))
	later := bytes.Clone(payload)
	later[0] = 2
	says(Mark+":"+base45(later), "version 2")
	wrong := bytes.Clone(payload)
	wrong[2] ^= 1
	says(Mark+":"+base45(wrong), "checksum")
	says(Mark+":"+base45(payload[:3]), "cut short")
	says(Mark+":"+base45(payload[:len(payload)-4]), "cut short")
	says(Mark+":", "cut short")
	says(Mark+":a b", "damaged")
	says(Mark+" 1/2:", "not understood")
	says(Mark+" 3/2 00000000:AAA", "not understood")
	says(Mark+" 1/99 00000000:AAA", "not understood")
	says(Mark+" 1/2 00000000:AAA", "could not be read")
	bomb := pack(make([]byte, 64<<20))
	assert.Less(t, len(bomb), 80_000)
	says(Mark+":"+base45(bomb), "unfolds to more")
	says(Mark+":"+base45(pack(make([]byte, 2<<20))), "unfolds to more")
	found, errs := Read([]string{"nothing of ours", "", Mark, Mark + "X", "https://example.org"})
	assert.Empty(t, found)
	assert.Empty(t, errs)
}

func FuzzRead(f *testing.F) {
	texts, _ := Texts([]byte("title: x\n"), 500)
	f.Add(texts[0])
	f.Add(Mark + " 1/2 00000000:AAA" + Mark + " 2/2 00000000:AAA")
	f.Fuzz(func(t *testing.T, text string) {
		found, _ := Read([]string{text})
		for _, x := range found {
			if FingerprintOf(x.File) != x.Fingerprint {
				t.Fatal("a setup that is not its fingerprint's")
			}
		}
	})
}
