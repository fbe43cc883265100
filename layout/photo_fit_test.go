package layout_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/setup"
	"stopleaf/setup/photo"
	"stopleaf/templates"
)

// photoJobs are setups in a folder of their own that name a photo twice and one
// that both name; edit changes each photo's bytes.
func photoJobs(t *testing.T, edit func(name string, b []byte) []byte) []layout.Job {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"bread-result.jpg", "bread-set.jpg"} {
		b, err := templates.Read("demo/" + name)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), edit(name, b), 0o600))
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "stopleaf.yaml"), []byte("photo resolution: 100\n"), 0o600))
	src := `title: Twice
photos:
  - {file: bread-result.jpg, shows: result, caption: the caption}
  - {file: bread-set.jpg, shows: set, caption: the caption}
  - {file: bread-result.jpg, shows: set}
lights: [{name: Key, role: key}, {name: Fill, role: fill, delta: 1 under}]
`
	var jobs []layout.Job
	shared := &setup.Shared{}
	for _, name := range []string{"a.yaml", "b.yaml"} {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte(src), 0o600))
		s, problems := setup.Read(path, setup.Options{Shared: shared})
		require.NotNil(t, s, "%v", problems)
		job, err := jobOf(s, wording(t))
		require.NoError(t, err)
		jobs = append(jobs, job)
	}
	return jobs
}

func asTheyAre(_ string, b []byte) []byte { return b }

func images(doc *layout.Document) (list []*layout.Image) {
	for i := range doc.Pages {
		layout.Walk(doc.Pages[i].Items, func(it layout.Item) {
			if v, ok := it.(*layout.Image); ok {
				list = append(list, v)
			}
		})
	}
	return list
}

// However many places and sizes a photo has in a document, it is decoded once.
func TestPhotosAreDecodedOnce(t *testing.T) {
	jobs := photoJobs(t, asTheyAre)
	before := photo.Decoded.Load()
	doc, err := layout.Sheet(jobs, layout.SheetOptions{})
	require.NoError(t, err)
	assert.EqualValues(t, 2, photo.Decoded.Load()-before, "two photos")
	wide := map[int]bool{}
	for _, v := range images(doc) {
		wide[v.PxW] = true
	}
	assert.Len(t, images(doc), 6)
	assert.Greater(t, len(wide), 2, "in several sizes: %v", wide)

	before = photo.Decoded.Load()
	_, err = layout.Sheet(jobs, layout.SheetOptions{})
	require.NoError(t, err)
	_, err = layout.Stands(jobs, layout.StandsOptions{})
	require.NoError(t, err)
	assert.Zero(t, photo.Decoded.Load()-before, "not again for the same sizes")

	// where all keep one size, each is there once
	jobs = photoJobs(t, asTheyAre)
	for i := range jobs {
		jobs[i].PhotoLong = 600
	}
	before = photo.Decoded.Load()
	data := map[*byte]bool{}
	for _, job := range jobs {
		for _, lay := range []func() (*layout.Document, error){
			func() (*layout.Document, error) { return layout.Card([]layout.Job{job}, layout.CardOptions{}) },
			func() (*layout.Document, error) { return layout.Sheet([]layout.Job{job}, layout.SheetOptions{}) },
		} {
			doc, err := lay()
			require.NoError(t, err)
			for _, v := range images(doc) {
				assert.Equal(t, 600, max(v.PxW, v.PxH))
				data[&v.Data[0]] = true
			}
		}
	}
	assert.Len(t, data, 2)
	assert.EqualValues(t, 2, photo.Decoded.Load()-before)
}

// A photo that turns out to be damaged leaves ruled spaces with its caption, and
// nothing of it in them; the other photos stand.
func TestDamagedPhotosLeaveSpaces(t *testing.T) {
	jobs := photoJobs(t, func(name string, b []byte) []byte {
		if name == "bread-set.jpg" {
			return append(b[:len(b)*2/3:len(b)*2/3], 0xFF, 0xD9)
		}
		return b
	})
	doc, err := layout.Sheet(jobs, layout.SheetOptions{})
	require.NoError(t, err)
	spaces, captions := 0, 0
	for i := range doc.Pages {
		assert.Empty(t, layout.Check(&doc.Pages[i]))
		layout.Walk(doc.Pages[i].Items, func(it layout.Item) {
			switch v := it.(type) {
			case *layout.Path:
				if v.Kind == "blank" {
					spaces++
				}
			case *layout.Text:
				if v.S == "the caption" {
					captions++
				}
			}
		})
	}
	whole, err := layout.Sheet(photoJobs(t, asTheyAre), layout.SheetOptions{})
	require.NoError(t, err)
	lost := len(images(whole)) - len(images(doc))
	assert.Positive(t, lost)
	assert.Positive(t, len(images(doc)))
	assert.Equal(t, 4, captions)
	spacesBefore := 0
	for i := range whole.Pages {
		layout.Walk(whole.Pages[i].Items, func(it layout.Item) {
			if v, ok := it.(*layout.Path); ok && v.Kind == "blank" {
				spacesBefore++
			}
		})
	}
	assert.Equal(t, lost, spaces-spacesBefore)
	assert.NotEmpty(t, jobs[0].Setup.BrokenPhotos(true))
}
