package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
	"refitcard/render/pdf"
	"refitcard/render/sheet"
	"refitcard/templates"
)

func explainTask() task {
	return task{
		name: "explain", args: "[options] [NAME]",
		purpose: "tell what a check finds, why it matters, and show a wrong and a right example; tell of a verb, or of the whole language",
		example: `refitcard explain refit/left-off

refitcard explain torque
refitcard explain settings                   what refitcard.yaml, the tool crib and the stock list hold
refitcard explain first                      a first procedure in a quarter of an hour
refitcard explain language -o language.pdf   the language on two sheets, to hang up
`,
		options: func(set *pflag.FlagSet, o *options) {
			o.output(set, "`FILE` for what is told, or - (else the screen); a name that ends in .pdf makes sheets of the language")
			set.StringVar(&o.paper, "paper", "", "a4 or letter, for the sheets of the language")
		},
		run: runExplain,
	}
}

func runExplain(s *session) (int, error) {
	out := s.opt.out
	if strings.EqualFold(filepath.Ext(out), ".pdf") {
		if len(s.args) != 1 || s.args[0] != "language" {
			return 0, usageError{"only the language makes sheets", "refitcard explain language -o " + typed(out)}
		}
		data, err := languageSheets(sheet.Options{Paper: s.opt.paper})
		if err != nil {
			return 0, err
		}
		return done, s.writeNamed(out, data)
	}
	told := ""
	if len(s.args) == 0 {
		told = listOfChecks()
	}
	for _, name := range s.args {
		text, err := explained(name)
		if err != nil {
			return 0, err
		}
		told += text
	}
	if out != "" && out != "-" {
		return done, s.writeNamed(out, []byte(told))
	}
	_, err := io.WriteString(s.Out, told)
	return done, err
}

// topics are what is told of beside checks and verbs.
var topics = []string{"first", "language", "settings"}

// explained tells of a topic, a check or a verb.
func explained(name string) (string, error) {
	switch name {
	case "first":
		return templates.First, nil
	case "language":
		return referenceText(languageReference()), nil
	case "settings":
		return settingsText(), nil
	}
	if rule, text, ok := namedRule(name); ok {
		return explanation(rule, text), nil
	}
	if v, ok := verb.Standard().Named(strings.ToLower(name)); ok {
		return aboutVerb(v), nil
	}
	return "", usageError{fmt.Sprintf("%q is not a check, a verb or a topic", name), nearestCheck(name)}
}

// aboutVerb tells of a verb of the language.
func aboutVerb(v *verb.Verb) string {
	does, example := v.About()
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n", v.Name, does)
	for _, line := range []struct {
		head  string
		words []string
	}{{"also", v.Also}, {"undone by", v.UndoneBy}} {
		if len(line.words) > 0 {
			fmt.Fprintf(&b, "  %-10s %s\n", line.head, strings.Join(line.words, ", "))
		}
	}
	if opens := verb.Standard().Opens(v); opens != nil {
		fmt.Fprintf(&b, "  %-10s %s\n", "undoes", opens.Name)
	}
	things := "parts of the table"
	switch v.Takes {
	case verb.Anything, verb.OneThing:
		things = "declared things, and things that nobody declares"
	case verb.Fluids:
		things = "a fluid of the supplies"
	case verb.Parts, verb.Torque:
	default:
		things = ""
	}
	if things != "" {
		fmt.Fprintf(&b, "  %-10s %s\n", "takes", things)
	}
	fmt.Fprintf(&b, "  %-10s %s\n", "example", example)
	return b.String()
}

// languageSheets is the language as sheets to hang up.
func languageSheets(opt sheet.Options) ([]byte, error) {
	laid, err := sheet.LayReference(languageReference(), opt)
	if err != nil {
		return nil, err
	}
	return pdf.File(laid)
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
	for _, v := range verb.Standard().All() {
		names = append(append(names, v.Name), v.Also...)
	}
	if near := verb.Near(name, append(names, topics...)); near != "" {
		return "refitcard explain " + near
	}
	names = slices.DeleteFunc(names, func(n string) bool { return !strings.Contains(n, "/") })
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
