package planted_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

// Each name of the environment that asks for the long run, and how many procedures are made in either.
const (
	longRun = "REFITCARD_LONG"
	usual   = 300
	long    = 10000
)

func rounds() uint64 {
	if os.Getenv(longRun) != "" {
		return long
	}
	return usual
}

func findings(text string) []diag.Finding {
	lib := compiler.Open(fstest.MapFS{}, func(path string) string { return path })
	list := lib.CompileText("job.md", []byte(text), rules.Options{}).Findings
	return slices.DeleteFunc(list, func(f diag.Finding) bool { return f.Waived != "" })
}

func told(list []diag.Finding) string {
	var b strings.Builder
	for _, f := range list {
		line := 0
		if f.At.Known() {
			line = f.At.File.Line(f.At.Start)
		}
		fmt.Fprintf(&b, "\n  line %d, %q: %s: %s", line, f.At.Text(), f.Rule, f.Message)
	}
	return b.String()
}

// What is correct by the way it was made is correct for the compiler.
func TestPlantedNothing(t *testing.T) {
	bad := 0
	for seed := range rounds() {
		text := made(seed).String()
		if list := findings(text); len(list) > 0 {
			t.Errorf("seed %d is not silent:%s\n\n%s", seed, told(list), text)
			if bad++; bad == 5 {
				t.FailNow()
			}
		}
	}
}
