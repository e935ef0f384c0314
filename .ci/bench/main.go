// Bench measures how fast the program is, as ratios to what a writer could use instead, all in one run: a ratio holds on any
// machine. It is run with make bench, from the top folder, and takes a few minutes. It proves nothing and fails by no clock.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
)

func main() {
	if len(os.Args) == 3 && os.Args[1] == rivalArgument {
		parseAll(os.Args[2])
		return
	}
	if err := bench(); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

// bench runs everything and prints the tables.
func bench() error {
	samples, err := readSamples("procedures")
	if err != nil {
		return fmt.Errorf("run it from the top folder: %w", err)
	}
	dir, err := os.MkdirTemp("", "bench-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	b := &bencher{dir: dir, samples: samples, program: filepath.Join(dir, "refitcard")}
	if out, err := exec.Command("go", "build", "-trimpath", "-o", b.program, "./cmd/refitcard").CombinedOutput(); err != nil {
		return fmt.Errorf("go build: %w\n%s", err, out)
	}
	fmt.Printf("%d processors, %s. Median of the runs, in brackets from the least to the most. All in processor time unless it says otherwise.\n\n", runtime.GOMAXPROCS(0), runtime.Version())
	fmt.Printf("%-52s %-26s %-12s %s\n", "work", "measured", "goal", "at least")
	for _, measure := range []func() error{b.check, b.draw, b.oneCard, b.hundredCards, b.keystroke} {
		if err := measure(); err != nil {
			return err
		}
	}
	b.grow()
	return nil
}

// row prints one line of the first table.
func row(work, measured, goal, least string) {
	fmt.Printf("%-52s %-26s %-12s %s\n", work, measured, goal, least)
}

// without says what is left out, and why.
func without(work, why string) { fmt.Printf("%-52s left out: %s\n", work, why) }
