package hardware

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// seeds are the cells of every table and every bullet in the clean cases and the library.
func seeds(f *testing.F) {
	for _, folder := range []string{"../../testdata/clean", "../../procedures"} {
		files, _ := filepath.Glob(filepath.Join(folder, "*.md"))
		for _, file := range files {
			raw, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			for line := range strings.Lines(string(raw)) {
				for _, cell := range strings.Split(strings.Trim(line, "-| \n"), "|") {
					if cell = strings.TrimSpace(cell); cell != "" && len(cell) < 80 && (strings.HasPrefix(line, "|") || strings.HasPrefix(line, "- ")) {
						f.Add(cell)
					}
				}
			}
		}
	}
}

// What is understood lies inside the cell, in order, apart from one another; sums are numbers; nothing panics.
func FuzzParseSpec(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, cell string) {
		s := ParseSpec(cell)
		end := 0
		for _, x := range s.Items {
			if x.Start < end || x.End <= x.Start || x.End > len(cell) {
				t.Fatalf("%q: %s from %d to %d", cell, x.Kind, x.Start, x.End)
			}
			end = x.End
		}
		for _, o := range s.Odd {
			if o.Start < 0 || o.End <= o.Start || o.End > len(cell) || o.Typed != cell[o.Start:o.End] {
				t.Fatalf("%q: %+v", cell, o)
			}
		}
		if p, ok := s.ProofLoad(); ok && !(p.Load > 0 && p.Load < math.MaxFloat64) {
			t.Fatalf("%q: %+v", cell, p)
		}
		if k := s.Friction(); !(k.Low > 0 && k.Low <= k.High) {
			t.Fatalf("%q: %+v", cell, k)
		}
		takes, _ := Fastener{"cover bolt", s}.Takes()
		Sizes(takes)
	})
}

// A tool that goes with a size goes with what takes that size, whatever its other words say.
func FuzzParseTool(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, bullet string) {
		name, detail, _ := strings.Cut(bullet, ",")
		tool := ParseTool(name, detail)
		if tool.Size == nil || !tool.Turns() {
			return
		}
		for _, size := range append([]Size{*tool.Size}, tool.Others...) {
			if tool.FitsAny([]Fitting{{size, "its Spec", true}}, true) != DoesFit {
				t.Fatalf("%q does not turn its own size %+v", bullet, size)
			}
		}
	})
}
