package templates

import (
	"io/fs"
	"strings"
)

// Walk gives the names of the files in one embedded folder and in the folders
// below it, sorted, with slashes: Walk("demo") may give "photos/portrait.jpg".
// Hidden files are left out.
func Walk(folder string) ([]string, error) {
	var names []string
	err := fs.WalkDir(files, folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || strings.HasPrefix(e.Name(), ".") {
			return err
		}
		names = append(names, strings.TrimPrefix(path, folder+"/"))
		return nil
	})
	return names, err
}
