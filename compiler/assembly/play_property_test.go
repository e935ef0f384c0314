package assembly_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"refitcard/compiler/assembly"
)

// stepOf draws one step out of acts that can be done, acts that can't, and what governs them.
func stepOf() *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		head := rapid.SampledFrom([]string{"", "", "", "{If it is wet} ", "{If it is dry} ", "{Otherwise} ", "{Repeat 2 times} ", "{Repeat until clean} ", "{for short} "}).Draw(t, "head")
		var acts []string
		for range rapid.IntRange(1, 3).Draw(t, "acts") {
			v := rapid.SampledFrom([]string{
				"remove", "install", "replace", "discard", "loosen", "tighten", "snug", "torque", "install new", "install old",
				"torque low", "turn on",
			}).Draw(t, "verb")
			n := rapid.SampledFrom([]string{"1", "2", "3", "4", "all", "the remaining"}).Draw(t, "count")
			what := rapid.SampledFrom([]string{"caps", "bolts", "seals", "pins", "shims", "nuts"}).Draw(t, "part")
			verb, mark, _ := strings.Cut(v, " ")
			switch {
			case mark == "low":
				acts = append(acts, fmt.Sprintf("{torque %s %s to 5 N·m}", n, what))
			case mark == "on":
				acts = append(acts, fmt.Sprintf("{torque %s %s then 90°}", n, what))
			default:
				acts = append(acts, fmt.Sprintf("{%s %s %s %s}", verb, n, mark, what))
			}
			other := rapid.SampledFrom([]string{
				"", "", "{open the hatch}", "{close the hatch}", "{raise the jib}", "{lower the jib}", "{insert 2 wedges}", "{withdraw 1 wedge}",
				"{drain the oil}", "{fill the oil}", "{lock off the fan}", "{unlock the fan}", "{check the fan}", "{support the jib}",
				"{release the jib}", "{instal the caps}",
			}).Draw(t, "other")
			acts = append(acts, other)
		}
		return head + strings.Join(acts, " ")
	})
}

// Whatever the steps say: no panic, no more units on or off than there are, every place inside the file, and one text always
// plays the same way.
func TestAnyPlayKeepsItsCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := ledgerCase{
			front: "variants: [short, long]\nstarts: [remove 1 cap]\nleaves: [loosen 1 nut]",
			parts: "cap | 4\nbolt | 4 | M8×30 | if worn | holds cap | 22 N·m\nseal | 4 | | replace | behind cap, seals oil\n" +
				"pin | 4 | | | locks bolt\nshim | up to 4 | | add\nnut | 4 | M8 | | holds cap | 10 N·m + 90°",
			supplies: "oil, 2 L",
			steps:    strings.Join(rapid.SliceOfN(stepOf(), 1, 8).Draw(t, "steps"), "\n"),
		}
		first, again := c.told(t), c.told(t)
		if first != again {
			t.Fatalf("one text plays in two ways:\n%s\n%s", first, again)
		}
	})
}

// told plays a case, looks at its counts and places, and prints all that came of it.
func (c ledgerCase) told(t *rapid.T) string {
	_, _, plays := played(t, c.text())
	var b strings.Builder
	for _, play := range plays {
		for _, s := range append([]assembly.State{play.Start, play.End}, play.After...) {
			s.Dump(&b)
			for _, x := range s.Off {
				if x.N < 1 || x.N > x.Of {
					t.Fatalf("%d of %d %s are off\n%s", x.N, x.Of, x.Name, c.text())
				}
			}
			loose := map[string]int{}
			for _, x := range s.Loose {
				if loose[x.Name] += x.N; loose[x.Name] > x.Of {
					t.Fatalf("%d of %d %s are on and loose\n%s", loose[x.Name], x.Of, x.Name, c.text())
				}
			}
		}
		for _, f := range play.Faults {
			b.WriteString(faultLine(f, true) + "\n")
			if !f.At.Known() || f.At.Start < 0 || f.At.End > len(c.text()) || f.At.Start > f.At.End {
				t.Fatalf("%s stands at no place of the file\n%s", f.Name, c.text())
			}
		}
	}
	return b.String()
}
