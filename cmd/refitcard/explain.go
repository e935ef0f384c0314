package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

func explainTask() task {
	return task{
		name: "explain", args: "[NAME]",
		purpose: "tell what a check finds, why it matters, and show a wrong and a right example",
		example: "refitcard explain refit/left-off\n",
		options: func(set *pflag.FlagSet, o *options) {},
		run:     runExplain,
	}
}

func runExplain(s *session) (int, error) {
	if len(s.args) == 0 {
		_, err := s.Out.Write([]byte(listOfChecks()))
		return done, err
	}
	for _, name := range s.args {
		rule, text, ok := namedRule(name)
		if !ok {
			return 0, usageError{fmt.Sprintf("%q is not a check", name), nearestCheck(name)}
		}
		if _, err := s.Out.Write([]byte(explanation(rule, text))); err != nil {
			return 0, err
		}
	}
	return done, nil
}

func nearestCheck(name string) string {
	var names []string
	for _, f := range compiler.Families() {
		for _, r := range f.Rules {
			names = append(names, r.Name)
			if strings.HasSuffix(r.Name, "/"+name) {
				return "refitcard explain " + r.Name
			}
		}
	}
	if near := verb.Near(name, names); near != "" {
		return "refitcard explain " + near
	}
	var short []string
	for _, n := range names {
		short = append(short, n[strings.IndexByte(n, '/')+1:])
	}
	if near := verb.Near(name, short); near != "" {
		return "refitcard explain " + names[slices.Index(short, near)]
	}
	return "refitcard explain lists the checks"
}

func listOfChecks() string {
	var b strings.Builder
	b.WriteString("E error: no card is made   W warning   A advice   ! can't be lowered   w can be waived\n")
	for _, f := range compiler.Families() {
		fmt.Fprintf(&b, "\n%s: %s\n", f.Name, f.About)
		for _, r := range f.Rules {
			t, _ := f.Text(r.Name)
			fmt.Fprintf(&b, "  %-26s %-3s %s\n", r.Name, r.Letters(), t.Title)
		}
	}
	return b.String()
}

func namedRule(name string) (rules.Rule, rules.Text, bool) {
	for _, f := range compiler.Families() {
		for _, r := range f.Rules {
			if r.Name == name {
				t, err := f.Text(name)
				return r, t, err == nil
			}
		}
	}
	return rules.Rule{}, rules.Text{}, false
}

// ruleText serves the reports.
func ruleText(name string) (rules.Text, bool) {
	_, t, ok := namedRule(name)
	return t, ok
}

// explanation shows one check: what it finds, why that matters, what to do, and both examples.
func explanation(r rules.Rule, t rules.Text) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n", r.Name, t.Title)
	fmt.Fprintf(&b, "%s\n", standing(r))
	for _, part := range []struct{ head, words string }{
		{"What it finds", t.What}, {"Why it matters", t.Why}, {"What to do", t.Do}, {"Source", t.SourceInWords()},
	} {
		fmt.Fprintf(&b, "\n%s\n%s", part.head, indent(part.words+"\n"))
	}
	for _, part := range []struct {
		head     string
		examples []rules.Example
	}{{"Wrong", t.Wrong}, {"Right", t.Right}} {
		for i, e := range part.examples {
			if i == 0 || len(part.examples) > 1 {
				fmt.Fprintf(&b, "\n%s", part.head)
				if len(part.examples) > 1 {
					fmt.Fprintf(&b, ", %s", e.Name)
				}
				b.WriteString("\n")
			}
			text, _ := rules.CutMarks([]byte(strings.TrimRight(e.Text, "\n")))
			b.WriteString(indent(string(text) + "\n"))
		}
	}
	return b.String()
}

// standing says in words how strict a check is, and what can be done about it.
func standing(r rules.Rule) string {
	waiver := "\nTo let one pass, write {waive " + r.Name + ": the reason} into its step; for one in the lists, into the introduction."
	switch {
	case r.Severity == diag.Error && r.Waivable:
		return "An error: no card is made while it stands." + waiver
	case r.Severity == diag.Error:
		return "An error: no card is made while it stands, and it can't be waived."
	case r.Pinned:
		return "A warning: the card is made, look at it first. The settings can't lower it." + waiver
	case r.Severity == diag.Warning:
		return "A warning: the card is made, look at it first. The settings can lower it." + waiver
	}
	return "Advice: take it or leave it. The settings can change it." + waiver
}
