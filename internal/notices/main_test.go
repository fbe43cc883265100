package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNoticesAreUpToDate(t *testing.T) {
	want, err := generate()
	require.NoError(t, err)
	got, err := os.ReadFile(filepath.Join("..", "..", "NOTICES"))
	require.NoError(t, err)
	assert.True(t, string(want) == string(got), "NOTICES is out of date: go run ./internal/notices > NOTICES")
}

func TestModuleWithoutLicenceIsAnError(t *testing.T) {
	_, err := licences(t.TempDir())
	assert.ErrorContains(t, err, "no licence")
}
