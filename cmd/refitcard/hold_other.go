//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package main

import "os"

// hold does nothing: Windows does not remove a file that is open.
func hold(*os.File) {}

// removeUnheld removes a file; where somebody has it open, that fails, as it should.
func removeUnheld(name string) { os.Remove(name) }
