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
		text := made(seed).d.String()
		if list := findings(text); len(list) > 0 {
			t.Errorf("seed %d is not silent:%s\n\n%s", seed, told(list), text)
			if bad++; bad == 5 {
				t.FailNow()
			}
		}
	}
}

// faults is the table of slips.
func faults() []fault {
	return slices.Concat(ledgerFaults(), stateFaults(), toolFaults(), wordFaults(), torqueFaults())
}

// One slip gives one finding: that one, there, and nothing else.
func TestPlantedFaults(t *testing.T) {
	table := faults()
	bad := map[string]int{}
	for i := range rounds() {
		f := table[i%uint64(len(table))]
		p, seed := planted(f, i*1000)
		if p == nil {
			t.Errorf("%s: no procedure has a place for it", f.name)
			continue
		}
		text := p.d.String()
		list := findings(text)
		if wrong := p.meets(f, text, list); wrong != "" {
			bad[f.name]++
			if bad[f.name] == 1 {
				t.Errorf("%s (seed %d), wanted %s on line %d, %q: %s%s\n\n%s", f.name, seed, f.rule, p.want.lineOf(p.d), p.want.words, wrong, told(list), text)
			}
		}
	}
	for name, n := range bad {
		t.Errorf("%s: %d wrong", name, n)
	}
}

// planted makes procedures from a seed on until one has a place for the fault.
func planted(f fault, seed uint64) (*plan, uint64) {
	for last := seed + 400; seed < last; seed++ {
		p := &plan{maker: made(seed)}
		if f.plant(p) {
			return p, seed
		}
	}
	return nil, seed
}
