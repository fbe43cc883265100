package check_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stopleaf/exposure/apex"
	"stopleaf/rebuild/check"
	"stopleaf/setup"
)

// parse reads a setup from YAML.
func parse(t testing.TB, yaml string) *setup.Setup {
	t.Helper()
	s, problems := setup.Parse("set.yaml", []byte(yaml), setup.Options{})
	require.NotNil(t, s, "%v", problems)
	return s
}

// read understands readings as words of a command line, all of them right.
func read(t testing.TB, s *setup.Setup, today check.Today, words ...string) check.Today {
	t.Helper()
	r := check.NewReader(s, today.ISO, today.ShutterS)
	for _, w := range words {
		r.Word(w)
	}
	given, problems := r.Readings()
	require.Empty(t, problems)
	today.Readings = given
	return today
}

// run checks words against a setup.
func run(t testing.TB, s *setup.Setup, today check.Today, words ...string) check.Result {
	t.Helper()
	return check.Run(s, read(t, s, today, words...))
}

// finding is the one of a name, metered or not.
func finding(t testing.TB, r check.Result, name string) check.Finding {
	t.Helper()
	for _, f := range append(r.Lights, r.ToMeter...) {
		if f.Name == name {
			return f
		}
	}
	require.Fail(t, "no such light", name)
	return check.Finding{}
}

// remedy is the first of a kind, nil for none.
func remedy(list []check.Remedy, kind string) *check.Remedy {
	for i := range list {
		if list[i].Kind == kind {
			return &list[i]
		}
	}
	return nil
}

func p(x float64) *float64 { return &x }

// av is the aperture of a mark.
func av(t testing.TB, mark string) *float64 {
	t.Helper()
	r, err := apex.ParseReading(mark, apex.Notation{})
	require.NoError(t, err)
	return &r.Value
}
