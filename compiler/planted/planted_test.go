package planted_test

import (
	"fmt"
	"os"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

// The names in the environment that ask for the long run, and for one seed alone as a failure prints it; and how many procedures
// are made in the usual and in the long run.
const (
	longRun = "REFITCARD_LONG"
	oneSeed = "REFITCARD_SEED"
	usual   = 300
	long    = 10000
)

// repeated gives the seed that is to be run alone.
func repeated(t *testing.T) (seed uint64, alone bool) {
	text := os.Getenv(oneSeed)
	if text == "" {
		return 0, false
	}
	seed, err := strconv.ParseUint(text, 10, 64)
	if err != nil {
		t.Fatalf("%s=%q is no seed", oneSeed, text)
	}
	return seed, true
}

func rounds() uint64 {
	if os.Getenv(longRun) != "" {
		return long
	}
	return usual
}

// style are checks of how long a step reads: the maker packs steps as it comes, and has no ear.
var style = map[string]bool{"wording/long": true, "wording/many-acts": true}

func findings(text string) []diag.Finding {
	lib := compiler.Open(fstest.MapFS{}, func(path string) string { return path })
	list := lib.CompileText("job.md", []byte(text), rules.Options{}).Findings
	return slices.DeleteFunc(list, func(f diag.Finding) bool { return f.Waived != "" || style[f.Rule] })
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

// spread runs a check for each number below n, on all processors, and gives what each said: empty when all is well. The
// order of the answers is that of the numbers.
func spread(n uint64, check func(i uint64) string) []string {
	said := make([]string, n)
	var next atomic.Uint64
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for i := next.Add(1) - 1; i < n; i = next.Add(1) - 1 {
				said[i] = caught(i, check)
			}
		})
	}
	all.Wait()
	return said
}

// caught runs one check and tells of a panic in it, so that the number is known.
func caught(i uint64, check func(uint64) string) (said string) {
	defer func() {
		if x := recover(); x != nil {
			said = fmt.Sprintf("number %d panics: %v\n%s", i, x, debug.Stack())
		}
	}()
	return check(i)
}

// shown is how many procedures with a wrong answer are printed in full.
const shown = 4

// What is correct by the way it was made is correct for the compiler.
func TestPlantedNothing(t *testing.T) {
	wrong, n, first := 0, rounds(), uint64(0)
	if seed, alone := repeated(t); alone {
		n, first = 1, seed
	}
	for _, s := range spread(n, func(i uint64) string {
		seed := first + i
		m := made(seed)
		m.oddly()
		text := m.d.String()
		if list := findings(text); len(list) > 0 {
			return fmt.Sprintf("seed %d is not silent:%s\n\n%s", seed, told(list), text)
		}
		return ""
	}) {
		if s == "" {
			continue
		}
		if wrong++; wrong <= shown {
			t.Error(s)
		}
	}
	t.Logf("%d procedures, %d not silent", n, wrong)
}

// faults is the table of slips.
func faults() []fault {
	return slices.Concat(ledgerFaults(), stateFaults(), toolFaults(), wordFaults(), torqueFaults(), furtherFaults())
}

// One slip gives one finding: that one, there, and nothing else.
func TestPlantedFaults(t *testing.T) {
	table := faults()
	names := map[string]bool{}
	for _, f := range table {
		if names[f.name] || f.rule == "" || (f.other == "") != (f.why == "") {
			t.Errorf("%q stands in the table twice, has no rule, or no reason for a second one", f.name)
		}
		names[f.name] = true
	}
	wrong, n := map[string]int{}, rounds()
	from := func(i uint64) uint64 { return i * 1000 }
	if seed, alone := repeated(t); alone { // every kind, where the procedure of the seed has a place for it
		n, from = uint64(len(table)), func(uint64) uint64 { return seed }
	}
	for i, s := range spread(n, func(i uint64) string { return plantedOne(table[i%uint64(len(table))], from(i)) }) {
		if s == "" {
			continue
		}
		name := table[i%len(table)].name
		if wrong[name]++; wrong[name] == 1 {
			t.Error(s)
		}
	}
	for _, f := range table {
		if wrong[f.name] > 0 {
			t.Errorf("%s: %d wrong", f.name, wrong[f.name])
		}
	}
	t.Logf("%d faults of %d kinds, %d kinds wrong", n, len(table), len(wrong))
}

// plantedOne plants one fault and tells what is wrong with what the compiler says of it.
func plantedOne(f fault, from uint64) string {
	p, seed := planted(f, from)
	if p == nil {
		return f.name + ": no procedure has a place for it"
	}
	text := p.d.String()
	list := findings(text)
	if f.rule == "energy/not-cleared" { // the check that is gone was the test of the work too
		list = slices.DeleteFunc(list, func(x diag.Finding) bool { return x.Rule == "record/no-test" })
	}
	wrong := p.meets(f, text, list)
	if wrong == "" {
		return ""
	}
	return fmt.Sprintf("%s (seed %d), wanted %s on line %d, %q: %s%s\n\n%s", f.name, seed, f.rule, p.want.lineOf(p.d), p.want.words, wrong, told(list), text)
}

// planted makes procedures from a seed on until one has a place for the fault.
func planted(f fault, seed uint64) (*plan, uint64) {
	for last := seed + 400; seed < last; seed++ {
		p := &plan{maker: made(seed)}
		if f.plant(p) {
			p.oddly()
			return p, seed
		}
	}
	return nil, seed
}
