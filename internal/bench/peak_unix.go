//go:build unix

package main

import (
	"os"
	"runtime"
	"syscall"
)

// peakMB is the most memory that a process held at once, in megabytes. Linux
// counts it in KiB, others in bytes; it is never less than what this program held
// when it started the process.
func peakMB(p *os.ProcessState) float64 {
	usage, ok := p.SysUsage().(*syscall.Rusage)
	if !ok {
		return 0
	}
	if runtime.GOOS == "linux" {
		return float64(usage.Maxrss) * 1024 / 1e6
	}
	return float64(usage.Maxrss) / 1e6
}
