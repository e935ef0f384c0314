package main

import (
	"bytes"
	"fmt"
	"os/exec"
	"slices"
	"time"
)

// ran is what a program that has ended took: processor time with that of the programs that it started, time by the clock, and
// the most memory in bytes that it held.
type ran struct {
	spent, clock time.Duration
	peak         int64
}

// run starts a program and waits for it. A check that finds something ends with 1, and that is no failure here.
func run(name string, args ...string) (ran, error) {
	c := exec.Command(name, args...)
	var said bytes.Buffer
	c.Stderr = &said
	begun := time.Now()
	err := c.Run()
	clock := time.Since(begun)
	if err != nil && (c.ProcessState == nil || c.ProcessState.ExitCode() != 1) {
		return ran{}, fmt.Errorf("%s: %w: %s", name, err, said.String())
	}
	return ran{c.ProcessState.UserTime() + c.ProcessState.SystemTime(), clock, peak(c.ProcessState)}, nil
}

// spread is a median with its least and its most.
type spread struct{ least, median, most float64 }

func spreadOf(all []float64) spread {
	sorted := slices.Sorted(slices.Values(all))
	return spread{sorted[0], sorted[len(sorted)/2], sorted[len(sorted)-1]}
}

// times prints a spread as a ratio: "2.3 × (2.1 to 2.6)".
func (s spread) times() string {
	return fmt.Sprintf("%.3g × (%.3g to %.3g)", s.median, s.least, s.most)
}

// ratio is how many times as long one took as the other, in processor time.
func ratio(one, other ran) float64 { return float64(one.spent) / float64(max(other.spent, 1)) }

// byClock is the same by the clock.
func byClock(one, other ran) float64 { return float64(one.clock) / float64(max(other.clock, 1)) }

func mebibytes(n int64) string { return fmt.Sprintf("%.0f MiB", float64(n)/(1<<20)) }

// percentiles prints the 99th percentile and the median of times in ms.
func percentiles(all []float64) string {
	sorted := slices.Sorted(slices.Values(all))
	return fmt.Sprintf("99th %.3g ms, median %.3g", sorted[len(sorted)*99/100], sorted[len(sorted)/2])
}
