package assembly_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"refitcard/compiler/assembly"
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

// ledgerCase is one small job with what the ledger must say of it. rule is the row or the sentence that it proves.
type ledgerCase struct {
	rule     string
	front    string // further lines of front matter
	parts    string // rows "name | qty | spec | use | place | torque | variant"; cells may be missing at the end
	supplies string // bullets, one a line
	steps    string // items of the list, one a line; one that begins with "sub: " is a sub-step of the one before, "## " opens a stage
	want     string // lines: "2: off 1 of 4 nut" of a dump; "3 refit/left-off \"Remove 1 nut\" [1 4]" of each fault, in order;
	// with "<" and the words that it points to, then all faults show theirs
}

// text makes the procedure of a case: the usual front matter and sections about its own words.
func (c ledgerCase) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "---\ntitle: A case of the ledger\nnumber: LC-1\nrevision: A\n%s---\n\n## Parts\n\n", lines(c.front, ""))
	b.WriteString("| Part | Qty | Spec | Use | Place | Torque | Variant |\n|:--|--:|:--|:--|:--|:--|:--|\n")
	for _, row := range strings.Split(strings.TrimSpace(c.parts), "\n") {
		if cells := strings.Split(strings.TrimSpace(row), "|"); cells[0] != "" {
			fmt.Fprintf(&b, "|%s%s\n", strings.Join(cells, "|"), strings.Repeat("| ", 7-len(cells))+"|")
		}
	}
	fmt.Fprintf(&b, "\n## Tools\n\n- none\n\n## Supplies\n\n%s\n## Work\n\n", lines(c.supplies, "- "))
	top, sub := 0, 0
	for _, line := range strings.Split(strings.Trim(c.steps, "\n"), "\n") {
		if stage, ok := strings.CutPrefix(strings.TrimSpace(line), "## "); ok {
			fmt.Fprintf(&b, "\n## %s\n\n", stage)
			top = 0
			continue
		}
		if inner, ok := strings.CutPrefix(strings.TrimSpace(line), "sub: "); ok {
			sub++
			fmt.Fprintf(&b, "   %d. %s\n", sub, inner)
			continue
		}
		top, sub = top+1, 0
		fmt.Fprintf(&b, "%d. %s\n", top, strings.TrimSpace(line))
	}
	return b.String()
}

func lines(s, before string) string {
	var b strings.Builder
	for _, line := range strings.Split(strings.TrimSpace(s), "\n") {
		if line = strings.TrimSpace(line); line != "" {
			b.WriteString(before + line + "\n")
		}
	}
	return b.String()
}

// faultLine prints a fault: step, name, the words at the mark, counts where it has any, the variant, and the words that it
// points to where withRelated says so.
func faultLine(f source.Fault, withRelated bool) string {
	line := fmt.Sprintf("%d %s %q", f.Step, f.Name, strings.Join(strings.Fields(f.At.Text()), " "))
	if len(f.Counts) > 0 {
		line += fmt.Sprintf(" %v", f.Counts)
	}
	if f.Variant != "" {
		line += " (" + f.Variant + ")"
	}
	if withRelated {
		for _, r := range f.Related {
			line += fmt.Sprintf(" < %q", strings.Join(strings.Fields(r.At.Text()), " "))
		}
	}
	return line
}

// dumps gives the pictures of a play by step: "start", "2", "2a", "end".
func dumps(play assembly.Play) map[string]string {
	all := map[string]string{}
	put := func(name string, s assembly.State) {
		var b bytes.Buffer
		s.Dump(&b)
		_, words, _ := strings.Cut(strings.TrimSpace(b.String()), ": ")
		all[name] = words
	}
	put("start", play.Start)
	put("end", play.End)
	for _, s := range play.After {
		put(s.Step.Name(), s)
	}
	return all
}

// check plays a case and compares: the dumps of the steps that want names, and all faults one to one.
func (c ledgerCase) check(t *testing.T) {
	t.Helper()
	p, faults, plays := played(t, c.text())
	var wantFaults, gotFaults []string
	pictures := dumps(plays[0])
	for _, line := range strings.Split(lines(c.want, ""), "\n") {
		if line == "" {
			continue
		}
		step, words, isDump := strings.Cut(line, ": ")
		if !isDump || strings.Contains(step, " ") {
			wantFaults = append(wantFaults, strings.TrimSuffix(line, " <"))
			continue
		}
		if got, ok := pictures[step]; !ok || got != words {
			t.Errorf("after step %s: %s\n          want: %s", step, got, words)
		}
	}
	withRelated := strings.Contains(c.want, " <")
	for _, f := range faults {
		gotFaults = append(gotFaults, faultLine(f, withRelated))
	}
	for _, play := range plays {
		for _, f := range play.Faults {
			gotFaults = append(gotFaults, faultLine(f, withRelated))
		}
	}
	if !slices.Equal(gotFaults, wantFaults) {
		t.Errorf("faults: %s\n  want: %s", strings.Join(gotFaults, "\n        "), strings.Join(wantFaults, "\n        "))
	}
	if len(p.Stages) == 0 {
		t.Fatal("the case has no step: it proves nothing")
	}
	if t.Failed() {
		t.Logf("%s\nall pictures: %v", c.text(), pictures)
	}
}

// checkAll runs a table of cases; each must say what it proves, and want something.
func checkAll(t *testing.T, cases []ledgerCase) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.rule, func(t *testing.T) {
			if c.rule == "" || strings.TrimSpace(c.want) == "" {
				t.Fatal("a case with no rule or nothing wanted can't fail")
			}
			c.check(t)
		})
	}
}

// verbsOf lists the verbs of all acts of a case, by the name in the table, also those that govern steps.
func verbsOf(p *procedure.Procedure) map[string]bool {
	seen := map[string]bool{}
	for _, stage := range p.Stages {
		var walk func([]*procedure.Step)
		walk = func(steps []*procedure.Step) {
			for _, s := range steps {
				for _, a := range s.Acts {
					seen[a.Verb.Name] = true
				}
				walk(s.Steps)
			}
		}
		walk(stage.Steps)
	}
	return seen
}
