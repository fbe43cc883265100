// Command stopleaf writes down a lighting setup and prints what rebuilds it:
// the numbers, a plan to scale and a card to tape up.
//
// It belongs here when it is about the command line: words, files, exit codes.
// What a setup means, what follows from it and how it is drawn belong to the
// packages setup, exposure, safety, layout and render.
//
// Results go to standard output or to the file named by -o, messages to
// standard error; "-" is standard input or output. A file is written whole or
// not at all, and never over one that was read.
package main

import (
	"context"
	"io"
	"os"
	"runtime/debug"
)

// The exit codes.
const (
	exitDone  = 0 // done, with warnings or without
	exitInput = 1 // the input has problems; proof found errors
	exitUsage = 2 // the command line is wrong
	exitFiles = 3 // something could not be read or written
)

func main() {
	// A run lives for milliseconds: collecting garbage sooner than after 16 MB
	// costs time and saves nothing.
	debug.SetGCPercent(400)
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run does what the command line asks and gives the exit code.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	return runContext(context.Background(), args, stdin, stdout, stderr)
}

// runContext is run that a watching command leaves when ctx is done.
func runContext(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c, err := parse(args)
	if err != nil {
		return (&call{stdout: stdout, stderr: stderr}).fail(err)
	}
	c.ctx, c.stdin, c.stdout, c.stderr = ctx, stdin, stdout, stderr
	if err := c.cmd.run(c); err != nil {
		return c.fail(err)
	}
	return exitDone
}
