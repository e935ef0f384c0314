package refit_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"refitcard/compiler"
)

// machine draws a machine of plates one behind the other, and a strip of it in an order that can be done; or that an earlier job
// stripped it, and nobody knows in which order.
func machine(r *rapid.T) string {
	yes := func(what string) bool { return rapid.Bool().Draw(r, what) }
	var rows, tools, strip []string
	depth := rapid.IntRange(1, 4).Draw(r, "plates")
	stripped := rapid.IntRange(1, depth).Draw(r, "stripped")
	wet := yes("oil")
	front := ""
	do := func(format string, a ...any) { strip = append(strip, fmt.Sprintf("{"+format+"}.", a...)) }
	isolated := yes("isolated")
	if isolated {
		do("Lock off the main switch")
		do("Check the shaft does not turn")
	}
	if yes("hose") {
		do("Disconnect the hose")
	}
	if wet {
		rows = append(rows, "| drain plug | 1 | M14×1.5 hex 17 mm | reuse | seals gear oil | 25 N·m |", "| plug washer | 1 | copper | replace | seals gear oil | |")
		do("Remove the drain plug and plug washer")
		do("Drain the gear oil")
	}
	for i, name := range []string{"alpha", "beta", "gamma", "delta"}[:depth] {
		bolts := rapid.IntRange(1, 8).Draw(r, "bolts")
		use := rapid.SampledFrom([]string{"reuse", "replace"}).Draw(r, "bolts' use")
		torque := rapid.SampledFrom([]string{"22 N·m", "20..24 N·m", "10 N·m + 90°", "hand-tight"}).Draw(r, "torque")
		behind, and := "", ""
		if front != "" {
			behind, and = "behind "+front, ", "
		}
		rows = append(rows,
			fmt.Sprintf("| %s bolt | %d | M8×30 8.8 hex | %s | %s%sholds %s plate | %s |", name, bolts, use, behind, and, name, torque),
			fmt.Sprintf("| %s plate | 1 | 4 kg | reuse | %s | |", name, behind))
		tab, gasket := yes("tab"), yes("gasket")
		if tab {
			rows = append(rows, fmt.Sprintf("| %s tab | 1 | | replace | locks %s bolt | |", name, name))
		}
		if gasket {
			rows = append(rows, fmt.Sprintf("| %s gasket | 1 | | replace | behind %s plate | |", name, name))
		}
		front = name + " plate"
		if i >= stripped {
			continue
		}
		if tab {
			do("Remove the %s tab", name)
		}
		if bolts > 1 {
			do("Remove %d %s bolts", bolts, name)
		} else {
			do("Remove the %s bolt", name)
		}
		do("Remove the %s plate", name)
		if gasket {
			do("Remove the %s gasket", name)
		}
	}
	tools = []string{"- 13 mm socket", "- 17 mm socket", "- torque wrench, 5–50 N·m"}
	supplies := "- none"
	if wet {
		supplies = "- gear oil, 2 L"
	}
	starts := ""
	if yes("stripped earlier") {
		starts = "starts:\n"
		for _, s := range rapid.Permutation(strip).Draw(r, "order") {
			if !strings.HasPrefix(s, "{Check") {
				starts += "  - " + strings.ToLower(s[1:2]) + s[2:len(s)-2] + "\n"
			}
		}
		strip = []string{"{Check the bench is clear}."}
	}
	var steps strings.Builder
	for i, s := range strip {
		fmt.Fprintf(&steps, "%d. %s\n", i+1, s)
	}
	return "---\ntitle: Take it apart\nnumber: RA-1\nrevision: A\n" + starts + "---\n\n## Parts\n\n| Part | Qty | Spec | Use | Place | Torque |\n|:--|--:|:--|:--|:--|:--|\n" +
		strings.Join(rows, "\n") + "\n\n## Tools\n\n" + strings.Join(tools, "\n") + "\n\n## Supplies\n\n" + supplies + "\n\n## Strip\n\n" + steps.String()
}

// Any machine that came apart in an order that can be done goes together again: no part out of reach, held, locked or left, no
// fluid on an open joint, energy last.
func TestAnyMachineGoesTogetherAgain(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text := machine(r)
		lib := compiler.Open(fstest.MapFS{"job.md": {Data: []byte(text)}}, func(path string) string { return path })
		s := sample{"machine", "job.md", text, lib}
		before := s.compile(text)
		full, stage := written(s, text)
		if due(before) == 0 || stage.Steps == 0 {
			r.Fatalf("nothing is due\n%s", text)
		}
		after := s.compile(full)
		for _, f := range left(after) {
			asked := f.Rule == "refit/old-part-back" && strings.Contains(stage.Text, "question: when is the ")
			family, _, _ := strings.Cut(f.Rule, "/")
			if !asked && (family == "refit" || family == "order" || family == "energy" || family == "tag" || family == "part" && f.Rule != "part/unused") {
				r.Errorf("%s: %s\n%s", f.Rule, f.Message, full)
			}
		}
		if strings.Contains(text, "ock off the main") {
			tail := full[strings.Index(full, "{unlock the main switch}"):]
			for _, verb := range []string{"{Install", "{Torque", "{Fill", "{Connect", "{Snug", "{Replace"} {
				if strings.Contains(tail, verb) {
					r.Errorf("%s comes behind the unlocking\n%s", verb, full)
				}
			}
		}
	})
}

// Whatever is typed: no panic, and the same stage a second time.
func FuzzRefit(f *testing.F) {
	for _, s := range corpus(f) {
		for _, text := range deepest(s) {
			f.Add([]byte(text))
		}
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		lib := compiler.Open(fstest.MapFS{"job.md": {Data: raw}}, func(path string) string { return path })
		s := sample{"fuzzed", "job.md", string(raw), lib}
		once, stage := written(s, s.text)
		twice, _ := written(s, s.text)
		if once != twice {
			t.Fatalf("%q, then %q", once, twice)
		}
		if n := strings.Count(stage.Text, "> question:"); n != stage.Questions {
			t.Errorf("%d questions stand there, %d are told", n, stage.Questions)
		}
	})
}
