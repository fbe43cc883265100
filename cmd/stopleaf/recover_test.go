package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
	"stopleaf/internal/ours"
	"stopleaf/internal/outside"
	"stopleaf/recovery"
	"stopleaf/setup"
)

// Every demo and starter comes back from every format: the same setup, which
// derives the same numbers to the last digit.
func TestRecoverFromEveryFormat(t *testing.T) {
	for _, name := range ours.Files(t, "../..") {
		s, problems := setup.Read(name, setup.Options{NoPhotos: true})
		require.NotNil(t, s, "%v", problems)
		want := string(s.Canonical(setup.Nothing))
		dir := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, "code.txt"), []byte(recovery.Text([]byte(want))), 0o644))
		for _, file := range []string{"plan.pdf", "plan.svg", "plan.png", "plan.jpg", "code.txt", "again.pdf"} {
			made := filepath.Join(dir, file)
			switch file {
			case "code.txt":
			case "again.pdf":
				outside.Run(t, "qpdf", "--object-streams=generate", "--recompress-flate", filepath.Join(dir, "plan.pdf"), made)
			default:
				done(t, "plan", name, "--photos", "skip", "-o", made)
			}
			back := filepath.Join(dir, file+".yaml")
			code, _, said := ran("recover", made, "-o", back)
			require.Equal(t, exitDone, code, said)
			assert.Contains(t, said, "fingerprint "+recovery.FingerprintOf([]byte(want)).String()+" holds")
			text := read(t, back)
			got, problems := setup.Parse(back, []byte(text), setup.Options{NoPhotos: true})
			require.NotNil(t, got, "%s: %v\n%s", name, problems, text)
			assert.Equal(t, want, string(got.Canonical(setup.Nothing)), "%s from %s", name, file)
			assert.Equal(t, figures(t, s), figures(t, got), "%s from %s", name, file)
			if strings.HasSuffix(file, ".pdf") && len(s.Source().Setup) > 0 {
				for line := range strings.Lines(read(t, name)) {
					if strings.HasPrefix(line, "#") {
						assert.Contains(t, text, line, "%s from %s: its comments", name, file)
					}
				}
			}
		}
	}
}

// figures are a setup's own numbers, to the last digit.
func figures(t *testing.T, s *setup.Setup) string {
	t.Helper()
	bases, err := s.ChooseBases("")
	require.NoError(t, err)
	b, err := json.Marshal(exposure.Compute(s.Input(bases)))
	require.NoError(t, err)
	return string(b)
}
