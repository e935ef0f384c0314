//go:build unix

package main

import (
	"os"
	"syscall"
	"time"
)

// spent is the time that the processor has spent on this process: a busy machine changes it little.
func spent() time.Duration {
	var use syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &use) != nil {
		return 0
	}
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}

// peak is the most memory, in bytes, that a program that has ended held at one time. Linux counts in KiB.
func peak(state *os.ProcessState) int64 {
	use, ok := state.SysUsage().(*syscall.Rusage)
	if !ok {
		return 0
	}
	return use.Maxrss << 10
}
