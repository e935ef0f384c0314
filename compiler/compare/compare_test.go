package compare_test

import (
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"refitcard/compiler/compare"
	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
	"refitcard/compiler/resolve"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

func read(t testing.TB, text string) *procedure.Procedure {
	t.Helper()
	settings := &library.Settings{Verbs: verb.Standard()}
	main := syntax.Parse(source.New("case.md", "case.md", []byte(text)), settings.Verbs)
	p, _ := resolve.Resolve(resolve.Input{Main: main, Settings: settings})
	return p
}

const base = `---
title: Renew the gasket of the sluice gearbox
number: SG-7
revision: A
machine: Sluice gearbox, gates 1 to 4
people: 1
---

> **WARNING** Falling gate. It crushes. Pin the gate before step 1.

## Parts

| Part       | Qty | Spec          | Use     | Place             | Torque |
|:-----------|----:|:--------------|:--------|:------------------|:-------|
| cover      |   1 | 18 kg         | reuse   |                   |        |
| cover bolt |  12 | M8×30 8.8 hex | reuse   | holds cover       | 22 N·m |
| gasket     |   1 |               | replace | behind cover      |        |

## Tools

- 13 mm socket
- torque wrench, 5–50 N·m

## Supplies

- shop towel, 2

## Strip

1. {Lock off the gate drive}. {Check the gate does not move}.
2. {Remove 12 cover bolts} with the {tool 13 mm socket}. {Remove the cover}, then {remove the gasket}.

## Refit

1. Wipe both faces with a {supply shop towel}. {Install a new gasket}, then {install the cover}.
2. {Install 12 cover bolts}. {Torque 12 cover bolts to 22 N·m crosswise in 3 passes} with the {tool torque wrench} and {tool 13 mm socket}.
3. {Measure backlash 0.2..0.4 mm, else go back to step 4}.
4. {Check nobody is at the gate} and {unlock the gate drive}.
`

// Each case changes the base in one way and names all that it changes in meaning.
func TestProcedures(t *testing.T) {
	for _, c := range []struct {
		intent string
		edits  []string // what stands there, what stands there then, in pairs
		want   []string
	}{
		{"revision, date and title", []string{"revision: A", "revision: B\ndate: 2026-11-20", "title: Renew", "title: Change"}, nil},
		{"white space and line breaks", []string{"{Remove 12 cover bolts} with", "{Remove  12\n   cover bolts}  with", "|   1 | 18 kg  ", "| 1 | 18 kg"}, nil},
		{"spelling of a count", []string{"{Remove 12 cover bolts}", "{Remove all cover bolts}", "{Torque 12 cover bolts to", "{Torque the cover bolts to"}, nil},
		{"the value of the table repeated in the tag or not", []string{"cover bolts to 22 N·m crosswise", "cover bolts crosswise"}, nil},
		{"another spelling of a verb", []string{"{Check the gate", "{Verify the gate", "{Install 12", "{Fit 12"}, nil},
		{"another spelling of a unit, a second unit", []string{"| 22 N·m |", "| 22 Nm (16 lbf·ft) |"}, nil},
		{"prose between the tags", []string{"Wipe both faces with a", "Both faces are wiped with a"}, nil},
		{"two steps made one", []string{"then {install the cover}.\n2. ", "then {install the cover}. ", "step 4}", "step 3}"}, nil},
		{"two acts in one tag", []string{"{Remove the cover}, then {remove the gasket}", "{Remove the cover and the gasket}"}, nil},
		{"a part in front of another row", []string{"| cover      |   1 | 18 kg         | reuse   |                   |        |\n", "", "| gasket     |   1 |               | replace | behind cover      |        |\n", "| gasket | 1 | | replace | behind cover | |\n| cover | 1 | 18 kg | reuse | | |\n"}, nil},
		{
			"a torque in table and tag",
			[]string{"| 22 N·m |", "| 25 N·m |", "to 22 N·m crosswise in 3 passes", "to 25 N·m crosswise"},
			[]string{"step 4: torque cover bolts: 25 N·m, in one pass, was 22 N·m, in 3 passes"},
		},
		{
			"a torque in the table alone",
			[]string{"| 22 N·m |", "| 20 N·m |"},
			[]string{"cover bolt, torque: 20 N·m, was 22 N·m"},
		},
		{"a count of the table", []string{"|  12 | M8", "|  10 | M8", "12 cover bolts", "10 cover bolts"}, []string{"cover bolt, count: 10, was 12"}},
		{"a count of one act", []string{"{Install 12 cover", "{Install 10 cover"}, []string{"step 4: install cover bolts: 10 of 12, was 12"}},
		{"a spec", []string{"M8×30 8.8", "M8×30 10.9"}, []string{"cover bolt, spec: M8×30 10.9 hex, was M8×30 8.8 hex"}},
		{"a relation", []string{"behind cover", "seals oil   "}, []string{"gasket, place: seals oil, was behind cover"}},
		{
			"a new part",
			[]string{"\n## Tools", "| dowel | 2 | | reuse | | |\n\n## Tools"},
			[]string{"dowel is new: 2, reuse"},
		},
		{
			"a part under another name",
			[]string{"cover bolt", "lid bolt"},
			[]string{"name of a part: lid bolt, was cover bolt"},
		},
		{"a tool", []string{"wrench, 5–50", "wrench, 10–60"}, []string{"tool: torque wrench, 10–60 N·m, was torque wrench, 5–50 N·m"}},
		{
			"the tool of one step",
			[]string{"cover bolts} with the {tool 13 mm socket}", "cover bolts} with the {tool torque wrench}"},
			[]string{"step 2: tool: torque wrench, 5–50 N·m, was 13 mm socket"},
		},
		{"the words of a check", []string{"Check nobody is at the gate", "Check two people are at the gate"}, []string{"step 6: check: two people are at the gate, was nobody is at the gate"}},
		{"the place of a tool in its sentence", []string{"{Remove 12 cover bolts} with the {tool 13 mm socket}", "With the {tool 13 mm socket}, {remove 12 cover bolts}"}, nil},
		{
			"a step that is new as a whole",
			[]string{"3. {Measure backlash", "3. {Hold for the supervisor}, 2 m away.\n4. {Measure backlash"},
			[]string{"step 5: the whole step is new: hold for the supervisor; what it says beside its tags: , 2 m away."},
		},
		{"a supply", []string{"shop towel, 2", "shop towel, 3"}, []string{"supply: shop towel, 3, was shop towel, 2"}},
		{
			"the order of acts",
			[]string{"{Install a new gasket}, then {install the cover}", "{Install the cover}, then {install a new gasket}"},
			[]string{`step 3: install gasket: after "install cover" in step 3, was after "remove gasket" in step 2`},
		},
		{
			"a limit, and what to do outside it",
			[]string{"0.2..0.4 mm, else go back to step 4", "0.2..0.5 mm, else call the foreman"},
			[]string{"step 5: measure backlash: 0.2 to 0.5 mm, else call the foreman, was 0.2 to 0.4 mm, else go back to step 4"},
		},
		{
			"the words of a safety message",
			[]string{"Pin the gate before", "Block the gate before"},
			[]string{"safety message: “Falling gate. It crushes. Block the gate before step 1”, was “Falling gate. It crushes. Pin the gate before step 1”"},
		},
		{"its level", []string{"**WARNING**", "**DANGER**"}, []string{"safety message: DANGER, was WARNING"}},
		{
			"a message that is gone",
			[]string{"> **WARNING** Falling gate. It crushes. Pin the gate before step 1.\n", ""},
			[]string{"safety message is gone; it was: WARNING, Falling gate. It crushes. Pin the gate before step 1."},
		},
		{
			"a step in front, numbers moved on",
			[]string{"1. {Lock off", "1. {Tell the control room}.\n1. {Lock off", "step 4}", "step 5}", "before step 1.", "before step 2."},
			[]string{`safety message: names step 2, was names what is now step 1`, "step 1: tell the control room is new"},
		},
		{
			"a step in front, a number forgotten",
			[]string{"1. {Lock off", "1. {Tell the control room}.\n1. {Lock off"},
			[]string{"step 1: tell the control room is new", "step 6: measure backlash: names step 4, was names what is now step 5"},
		},
		{
			"a step that is gone",
			[]string{"1. {Lock off the gate drive}. {Check the gate does not move}.\n", "", "step 4}", "step 3}"},
			[]string{"step 1: the whole step is gone; it was: lock off gate drive; check the gate does not move"},
		},
		{"a figure in prose", []string{"Wipe both faces", "Wipe both faces twice, 5 min apart,"}, []string{"step 3: what it says beside its tags is new: Wipe both faces twice, 5 min apart, with a . , then ."}},
		{"a condition", []string{"3. {Measure", "3. {If the gate was heavy}: {measure"}, []string{"step 5: done only if is new: the gate was heavy"}},
		{"a hold", []string{"4. {Check nobody", "4. {Hold for the supervisor}.\n5. {Check nobody"}, []string{"step 6: hold for the supervisor is new"}},
		{"people", []string{"people: 1", "people: 2"}, []string{"people: 2, was 1"}},
		{"what is left so", []string{"people: 1", "people: 1\nleaves: [remove cover]"}, []string{"what it leaves so on purpose: remove cover, was none"}},
	} {
		t.Run(c.intent, func(t *testing.T) {
			text := base
			for i := 0; i < len(c.edits); i += 2 {
				if !strings.Contains(text, c.edits[i]) {
					t.Fatalf("%q does not stand in the base", c.edits[i])
				}
				text = strings.ReplaceAll(text, c.edits[i], c.edits[i+1])
			}
			var got []string
			for _, x := range compare.Procedures(read(t, base), read(t, text)) {
				got = append(got, x.Sentence)
				if (x.Was == "" || !x.OldAt.Known()) && (x.Now == "" || !x.At.Known()) {
					t.Errorf("%q stands nowhere", x.Sentence)
				}
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// A version held against itself, and each sample procedure against itself, has changed in nothing.
func TestNothingChanges(t *testing.T) {
	files, err := os.ReadDir("../../procedures")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".md") {
			continue
		}
		raw, err := os.ReadFile("../../procedures/" + f.Name())
		if err != nil {
			t.Fatal(err)
		}
		seen++
		for _, x := range compare.Procedures(read(t, string(raw)), read(t, string(raw))) {
			t.Errorf("%s: %s", f.Name(), x.Sentence)
		}
	}
	if seen < 10 {
		t.Errorf("only %d procedures were seen", seen)
	}
}
