package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"github.com/fsnotify/fsnotify"
)

// quiet is how long the files must rest before a new drawing: editors save in
// several steps.
const quiet = 120 * time.Millisecond

// watch draws, and draws again whenever a file that was read is saved, until it
// is interrupted. Problems are printed and do not end it.
func (d *drawer) watch() error {
	for _, op := range d.operands {
		if op == "-" {
			return &usageError{"--watch cannot follow standard input", "name a file"}
		}
	}
	if d.set["output"] == "-" {
		return &usageError{"--watch cannot write to standard output again and again", "give -o NAME"}
	}
	ctx, stop := signal.NotifyContext(d.ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return &fileError{message: "could not watch files: " + reason(err)}
	}
	defer w.Close()
	seen := &watched{watcher: w, files: map[string]bool{}, folders: map[string]bool{}}
	for {
		if err := d.redraw(seen); err != nil {
			return err
		}
		files := "1 file"
		if n := len(seen.files); n != 1 {
			files = fmt.Sprintf("%d files", n)
		}
		d.say("watching %s; interrupt to end", files)
		changed, err := seen.wait(ctx)
		if err != nil || changed == "" {
			return err
		}
		d.say("%s changed", changed)
	}
}

// redraw draws once and follows what was read. Only a wrong command line ends a
// watch.
func (d *drawer) redraw(seen *watched) error {
	if err := seen.follow(d.operands); err != nil {
		return err
	}
	inputs, err := d.draw()
	var usage *usageError
	if errors.As(err, &usage) {
		return err
	}
	if err != nil && !errors.Is(err, errReported) {
		d.fail(err)
	}
	return seen.follow(inputs)
}

// watched is the files that are followed. Their folders are what is watched,
// for an editor that saves by renaming takes the watched file away.
type watched struct {
	watcher *fsnotify.Watcher
	files   map[string]bool // absolute; of a folder that was named, the folder
	folders map[string]bool
}

// follow adds files and the folders they lie in. A folder that is not there
// (yet) is passed over.
func (w *watched) follow(names []string) error {
	for _, name := range names {
		path, err := filepath.Abs(name)
		if err != nil {
			return &fileError{message: fmt.Sprintf("could not watch %q: %s", name, reason(err))}
		}
		w.files[path] = true
		folder := filepath.Dir(path)
		if info, err := os.Stat(path); err == nil && info.IsDir() {
			folder = path
		}
		if w.folders[folder] {
			continue
		}
		if err := w.watcher.Add(folder); err != nil {
			if errors.Is(err, os.ErrNotExist) {
				continue
			}
			return &fileError{message: fmt.Sprintf("could not watch folder %q: %s", folder, reason(err))}
		}
		w.folders[folder] = true
	}
	return nil
}

// concerns reports whether an event is about a file that is followed, or a
// setup in a folder that is.
func (w *watched) concerns(e fsnotify.Event) bool {
	if e.Op == fsnotify.Chmod {
		return false
	}
	return w.files[e.Name] || w.files[filepath.Dir(e.Name)] && looksLikeSetup(e.Name)
}

// wait gives the name of the file that was saved, once the files rest; "" when
// ctx is done.
func (w *watched) wait(ctx context.Context) (string, error) {
	changed := ""
	var rested <-chan time.Time
	for {
		select {
		case <-ctx.Done():
			return "", nil
		case e, open := <-w.watcher.Events:
			if !open {
				return "", nil
			}
			if w.concerns(e) {
				if changed == "" {
					changed = filepath.Base(e.Name)
				}
				rested = time.After(quiet)
			}
		case err, open := <-w.watcher.Errors:
			if !open {
				return "", nil
			}
			return "", &fileError{message: "could not watch files: " + reason(err)}
		case <-rested:
			return changed, nil
		}
	}
}
