//go:build unix

package compiler_test

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"testing/fstest"
	"time"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/text"

	"refitcard/compiler"
	"refitcard/compiler/rules"
)

// samples reads the procedures of the sample library that stand for themselves.
func samples(b *testing.B) (fsys fstest.MapFS, names []string) {
	b.Helper()
	fsys = fstest.MapFS{}
	root := filepath.Join("..", "procedures")
	err := filepath.WalkDir(root, func(name string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		raw, err := os.ReadFile(name)
		rel, _ := filepath.Rel(root, name)
		fsys[filepath.ToSlash(rel)] = &fstest.MapFile{Data: raw}
		if filepath.Ext(name) == ".md" && !strings.Contains(rel, string(filepath.Separator)) {
			names = append(names, filepath.ToSlash(rel))
		}
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
	return fsys, names
}

// spent is the time that the processor has spent on this process: a busy machine does not change it.
func spent(b *testing.B) time.Duration {
	b.Helper()
	var use syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &use); err != nil {
		b.Fatal(err)
	}
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}

// BenchmarkCheck gives the time of a whole check as a multiple of goldmark's alone over the same bytes, in one run: the ratio
// holds on any machine.
func BenchmarkCheck(b *testing.B) {
	fsys, names := samples(b)
	lib := compiler.Open(fsys, func(path string) string { return path })
	parser := goldmark.New(goldmark.WithExtensions(extension.Table)).Parser()
	if _, err := lib.Compile(names[0], rules.Options{}); err != nil { // opens the register once
		b.Fatal(err)
	}
	var ours, theirs time.Duration
	for b.Loop() {
		begun := spent(b)
		for _, n := range names {
			if _, err := lib.Compile(n, rules.Options{}); err != nil {
				b.Fatal(err)
			}
		}
		ours += spent(b) - begun
		begun = spent(b)
		for _, n := range names {
			parser.Parse(text.NewReader(fsys[n].Data))
		}
		theirs += spent(b) - begun
	}
	b.ReportMetric(float64(ours)/float64(theirs), "×goldmark")
	b.ReportMetric(float64(ours.Microseconds())/float64(b.N*len(names)), "µs/procedure")
}
