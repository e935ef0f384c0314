package refit_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
)

// job gives the stage written for a job with these rows of parts and these steps.
func stageOf(t *testing.T, rows, supplies, steps string) string {
	t.Helper()
	text := "---\ntitle: Take it apart\nnumber: RA-1\nrevision: A\n---\n\n## Parts\n\n| Part | Qty | Spec | Use | Place | Torque |\n|:--|--:|:--|:--|:--|:--|\n" + rows +
		"\n## Tools\n\n- 13 mm socket\n- torque wrench, 5–50 N·m\n- trolley jack, 2 t\n- axle stand, 2 t\n\n## Supplies\n\n" + supplies + "\n## Strip\n\n" + steps
	lib := compiler.Open(fstest.MapFS{"job.md": {Data: []byte(text)}}, func(path string) string { return path })
	s := sample{"job", "job.md", text, lib}
	full, stage := written(s, text)
	for _, f := range left(s.compile(full)) {
		t.Errorf("%s: %s\n%s", f.Rule, f.Message, stage.Text)
	}
	return stage.Text
}

// inOrder tells whether words stand in a text one behind the other.
func inOrder(t *testing.T, text string, words ...string) {
	t.Helper()
	rest := text
	for _, w := range words {
		_, after, found := strings.Cut(rest, w)
		if !found {
			t.Errorf("%q is missing, or comes too early, in\n%s", w, text)
			return
		}
		rest = after
	}
}

func TestWhatStandsInTheStage(t *testing.T) {
	for _, c := range []struct {
		name, rows, supplies, steps string
		order                       []string
		never                       []string
	}{
		{
			name:     "two lengths of bolts on one cover go in before either is torqued, and are torqued together",
			rows:     "| lid | 1 | | reuse | | |\n| long lid bolt | 2 | M8×40 8.8 hex | reuse | holds lid | 22 N·m |\n| short lid bolt | 4 | M8×20 8.8 hex | reuse | holds lid | 22 N·m |\n",
			steps:    "1. {Remove 2 long lid bolts} with the {tool 13 mm socket}, and {remove 4 short lid bolts} likewise. {Remove the lid}.\n\n```layout lid\na b b\nb b a\na = long lid bolt, b = short lid bolt\n```\n",
			supplies: "- none\n",
			order:    []string{"{Install the lid}", "{Install 4 short lid bolts and 2 long lid bolts} finger-tight", "{Torque 4 short lid bolts and 2 long lid bolts to 22 N·m crosswise in 3 passes} with the {tool torque wrench} and {tool 13 mm socket}"},
		},
		{
			name:  "three bolts need no pattern",
			rows:  "| lid | 1 | | reuse | | |\n| lid bolt | 3 | M8×40 8.8 hex | reuse | holds lid | 22 N·m |\n",
			steps: "1. {Remove 3 lid bolts} with the {tool 13 mm socket}. {Remove the lid}.\n", supplies: "- none\n",
			order: []string{"{Torque 3 lid bolts to 22 N·m} with"}, never: []string{"crosswise", "passes"},
		},
		{
			name:  "a part that is new on the machine goes in where the others wait for it, before the trailer comes down",
			rows:  "| lid | 1 | | reuse | | |\n| shim | 1 | | add | behind lid | |\n",
			steps: "> **WARNING** Falling trailer. It crushes. Stay out from under.\n\n1. {Jack up the trailer} with the {tool trolley jack}. {Support the trailer} on the {tool axle stand}. {Remove the lid}.\n", supplies: "- none\n",
			order: []string{"{Install the shim}", "{Install the lid}", "{Release the trailer}", "{Lower the trailer} with the {tool trolley jack}"},
		},
		{
			name:  "what was only slackened is torqued, and not installed",
			rows:  "| bracket bolt | 2 | M8×20 8.8 hex | reuse | | 22 N·m |\n",
			steps: "1. {Loosen 2 bracket bolts} with the {tool 13 mm socket}.\n", supplies: "- none\n",
			order: []string{"{Torque 2 bracket bolts to 22 N·m}"}, never: []string{"{Install"},
		},
		{
			name:  "only what came off goes back",
			rows:  "| lid bolt | 6 | M8×20 8.8 hex | reuse | | 22 N·m |\n",
			steps: "1. {Remove 2 of 6 lid bolts} with the {tool 13 mm socket}.\n", supplies: "- none\n",
			order: []string{"{Install 2 lid bolts} finger-tight", "{Torque 2 lid bolts to 22 N·m"},
		},
		{
			name:  "a fluid goes in behind the hose and the plug, through its filler, which goes back",
			rows:  "| drain plug | 1 | M8×20 hex 13 mm | reuse | seals gear oil | 22 N·m |\n| filler cap | 1 | | reuse | fills gear oil | |\n",
			steps: "1. {Disconnect the oil hose}. {Remove the drain plug} with the {tool 13 mm socket}. {Drain the gear oil}.\n", supplies: "- gear oil, 1 L\n",
			order: []string{"{Torque the drain plug to 22 N·m}", "{Remove the filler cap}. {Fill the gear oil}. {Install the filler cap}", "> question: how is the level of the gear oil checked", "{Check no gear oil leaks out}"},
		},
		{
			name:  "two isolations are undone last, in the reverse order, behind one check",
			rows:  "| lid | 1 | | reuse | | |\n",
			steps: "1. {Lock off the pump isolator}. {Lock off the heater isolator}. {Check both}.\n2. {Remove the lid}. {Tell the lock keeper}.\n", supplies: "- none\n",
			order: []string{"{Install the lid}", "{Check nobody is at the machine}, {tell the lock keeper}, and {unlock the heater isolator and the pump isolator}"},
		},
		{
			name:  "a fastener whose torque nobody wrote down is asked for",
			rows:  "| knob | 1 | M10 | reuse | | by setting |\n| stud nut | 1 | M8 hex | reuse | | |\n",
			steps: "1. {Loosen the knob}. {Loosen the stud nut} with the {tool 13 mm socket}.\n", supplies: "- none\n",
			order: []string{"{Tighten the stud nut} until as tight as its maker says with the {tool 13 mm socket}", "question: how tight is the stud nut", "{Tighten the knob}", "question: what sets the knob"},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := stageOf(t, c.rows, c.supplies, c.steps)
			inOrder(t, text, c.order...)
			for _, w := range c.never {
				if strings.Contains(text, w) {
					t.Errorf("%q stands in\n%s", w, text)
				}
			}
		})
	}
}
