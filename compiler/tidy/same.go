package tidy

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/assembly"
	"refitcard/compiler/compare"
	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
)

// Reading is what a compile made of one text.
type Reading struct {
	Proc     *procedure.Procedure
	Plays    []assembly.Play
	Findings []diag.Finding
}

// Differ tells in what two readings differ in meaning; empty when both mean the same: no change that compare would tell of, every
// play with the same moves and ends, the same findings, and the same words on the card. The spelling of units and the number
// of blanks are no difference.
func Differ(old, now Reading) string {
	if c := changes(compare.Procedures(old.Proc, now.Proc)); len(c) > 0 {
		return c[0].Sentence
	}
	for _, x := range []struct {
		what     string
		old, now []string
	}{
		{"the plays", plays(old.Plays), plays(now.Plays)},
		{"the findings", findings(old.Findings), findings(now.Findings)},
		{"the words", words(old.Proc), words(now.Proc)},
	} {
		if !slices.Equal(x.old, x.now) {
			return x.what + " differ: " + firstOf(x.old, x.now)
		}
	}
	return ""
}

// changes leaves out those that are only about how a quantity is spelt: in a bullet or a cell, compare goes by the words. A thing that
// is gone and one of the same words that is new are one and the same.
func changes(list []compare.Change) (left []compare.Change) {
	paired := map[int]bool{}
	for i, x := range list {
		if x.Was == "" || paired[i] {
			continue
		}
		for j, y := range list {
			if x.Now == "" && y.Was == "" && !paired[j] && sameTopic(x, y) && alike(x.Was) == alike(y.Now) {
				paired[i], paired[j] = true, true
				break
			}
		}
	}
	for i, x := range list {
		if !paired[i] && (x.Was == "" || x.Now == "" || alike(x.Was) != alike(x.Now)) {
			left = append(left, x)
		}
	}
	return left
}

// sameTopic tells whether two changes are about one thing; of what steps do only their tools are told by name.
func sameTopic(x, y compare.Change) bool {
	return x.Kind == y.Kind && x.What == y.What && x.Step == y.Step && (x.Kind != compare.Act || x.What == "tool")
}

func firstOf(old, now []string) string {
	for i := range min(len(old), len(now)) {
		if old[i] != now[i] {
			return fmt.Sprintf("%q, now %q", old[i], now[i])
		}
	}
	return fmt.Sprintf("%d lines, now %d", len(old), len(now))
}

// plays tells each play: its faults, moves and ends.
func plays(list []assembly.Play) (told []string) {
	for _, p := range list {
		told = append(told, "variant "+p.Variant)
		for _, f := range p.Faults {
			told = append(told, fmt.Sprint("fault ", f.Name, f.Step, alike(f.Thing)))
		}
		for _, m := range p.Moves {
			told = append(told, fmt.Sprint("move ", m.Step.Name(), " ", m.Part.Name.Value, m.N, m.To, m.New))
		}
		for _, s := range append([]assembly.State{p.Start, p.End}, p.After...) {
			told = append(told, alike(state(s)))
		}
	}
	return told
}

func state(s assembly.State) string {
	var b strings.Builder
	fmt.Fprint(&b, s.Step.Name(), s.Drained, s.Isolated, s.Running, s.Marked)
	for _, list := range [][]assembly.Counted{s.Off, s.Loose, s.Scrap, s.Open} {
		for _, c := range list {
			fmt.Fprint(&b, "|", c.Name, " ", c.N, " ", c.Of, c.Why)
		}
		b.WriteString("/")
	}
	return b.String()
}

// findings names each finding without its place, which moves, and without its message, which quotes what was typed.
func findings(list []diag.Finding) (told []string) {
	for _, f := range list {
		told = append(told, fmt.Sprint(f.Rule, " ", f.Severity, " step ", f.Step, " ", alike(f.Waived), " ", f.Variants))
	}
	slices.Sort(told)
	return told
}

// words is the model as it prints, line by line.
func words(p *procedure.Procedure) []string {
	var b strings.Builder
	p.Dump(&b)
	notes := func(list []procedure.Remark) {
		for _, r := range list {
			if r.Note != nil {
				b.WriteString(procedure.RunText(r.Note.Runs) + "\n")
			}
			if r.Figure != nil {
				b.WriteString(r.Figure.Path.Value + " " + r.Figure.Alt + "\n")
			}
		}
	}
	notes(p.Intro)
	var steps func([]*procedure.Step)
	steps = func(list []*procedure.Step) {
		for _, s := range list {
			notes(s.Before)
			notes(s.Notes)
			fmt.Fprintln(&b, s.If.Value, len(s.For), s.Label.Value, s.Hold.Value, len(s.Wear), len(s.FollowUp))
			steps(s.Steps)
		}
	}
	for _, s := range p.Stages {
		steps(s.Steps)
		notes(s.Tail)
		for _, m := range s.Messages {
			b.WriteString(m.Signal + procedure.RunText(m.Runs) + "\n")
		}
	}
	for _, x := range p.Parts {
		fmt.Fprintln(&b, x.Name.Value, x.UpTo, x.Spec.Value, x.Number.Value, x.Layout.Value, x.Torque.HandTight, x.Torque.BySetting, len(x.Variants))
	}
	told := strings.Split(b.String(), "\n")
	for i := range told {
		told[i] = alike(told[i])
	}
	return told
}

// alike takes out of a text what tidying may change: the number of blanks, and how a quantity is spelt.
func alike(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	return specified(strings.NewReplacer("(", " ( ", ")", " ) ", "[", " [ ", "]", " ] ").Replace(s))
}
