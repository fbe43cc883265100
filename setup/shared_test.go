package setup

import (
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/templates"
)

// A photo that several setups name is read once, also by several at a time, and
// one that is not kept is read again.
func TestSharedPhotos(t *testing.T) {
	dir := t.TempDir()
	jpeg, err := templates.Read("demo/bread-set.jpg")
	require.NoError(t, err)
	var names []string
	for i := range 12 {
		name := filepath.Join(dir, fmt.Sprintf("%d.yaml", i))
		photo := fmt.Sprintf("%d.jpg", i/6)
		src := "title: T\nphotos: [" + photo + "]\nlights: [{name: Key, role: key}]\n"
		require.NoError(t, os.WriteFile(name, []byte(src), 0o600))
		require.NoError(t, os.WriteFile(filepath.Join(dir, photo), jpeg, 0o600))
		names = append(names, name)
	}
	read := func(shared *Shared) []*Setup {
		list := make([]*Setup, len(names))
		var wg sync.WaitGroup
		for i, name := range names {
			wg.Go(func() { list[i], _ = Read(name, Options{Shared: shared}) })
		}
		wg.Wait()
		for _, s := range list {
			require.NotNil(t, s)
			require.NotNil(t, s.Photos[0].Picture)
		}
		return list
	}
	list := read(&Shared{})
	for i, s := range list {
		assert.Same(t, list[i/6*6].Photos[0].Picture, s.Photos[0].Picture)
	}
	assert.NotSame(t, list[0].Photos[0].Picture, list[6].Photos[0].Picture)

	// without room for two, the one that was asked for last stays
	shared := &Shared{held: mostHeld - int64(len(jpeg))}
	first, err := shared.photo(filepath.Join(dir, "0.jpg"), int64(len(jpeg)))
	require.NoError(t, err)
	_, err = shared.photo(filepath.Join(dir, "1.jpg"), int64(len(jpeg)))
	require.NoError(t, err)
	require.Len(t, shared.photos, 1)
	again, err := shared.photo(filepath.Join(dir, "0.jpg"), int64(len(jpeg)))
	require.NoError(t, err)
	assert.NotSame(t, first, again)
	assert.Equal(t, first.Data, again.Data)

	// one that cannot be read says so to everybody
	for range 2 {
		_, err = shared.photo(filepath.Join(dir, "none.jpg"), 0)
		assert.ErrorIs(t, err, os.ErrNotExist)
	}
}

// A setup is the same with its photos read with it or later.
func TestWithPhotos(t *testing.T) {
	dir := t.TempDir()
	jpeg, err := templates.Read("demo/bread-set.jpg")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "there.jpg"), jpeg, 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "broken.jpg"), []byte("none"), 0o600))
	name := filepath.Join(dir, "a.yaml")
	for photos, faults := range map[string]int{"there.jpg": 0, "there.jpg, {file: not.jpg, caption: Not there}": 1, "broken.jpg, there.jpg, not.jpg": 2} {
		require.NoError(t, os.WriteFile(name, []byte("title: T\nphotos: ["+photos+"]\nlights: [{name: Key, role: key}]\n"), 0o600))
		opt := Options{SkipPhotos: true, Shared: &Shared{}}
		want, wantProblems := Read(name, opt)
		require.NotNil(t, want)
		opt.NoPhotos = true
		bare, none := Read(name, opt)
		require.NotNil(t, bare)
		require.Empty(t, none)
		opt.NoPhotos = false
		got, problems := bare.WithPhotos(opt)
		assert.Equal(t, want, got)
		assert.Equal(t, wantProblems, problems)
		assert.Len(t, problems, faults)
		for _, p := range bare.Photos {
			assert.Nil(t, p.Picture)
			assert.NoError(t, p.Err)
		}
		for _, f := range []func(*Setup) []byte{func(s *Setup) []byte { return s.Canonical(Nothing) }, func(s *Setup) []byte { return s.Source().Setup }} {
			assert.NotEmpty(t, f(got))
			assert.Equal(t, f(want), f(got))
		}
		bare.Lean(nil)
		assert.Empty(t, bare.Canonical(Nothing))
		assert.Empty(t, bare.Canonical(Notes))
		assert.Empty(t, bare.Source())
	}
}
