package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// BenchmarkCardOfOneFile gives the time from one procedure to its card as a multiple of what a general converter (pandoc with
// groff, to PDF) takes for the same text, in one run. Both are started as programs. Without pandoc only our time is told.
func BenchmarkCardOfOneFile(b *testing.B) {
	dir := b.TempDir()
	program := filepath.Join(dir, "refitcard")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v: %s", err, out)
	}
	source := filepath.Join(samples, "rake-winch-end-cover.md")
	_, noPandoc := exec.LookPath("pandoc")
	var ours, theirs time.Duration
	for b.Loop() {
		begun := time.Now()
		if out, err := exec.Command(program, "card", source, "-o", filepath.Join(dir, "card.pdf")).CombinedOutput(); err != nil {
			b.Fatalf("%v: %s", err, out)
		}
		ours += time.Since(begun)
		if noPandoc == nil {
			begun = time.Now()
			c := exec.Command("pandoc", source, "-t", "ms", "--pdf-engine=groff", "-o", filepath.Join(dir, "plain.pdf"))
			c.Stderr = os.Stderr
			if err := c.Run(); err != nil {
				b.Fatal(err)
			}
			theirs += time.Since(begun)
		}
	}
	b.ReportMetric(float64(ours.Milliseconds())/float64(b.N), "ms/card")
	if noPandoc == nil {
		b.ReportMetric(float64(theirs)/float64(ours), "×faster-than-pandoc-groff")
	}
}

// BenchmarkCardsOfTheLibrary gives the time for all sheets of the sample library.
func BenchmarkCardsOfTheLibrary(b *testing.B) {
	for b.Loop() {
		run(b, done, "press", samples, "-o", b.TempDir(), "--quiet")
	}
}
