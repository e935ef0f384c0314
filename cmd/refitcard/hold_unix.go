//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package main

import (
	"os"
	"syscall"
)

// hold locks a file until it is closed, or the program ends in whatever way. Where a disk knows no locks, a run that sweeps
// leaves all files alone.
func hold(f *os.File) {
	_ = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
}

// removeUnheld removes a file that no program holds.
func removeUnheld(name string) {
	f, err := os.OpenFile(name, os.O_RDONLY|syscall.O_NOFOLLOW|syscall.O_NONBLOCK, 0)
	if err != nil {
		return
	}
	defer f.Close()
	if syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == nil {
		os.Remove(name)
	}
}
