package editor_test

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler/editor"
)

// job is a whole procedure that is clean.
const job = `---
title: Reseal the end cover
number: SD-1
revision: A
variants: [long, short]
---

Covers the end cover.

## Parts

| Part         | Qty | Spec             | Number | Use     | Place                              | Torque |
|:-------------|----:|:-----------------|:-------|:--------|:-----------------------------------|:-------|
| cover bolt   |  12 | M8×30 8.8 socket |        | reuse   | holds the end cover                | 22 N·m |
| end cover    |   1 | 18 kg            |        | reuse   |                                    |        |
| cover gasket |   1 |                  | SD-G03 | replace | behind end cover, seals gear oil   |        |
| knife leaf   |   2 |                  |        | reuse   | behind end cover and cover gasket  |        |

## Tools

- 6 mm hex key or 6 mm T-key
- 6 mm hex bit socket
- 17 mm socket
- torque wrench, 5–50 N·m
- torque wrench, 40–200 N·m
- drain pan, 3 L

## Supplies

- gear oil, 1.4 L

## Strip

1. {label first} Put the {tool drain pan} under the cover, the {tool 17 mm socket} and the {tool torque wrench, 40–200 N·m} beside it. {Drain the gear oil}.
2. {Remove 12 cover bolts} with the {tool 6 mm hex key}.
3. {Remove the end cover}, then {remove the cover gasket}. {Remove both knife leaves}.

## Refit

1. {Install both knife leaves}. {Install a new cover gasket}, then {install the end cover}.
2. {Install 12 cover bolts} finger-tight. {Check a cover bolt
   turns freely}.
3. {Torque 12 cover bolts to 22 N·m crosswise in 3 passes} with the {tool torque wrench, 5–50 N·m} and {tool 6 mm hex bit socket}.
4. {Fill the gear oil}. {Check the cover is dry}, as in step {number first}.
`

// marked gives the text of job with one piece changed; ‸ in the new piece is the offset that is asked about.
func marked(t *testing.T, was, now string) (text string, offset int) {
	t.Helper()
	if strings.Count(job, was) != 1 {
		t.Fatalf("%q stands in the job %d times", was, strings.Count(job, was))
	}
	text = strings.Replace(job, was, now, 1)
	offset = strings.Index(text, "‸")
	return strings.Replace(text, "‸", "", 1), offset
}

func TestJobIsClean(t *testing.T) {
	_, v := viewOf(t, []byte(job))
	for _, f := range v.Result.Findings {
		t.Errorf("%s: %s", f.Rule, f.Message)
	}
}

func TestHoverTellsWhatIsKnown(t *testing.T) {
	for name, c := range map[string]struct {
		was, now string
		at       string // what the answer is about
		want     []string
	}{
		"a part that comes off": {"{Remove 12 cover bolts}", "{Remove 12 cov‸er bolts}", "cover bolts", []string{
			"**12 cover bolts** reuse", "- spec: M8×30 8.8 socket", "- torque: 22 N·m", "39 to 86 % of the proof load of 8.8", "- turned by: 6 mm (ISO 4762)",
			"long, before step 2: all on, none loose; after it: 12 of 12 off",
		}},
		"a part that is loose":   {"{Install 12 cover bolts}", "{Install 12 cover bol‸ts}", "cover bolts", []string{"before step 5: 12 of 12 off; after it: 12 of 12 in and not tightened"}},
		"a part that is tight":   {"{Torque 12 cover bolts", "{Torque 12 ‸cover bolts", "cover bolts", []string{"after it: all on, none loose"}},
		"a part in its row":      {"| cover gasket |", "| cover gask‸et |", "cover gasket", []string{"replace: the old one is scrapped", "- number: SD-G03", "at the end of the job: scrapped"}},
		"a part in a relation":   {"holds the end cover", "holds the en‸d cover", "end cover", []string{"**1 end cover**", "- spec: 18 kg"}},
		"a part in a check":      {"{Check a cover bolt", "{Check a cover bo‸lt", "cover bolt", []string{"**12 cover bolts**"}},
		"a tool":                 {"{tool 6 mm hex key}", "{tool 6 mm ‸hex key}", "6 mm hex key", []string{"**6 mm hex key** tool", "- choice: one of: 6 mm hex key or 6 mm T-key", "- turns: cover bolt"}},
		"a supply":               {"{Drain the gear oil}", "{Drain the gear o‸il}", "gear oil", []string{"**gear oil** supply", "- for the job: 1.4 L", "before step 1: not drained; after it: drained"}},
		"a verb":                 {"{Remove the end cover}", "{Rem‸ove the end cover}", "Remove", []string{"**remove** the part comes off", "- undone by: install", "- example: `{remove 4 cover bolts}`"}},
		"a verb by another name": {"{Remove the end cover}", "{Back ‸off 12 cover bolts}. {Remove the end cover}", "Back off", []string{"**loosen** the fastener goes slack", "- also written: slacken, back off"}},
		"a torque":               {"to 22 N·m crosswise", "to 2‸2 N·m crosswise", "22 N·m", []string{"22 N·m is 16 lbf·ft"}},
		"the number of a step":   {"{number first}", "{number fi‸rst}", "first", []string{"**step 1** Put the drain pan under the cover, "}},
		"a finding":              {"{Install 12 cover bolts}", "{Install ‸10 cover bolts}", "Install 10 cover bolts", []string{"**error** 2 of 12 cover bolts never go back", "*why* ", "*do* put all 12 back", "`refitcard explain refit/left-off`"}},
	} {
		t.Run(name, func(t *testing.T) {
			text, offset := marked(t, c.was, c.now)
			_, v := viewOf(t, []byte(text))
			n, ok := v.Hover(offset)
			if !ok || n.At.Text() != c.at {
				t.Fatalf("%v, about %q: %s", ok, n.At.Text(), n.Text)
			}
			for _, w := range c.want {
				if !strings.Contains(n.Text, w) {
					t.Errorf("it lacks %q:\n%s", w, n.Text)
				}
			}
		})
	}
	_, v := viewOf(t, []byte(job))
	if n, ok := v.Hover(strings.Index(job, "Put the")); ok {
		t.Errorf("of plain prose it says %q", n.Text)
	}
}

// Markdown in a procedure's words does not become Markdown of the answer.
func TestHoverIsHarmless(t *testing.T) {
	text, _ := marked(t, "| SD-G03 |", "| <b>*x* |")
	offset := strings.Index(text, "cover gasket |")
	_, v := viewOf(t, []byte(text))
	if n, _ := v.Hover(offset); !strings.Contains(n.Text, `\<b\>\*x\*`) {
		t.Errorf("%s", n.Text)
	}
}

func TestCompletion(t *testing.T) {
	for name, c := range map[string]struct {
		was, now string
		first    string   // the likeliest offer
		holds    []string // further ones
		lacks    []string
		for_     string // what it stands in place of
	}{
		"a verb at once":             {"{Remove the end cover}", "{‸", "remove", []string{"torque", "lock off", "back off"}, nil, ""},
		"a verb with a capital":      {"{Remove the end cover}", "{Tor‸", "Torque", nil, []string{"Remove"}, "Tor"},
		"a verb within a word":       {"{Remove the end cover}", "{Re‸move the end cover}", "Remove", []string{"Refit"}, nil, "Remove"},
		"a part with its count":      {"{Remove 12 cover bolts}", "{Remove ‸}", "12 cover bolts", []string{"end cover", "2 knife leaves"}, []string{"gear oil"}, ""},
		"a part behind a count":      {"{Remove 12 cover bolts}", "{Remove 12 co‸}", "cover bolts", nil, []string{"knife leaves", "cover bolt"}, "co"},
		"a part behind an article":   {"{Remove 12 cover bolts}", "{Remove a co‸}", "cover bolt", nil, []string{"cover bolts"}, "co"},
		"the second part":            {"{Remove 12 cover bolts}", "{Remove 12 cover bolts and the en‸}", "end cover", nil, nil, "en"},
		"a word within a name":       {"{Remove 12 cover bolts}", "{Remove 12 bo‸}", "cover bolts", nil, nil, "bo"},
		"a fluid":                    {"{Drain the gear oil}", "{Drain the ‸}", "gear oil", nil, []string{"end cover"}, ""},
		"a tool that fits":           {"{tool 6 mm hex key}", "{tool ‸}", "6 mm hex key", []string{"6 mm hex bit socket", "17 mm socket", "torque wrench, 40–200 N·m"}, nil, ""},
		"the torque of the table":    {"to 22 N·m crosswise", "to ‸ crosswise", "22 N·m", nil, nil, ""},
		"a unit of torque":           {"to 22 N·m crosswise", "to 22 N‸ crosswise", "N·m", nil, []string{"mm"}, "N"},
		"a unit of time":             {"{Fill the gear oil}", "{Wait 10 ‸}", "ms", []string{"min", "h"}, []string{"N·m"}, ""},
		"a variant":                  {"{Fill the gear oil}", "{for ‸}", "long", []string{"short"}, nil, ""},
		"a label":                    {"{number first}", "{number ‸}", "first", nil, nil, ""},
		"a check to be waived":       {"{Install 12 cover bolts}", "{waive ‸} {Snug 12 cover bolts}", "", []string{"part/no-count: "}, []string{"tag/unclosed: "}, ""},
		"a file":                     {"{Fill the gear oil}", "{include ‸}", "", nil, []string{"job.md"}, ""},
		"a key":                      {"revision: A\n", "revision: A\npe‸\n", "people: ", nil, []string{"title: "}, "pe"},
		"a key that has its colon":   {"revision: A\n", "revision: A\npeo‸ple: 2\n", "people", nil, nil, "people"},
		"what a key takes":           {"revision: A\n", "revision: A\nunits: m‸\n", "metric", nil, []string{"us"}, "m"},
		"a section":                  {"## Supplies\n", "## ‸\n", "Supplies", nil, []string{"Parts"}, ""},
		"a signal word":              {"Covers the end cover.\n", "> W‸\n", "**WARNING** ", nil, []string{"**DANGER** "}, "W"},
		"a signal word at once":      {"Covers the end cover.\n", ">‸\n", " **DANGER** ", nil, nil, ""},
		"the use of a part":          {"| replace |", "| re‸ |", "reuse", []string{"replace"}, []string{"omit"}, "re"},
		"a relation":                 {"holds the end cover", "‸", "holds ", []string{"seals "}, nil, ""},
		"what a relation names":      {"behind end cover, seals", "behind end cover, seals ge‸ |", "gear oil", nil, []string{"end cover"}, "ge"},
		"the torque of a row":        {"| 22 N·m |\n| end", "| ha‸ |\n| end", "hand-tight", nil, nil, "ha"},
		"a unit in a row":            {"| 22 N·m |\n| end", "| 22 l‸ |\n| end", "lbf·ft", nil, nil, "l"},
		"a tool that is missing":     {"- 6 mm hex key or 6 mm T-key\n- 6 mm hex bit socket\n", "- 6‸\n", "6 mm hex key", []string{"6 mm hex bit socket"}, nil, "6"},
		"no tag in a closed one":     {"{Fill the gear oil}", "{Fill the gear oil} ‸", "", nil, []string{"remove"}, ""},
		"no tag behind a blank line": {"{Check the cover is dry}", "{Check\n\nRe‸", "", nil, []string{"Remove"}, ""},
		"no tag that is escaped":     {"{Fill the gear oil}", `\{Re‸`, "", nil, []string{"Remove"}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			text, offset := marked(t, c.was, c.now)
			_, v := viewOf(t, []byte(text))
			var offers []string
			for _, o := range v.Complete(offset) {
				offers = append(offers, o.Text)
				if o.At.Text() != c.for_ {
					t.Errorf("%q stands in place of %q, want %q", o.Text, o.At.Text(), c.for_)
				}
			}
			if c.first != "" && (len(offers) == 0 || offers[0] != c.first) {
				t.Errorf("offered %q, want %q first", offers, c.first)
			}
			for _, w := range c.holds {
				if !slices.Contains(offers, w) {
					t.Errorf("offered %q, without %q", offers, w)
				}
			}
			for _, w := range c.lacks {
				if slices.Contains(offers, w) {
					t.Errorf("offered %q, with %q", offers, w)
				}
			}
		})
	}
}

func TestDefinitionAndUses(t *testing.T) {
	_, v := viewOf(t, []byte(job))
	for _, c := range []struct {
		at, name string
		declared string // the line on which it is declared begins so
		uses     int
	}{
		{"cover bolts} with", "cover bolts", "| cover bolt ", 5},
		{"end cover and cover", "end cover", "| end cover ", 6},
		{"knife leaves}. {Install a", "knife leaves", "| knife leaf", 3},
		{"6 mm T-key\n", "6 mm T-key", "- 6 mm hex key or", 1},
		{"gear oil}. {Check", "gear oil", "- gear oil", 4},
		{"first}.", "first", "1. {label", 2},
	} {
		offset := strings.Index(job, c.at)
		u, ok := v.UseAt(offset)
		if !ok || u.At.Text() != c.name {
			t.Errorf("%q: %v, %q", c.at, ok, u.At.Text())
			continue
		}
		where := v.Definition(offset)
		if len(where) != 1 {
			t.Errorf("%q is declared at %d places", c.at, len(where))
			continue
		}
		line := v.File.LineSpan(v.File.Line(where[0].Start)).Text()
		if got := len(v.Uses(u.Thing)); got != c.uses || !strings.HasPrefix(line, c.declared) {
			t.Errorf("%q: %d uses, declared in %q", c.at, got, line)
		}
	}
}

func TestOutlineAndFolds(t *testing.T) {
	_, v := viewOf(t, []byte(job))
	var lines []string
	var walk func(list []editor.Entry, in string)
	walk = func(list []editor.Entry, in string) {
		for _, e := range list {
			lines = append(lines, in+e.Name)
			walk(e.Below, in+"  ")
		}
	}
	walk(v.Outline(), "")
	for _, want := range []string{"Parts", "  cover bolt", "Tools", "  torque wrench, 40–200 N·m", "  gear oil", "Strip", "  2 Remove 12 cover bolts with the 6 mm hex key.", "Refit", "  7 Fill the gear oil. Check the cover is dry, as in step 1."} {
		if !slices.Contains(lines, want) {
			t.Errorf("the outline lacks %q:\n%s", want, strings.Join(lines, "\n"))
		}
	}
	var folds []string
	for _, at := range v.Folds() {
		first, _, _ := strings.Cut(at.Text(), "\n")
		folds = append(folds, first)
		if strings.HasSuffix(at.Text(), "\n") || !strings.Contains(at.Text(), "\n") {
			t.Errorf("a fold of %q", at.Text())
		}
	}
	for _, want := range []string{"---", "## Parts", "## Refit", "2. {Install 12 cover bolts} finger-tight. {Check a cover bolt"} {
		if !slices.ContainsFunc(folds, func(f string) bool { return f == want || strings.HasSuffix(want, f) && f != "" }) {
			t.Errorf("the folds lack %q: %q", want, folds)
		}
	}
}

// Each file of a library is looked at from itself; what it includes is found in the other.
func TestIncludes(t *testing.T) {
	host := strings.Replace(job, "## Strip", "## Before\n\n{include shared/safe.md}\n\n## Strip", 1)
	safe := "## Parts\n\n| Part | Qty |\n|:--|--:|\n| guard | 1 |\n\n## Make safe\n\n1. {Remove the guard} and {Install the guard}. {Check the end cover}.\n"
	s := editor.NewShelf(fstest.MapFS{"job.md": {Data: []byte(host)}, "shared/safe.md": {Data: []byte(safe)}, "shared/other.md": {Data: []byte(safe)}})
	r, err := s.Compile("job.md")
	if err != nil {
		t.Fatal(err)
	}
	v, _ := editor.Look(r, "job.md")
	v.Beside = s.Procedures
	if where := v.Definition(strings.Index(host, "safe.md")); len(where) != 1 || where[0].File.Path != "shared/safe.md" {
		t.Errorf("the include leads to %v", where)
	}
	inner, ok := editor.Look(r, "shared/safe.md")
	if !ok {
		t.Fatal("the included file is not seen")
	}
	if where := inner.Definition(strings.Index(safe, "end cover")); len(where) != 1 || where[0].File.Path != "job.md" {
		t.Errorf("the name leads to %v", where)
	}
	if out := inner.Outline(); len(out) != 2 || len(out[1].Below) != 1 || !strings.HasPrefix(out[1].Below[0].Name, "1 Remove the guard") {
		t.Errorf("the outline of the included file is %v", out)
	}
	s.Put("job.md", []byte(strings.Replace(host, "{include shared/safe.md}", "{include }", 1)))
	r, _ = s.Compile("job.md")
	v, _ = editor.Look(r, "job.md")
	v.Beside = s.Procedures
	var offers []string
	for _, o := range v.Complete(strings.Index(host, "shared/safe.md")) {
		offers = append(offers, o.Text)
	}
	if !slices.Equal(offers, []string{"shared/other.md", "shared/safe.md"}) {
		t.Errorf("files on offer: %q", offers)
	}
}
