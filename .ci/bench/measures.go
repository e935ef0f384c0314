package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"runtime/debug"
	"strconv"
	"testing/fstest"
	"time"

	"refitcard/compiler"
	"refitcard/compiler/rules"
)

// bencher is one run of the benchmark.
type bencher struct {
	dir     string // for what is made; it is taken away
	samples map[string][]byte
	program string
}

// check holds a check of a library of 2,000 procedures against parsing the same files, both as whole programs.
func (b *bencher) check() error {
	const procedures, rounds = 2000, 7
	dir := filepath.Join(b.dir, "check")
	if err := written(dir, library(b.samples, procedures)); err != nil {
		return err
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	var all []float64
	var most int64
	for range rounds {
		ours, err := run(b.program, "check", "--quiet", dir)
		if err != nil {
			return err
		}
		theirs, err := run(self, rivalArgument, dir)
		if err != nil {
			return err
		}
		all, most = append(all, ratio(ours, theirs)), max(most, ours.peak)
	}
	row("check 2,000 procedures, to goldmark parsing them", spreadOf(all).times(), "1.6 ×", "2 ×")
	row("  peak memory of it", mebibytes(most), "", "")
	return nil
}

var toBare = regexp.MustCompile(`([\d.]+) ×bare-fpdf`)

// draw asks the benchmark of the folder that draws, which holds it against bare fpdf with the same words and boxes.
func (b *bencher) draw() error {
	const work = "draw a card, to bare fpdf with Helvetica"
	out, err := exec.Command("go", "test", "-run", "^$", "-bench", "^BenchmarkWrite$", "-benchtime", "0.3s", "-count", "7", "./render/pdf").CombinedOutput()
	if err != nil {
		return fmt.Errorf("go test ./render/pdf: %w\n%s", err, out)
	}
	var all []float64
	for _, m := range toBare.FindAllStringSubmatch(string(out), -1) {
		f, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			return err
		}
		all = append(all, f)
	}
	if len(all) == 0 {
		without(work, "the benchmark of render/pdf gives no ratio")
		return nil
	}
	row(work, spreadOf(all).times(), "1 ×", "1.5 ×")
	return nil
}

// pandoc makes a PDF of one procedure as a general converter does: through groff, by its program pdfroff.
func (b *bencher) pandoc(source string) (ran, error) {
	return run("pandoc", source, "-t", "ms", "-o", filepath.Join(b.dir, "plain.pdf"))
}

// rivals tells what is missing for a comparison with pandoc and groff, empty when nothing is.
func rivals() string {
	for _, name := range []string{"pandoc", "groff", "pdfroff"} {
		if _, err := exec.LookPath(name); err != nil {
			return name + " is not installed"
		}
	}
	return ""
}

// oneCard holds one procedure to its card against pandoc and groff.
func (b *bencher) oneCard() error {
	const work, rounds = "one file to card, faster than pandoc and groff", 15
	if why := rivals(); why != "" {
		without(work, why)
		return nil
	}
	source := filepath.Join("procedures", "rake-winch-end-cover.md")
	var all, clock []float64
	for range rounds {
		ours, err := run(b.program, "card", source, "-o", filepath.Join(b.dir, "card.pdf"))
		if err != nil {
			return err
		}
		theirs, err := b.pandoc(source)
		if err != nil {
			return err
		}
		all, clock = append(all, ratio(theirs, ours)), append(clock, byClock(theirs, ours))
	}
	row(work, spreadOf(all).times(), "12 ×", "8 ×")
	row("  by the clock", spreadOf(clock).times(), "", "")
	return nil
}

// hundredCards holds a hundred procedures to cards in one call against a hundred calls of pandoc and groff.
func (b *bencher) hundredCards() error {
	const work, procedures, rounds = "a hundred files to cards, likewise", 100, 3
	dir := filepath.Join(b.dir, "cards")
	if err := written(dir, library(b.samples, procedures)); err != nil {
		return err
	}
	var sources []string
	for i := range procedures {
		sources = append(sources, filepath.Join(dir, fmt.Sprintf("%s%05d.md", copied, i)))
	}
	why := rivals()
	var all, clock []float64
	var most int64
	for range rounds {
		ours, err := run(b.program, append([]string{"card", "--quiet", "-o", filepath.Join(b.dir, "out") + "/"}, sources...)...)
		if err != nil {
			return err
		}
		most = max(most, ours.peak)
		if why != "" {
			continue
		}
		var theirs ran
		for _, source := range sources {
			one, err := b.pandoc(source)
			if err != nil {
				return err
			}
			theirs.spent, theirs.clock = theirs.spent+one.spent, theirs.clock+one.clock
		}
		all, clock = append(all, ratio(theirs, ours)), append(clock, byClock(theirs, ours))
	}
	if why != "" {
		without(work, why)
	} else {
		row(work, spreadOf(all).times(), "45 ×", "25 ×")
		row("  by the clock", spreadOf(clock).times(), "", "")
	}
	row("  peak memory of a hundred cards", mebibytes(most), "32 MiB", "64 MiB")
	return nil
}

// keystroke gives how long it is from a letter typed to the findings in a procedure of 2,000 steps, as the editor's server has it
// compiled: letters are typed all over the text, each taken back by the next stroke. Garbage is collected between strokes, as the
// server does it in its pauses.
func (b *bencher) keystroke() error {
	const steps, strokes = 2000, 300
	text := manySteps(steps)
	lib := compiler.Open(fstest.MapFS{}, func(path string) string { return path })
	desk := compiler.NewDesk("job.md")
	desk.Begin(lib, []byte(text), rules.Options{})()
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	runtime.GC()
	var clock, processor []float64
	for i := range strokes {
		typed := []byte(text)
		if i%2 == 0 {
			at := len(text) * (i + 1) / (strokes + 2)
			typed = []byte(text[:at] + "e" + text[at:])
		}
		begun, before := time.Now(), spent()
		desk.Begin(lib, typed, rules.Options{})()
		clock = append(clock, float64(time.Since(begun).Microseconds())/1000)
		processor = append(processor, float64((spent()-before).Microseconds())/1000)
		if i%10 == 0 {
			runtime.GC()
		}
	}
	row("findings after a keystroke, 2,000 steps", percentiles(processor), "5 ms", "20 ms")
	row("  by the clock", percentiles(clock), "", "")
	return nil
}
