package assembly_test

import (
	"testing"

	"refitcard/compiler/assembly"
	"refitcard/compiler/library"
	"refitcard/compiler/resolve"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// branchCases prove conditions, repeats and variants.
var branchCases = []ledgerCase{
	{
		rule:  "if: a branch that ends as it began",
		parts: `belt | 1 | | if worn`,
		steps: `{If the belt is frayed} {remove the belt} and {install a new belt}.`,
		want:  `1: scrap 1 of 1 belt`,
	},
	{
		rule:  "if: a branch that leaves another machine",
		parts: `guard | 1`,
		steps: `{If the guard is bent} {remove the guard}.
			{Install the guard}.`,
		want: `1: off 1 of 1 guard
			2: whole
			1 refit/branches-differ "{If the guard is bent}" < "remove the guard"`,
	},
	{
		rule:  "if: steps with the same words are one branch",
		parts: `guard | 1`,
		steps: `{If the guard is bent} {remove the guard}.
			{Check the belt}.
			{If the guard is bent} {install the guard}.`,
		want: `2: off 1 of 1 guard
			3: whole`,
	},
	{
		rule:  "if: steps with other words are another branch",
		parts: `guard | 1`,
		steps: `{If the guard is bent} {remove the guard}.
			{If the guard was off} {install the guard}.`,
		want: `1 refit/branches-differ "{If the guard is bent}"`,
	},
	{
		rule: "if: the copy plays the steps in between",
		parts: `guard | 1
			panel | 1`,
		steps: `{If the guard is bent} {remove the guard}.
			{Remove the panel}.
			{If the guard is bent} {install the guard}.
			{Install the panel}.`,
		want: `2: off 1 of 1 guard; off 1 of 1 panel
			4: whole`,
	},
	{
		rule:  "if: the copy plays on silently",
		parts: `guard | 1`,
		steps: `{If the hatch is stiff} {open the hatch}.
			{Install the guard}.
			{If the hatch is stiff} {close the hatch}.`,
		want: `2 refit/already-on "Install the guard" [1 0]`,
	},
	{
		rule:  "if: compared without age",
		parts: `belt | 1 | | if worn`,
		steps: `{Remove the belt}.
			{If it is frayed} {discard the belt} and {install a new belt}.
			{Otherwise} {install the old belt}.`,
		want: `2: scrap 1 of 1 belt
			3: whole
			end: scrap 1 of 1 belt`,
	},
	{
		rule:  "if: off or scrapped is one for if worn",
		parts: `belt | 1 | | if worn`,
		steps: `{Remove the belt}.
			{If it is frayed} {discard the belt}.
			{Install the belt}.`,
		want: `2: off 1 of 1 belt; scrap 1 of 1 belt
			3: scrap 1 of 1 belt`,
	},
	{
		rule:  "if: off or scrapped differ for a part that is to go back",
		parts: `belt | 1`,
		steps: `{Remove the belt}.
			{If it is frayed} {discard the belt}.
			{Install the belt}.`,
		want: `2 refit/branches-differ "{If it is frayed}"`,
	},
	{
		rule:  "if: never touched equals final",
		parts: `nut | 2 | M8 class 8 hex | | | 22 N·m`,
		steps: `{If a nut weeps} {loosen 2 nuts} and {torque 2 nuts}.`,
		want:  `1: whole`,
	},
	{
		rule:  "if: slack does not equal final",
		parts: `nut | 2 | M8 class 8 hex | | | 22 N·m`,
		steps: `{If a nut weeps} {loosen 2 nuts}.
			{Torque 2 nuts}.`,
		want: `1 refit/branches-differ "{If a nut weeps}"`,
	},
	{
		rule:  "if: add parts with up to are not compared",
		parts: `shim | up to 3 | | add`,
		steps: `{If the gap is wide} {install 2 shims}.`,
		want:  `end: whole`,
	},
	{
		rule:  "if: add parts without up to are",
		parts: `shim | 2 | | add`,
		steps: `{If the gap is wide} {install 2 shims}.`,
		want:  `1 refit/branches-differ "{If the gap is wide}"`,
	},
	{
		rule:     "if: fluids, openings and isolations are compared",
		supplies: "gear oil, 2 L\nhub oil, 1 L",
		steps: `{If the fan runs} {lock off the fan}. {Check the fan}.
			{Unlock the fan}.
			{If the hatch is wet} {open the hatch}.
			{Close the hatch}.
			{If the oil is dark} {drain the hub oil}.
			{Fill the hub oil}.`,
		want: `1 refit/branches-differ "{If the fan runs}"
			3 refit/branches-differ "{If the hatch is wet}"
			5 refit/branches-differ "{If the oil is dark}"`,
	},
	{
		rule: "if: a wait that runs only in the branch",
		steps: `{If the coat is thin} {start the second coat, 30 min}.
			{Await the second coat}.`,
		want: `1 refit/branches-differ "{If the coat is thin}"`,
	},
	{
		rule:  "if: the play goes on with the branch taken",
		parts: `guard | 1`,
		steps: `{If the guard is bent} {remove the guard}.
			{Check the belt}.`,
		want: `end: off 1 of 1 guard
			1 refit/branches-differ "{If the guard is bent}"`,
	},
	{
		rule:  "otherwise: both ways end alike",
		parts: `guard | 1`,
		steps: `{Remove the guard}.
			{If the guard is bent} beat it flat and {install the guard}.
			{Otherwise} {install the guard}.`,
		want: `2: whole
			3: whole`,
	},
	{
		rule:  "otherwise: the ends differ",
		parts: `guard | 1`,
		steps: `{Remove the guard}.
			{If the guard is bent} {install the guard}.
			{Otherwise} hang it up.`,
		want: `2 refit/branches-differ "{If the guard is bent}"`,
	},
	{
		rule:  "otherwise: what can't be done there is found",
		parts: `guard | 1`,
		steps: `{If the guard is bent} beat it flat.
			{Otherwise} {install the guard}.`,
		want: `2 refit/already-on "install the guard" [1 0]`,
	},
	{
		rule:  "otherwise: a broken tag there mutes its name",
		parts: `guard | 1`,
		steps: `{Remove the guard}.
			{If the guard is bent} {install the guard}.
			{Otherwise} {install the gaurd}.`,
		want: `3 part/unknown "gaurd"`,
	},
	{
		rule:  "if: steps with the same words are one branch in all stages",
		parts: `guard | 1`,
		steps: `{If the guard is bent} {remove the guard}.
			## Refit
			{Check the belt}.
			{If the guard is bent} {install the guard}.`,
		want: `1: off 1 of 1 guard
			3: whole`,
	},
	{
		rule:  "if: steps with the same words are one branch among sub-steps",
		parts: `guard | 1`,
		steps: `Strip.
			sub: {If the guard is bent} {remove the guard}.
			{Check the belt}.
			Refit.
			sub: {If the guard is bent} {install the guard}.`,
		want: `1a: off 1 of 1 guard
			2: off 1 of 1 guard
			3a: whole`,
	},
	{
		rule:  "if: a branch that began among sub-steps and does not end alike",
		parts: `guard | 1`,
		steps: `Strip.
			sub: {If the guard is bent} {remove the guard}.
			{Check the belt}.
			{If the guard is bent} hang it up.
			{Install the guard}.`,
		want: `1 refit/branches-differ "{If the guard is bent}"`,
	},
	{
		rule: "if: a branch governs its sub-steps, with a branch among them",
		parts: `guard | 1
			panel | 1`,
		steps: `{If it is wet}, open it up.
			sub: {Remove the guard}.
			sub: {If the panel is wet too} {remove the panel} and {install the panel}.
			sub: {Install the guard}.
			{Check the panel}.`,
		want: `1a: off 1 of 1 guard
			1b: off 1 of 1 guard
			1: whole`,
	},
	{
		rule: "if: a branch among the sub-steps of another leaves another machine",
		parts: `guard | 1
			panel | 1`,
		steps: `{If it is wet}, open it up.
			sub: {If the panel is wet too} {remove the panel}.
			sub: {Install the panel}.`,
		want: `1 refit/branches-differ "{If the panel is wet too}"`,
	},
	{
		rule:  "if: a broken tag in the branch mutes its name",
		parts: `guard | 1`,
		steps: `{If the guard is bent} {remove the guard}.
			{If the guard is bent} {install the gaurd}.`,
		want: `2 part/unknown "gaurd"`,
	},
	{
		rule:  "if: energy given back in the branch alone",
		parts: `guard | 1`,
		steps: `{Lock off the fan}. {Check the fan is dead}.
			{If the day is over} {unlock the fan}.
			{Lock off the fan}. {Check the fan is dead}. {Unlock the fan}.`,
		want: `2 refit/branches-differ "{If the day is over}"`,
	},
	{
		rule: "otherwise: after each step of one branch",
		parts: `left guard | 1
			right guard | 1`,
		steps: `{Remove the left guard and right guard}.
			{If they are bent} {install the left guard}.
			{Otherwise} {install the right guard}.
			{Check the belt}.
			{If they are bent} {install the right guard}.
			{Otherwise} {install the left guard}.`,
		want: `2: off 1 of 1 right guard
			3: off 1 of 1 left guard
			4: off 1 of 1 right guard
			5: whole
			6: whole`,
	},
	{
		rule:  "otherwise: among sub-steps",
		parts: `guard | 1`,
		steps: `{Remove the guard}.
			Put it back.
			sub: {If the guard is bent} beat it flat and {install the guard}.
			sub: {Otherwise} {install the guard}.`,
		want: `2a: whole
			2b: whole
			2: whole`,
	},
	{
		rule:  "otherwise: with a branch in its sub-steps",
		parts: `guard | 1`,
		steps: `{If the guard is bent} beat it flat.
			{Otherwise} look closer.
			sub: {If a screw is lost} {remove the guard}.`,
		want: `2 refit/branches-differ "{If a screw is lost}"`,
	},
	{
		rule:  "otherwise: without an if it is played as it stands",
		parts: `guard | 1`,
		steps: `{Check the belt}.
			{Otherwise} {remove the guard}.
			{Install the guard}.`,
		want: `2: off 1 of 1 guard
			3: whole`,
	},
	{
		rule:  "repeat of a step with a branch in it finds once",
		parts: `panel | 3`,
		steps: `{Repeat 3 times}, tray by tray.
			sub: {If it is wet} {remove 1 panel}.
			{Install 3 panels}.`,
		want: `1 refit/branches-differ "{If it is wet}"`,
	},
	{
		rule:  "repeat N is played N times",
		parts: `panel | 4`,
		steps: `{Repeat 3 times} {remove 1 panel}.
			{Install 3 panels}.`,
		want: `1: off 3 of 4 panel
			2: whole`,
	},
	{
		rule:  "repeat N finds once",
		parts: `panel | 2`,
		steps: `{Repeat 5 times} {remove 2 panels}.`,
		want:  `1 refit/already-off "remove 2 panels" [2 0]`,
	},
	{
		rule:  "repeat N of what comes back",
		parts: `hatch bolt | 2 | M8×20`,
		steps: `{Repeat 3 times} {loosen 2 hatch bolts}, and {tighten 2 hatch bolts}.`,
		want:  `1: whole`,
	},
	{
		rule:  "repeat is played 100 times",
		parts: `panel | 200`,
		steps: `{Repeat 100 times} {remove 1 panel}.
			{Install 100 panels}.`,
		want: `1: off 100 of 200 panel
			2: whole`,
	},
	{
		rule:  "repeat is played 100 times at most",
		parts: `panel | 200`,
		steps: `{Repeat 101 times} {remove 1 panel} and {install 1 panel}.`,
		want:  `1 tag/bad-quantity "101 times"`,
	},
	{
		rule:  "repeat until: what can be done again",
		parts: `bleed screw | 1 | M8`,
		steps: `{Repeat until no air comes} {loosen the bleed screw} and {tighten the bleed screw}.`,
		want:  `1: whole`,
	},
	{
		rule:  "repeat until: what can't be done a second time",
		parts: `panel | 1`,
		steps: `{Repeat until it is clean} {remove the panel}.
			{Install the panel}.`,
		want: `1: off 1 of 1 panel
			1 refit/branches-differ "{Repeat until it is clean}" < "remove the panel"`,
	},
	{
		rule:  "for: one play a variant",
		front: `variants: [short, long]`,
		parts: `guard | 1`,
		steps: `{for short} {Remove the guard}.
			{for long} {Remove the guard}. {Install the guard}.`,
		want: `1: off 1 of 1 guard
			1 refit/left-off "Remove the guard" [1 1] (short)`,
	},
	{
		rule:  "for: a part that the variant lacks",
		front: `variants: [short, long]`,
		parts: `guard | 1
			stay | 1 | | | | | long`,
		steps: `{Remove the stay}.
			{for long} {Install the stay}.`,
		want: `1 part/unknown "stay" (short)`,
	},
	{
		rule:  "the order in a step is for, if, repeat, acts",
		front: `variants: [short, long]`,
		parts: `panel | 4`,
		steps: `{for short} {If it is wet} {Repeat 2 times} {remove 1 panel} and {install 1 panel}.`,
		want:  `1: whole`,
	},
	{
		rule:  "if before for is out of order",
		front: `variants: [short, long]`,
		parts: `panel | 4`,
		steps: `{If it is wet} {for short} {remove 1 panel} and {install 1 panel}.`,
		want:  `1 tag/misplaced "{for short}"`,
	},
	{
		rule:  "they govern the sub-steps, and the parent's own acts come first",
		front: `variants: [short, long]`,
		parts: `guard | 1
			panel | 3`,
		steps: `{Repeat 3 times} {remove 1 panel}.
			sub: {Clean the panel}.
			{Install 3 panels}. {Remove the guard}.
			sub: {Install the guard}.
			{for short} Look inside.
			sub: {Remove the guard}.
			{for short} {Install the guard}.`,
		want: `1: off 3 of 3 panel
			2a: whole
			3a: off 1 of 1 guard
			4: whole`,
	},
	{
		rule:  "else and number are never played",
		parts: `guard | 1`,
		steps: `{label look} {Measure gap 1..2 mm, else remove the guard}.
			See step {number look}.`,
		want: `1: whole
			2: whole`,
	},
}

func TestConditionsRepeatsAndVariants(t *testing.T) { checkAll(t, branchCases) }

// An include is flattened before the play, and only the host's front matter counts.
func TestAnIncludeIsPlayedAtItsPlace(t *testing.T) {
	host := ledgerCase{parts: "guard | 1", steps: "{Install the guard}."}.text()
	host = "---\ntitle: Host\nnumber: LC-2\nrevision: A\n---\n\n{include strip.md}\n" + host[len("---\ntitle: A case of the ledger\nnumber: LC-1\nrevision: A\n---\n"):]
	part := ledgerCase{front: "leaves: [remove guard]", parts: "guard | 1", steps: "{Remove the guard}."}.text()

	settings := &library.Settings{Verbs: verb.Standard()}
	main := syntax.Parse(source.New("host.md", "host.md", []byte(host)), settings.Verbs)
	in := resolve.Input{Main: main, Settings: settings}
	for _, a := range resolve.Includes(main) {
		in.Includes = append(in.Includes, resolve.Included{Tree: syntax.Parse(source.New(a.Path, a.Path, []byte(part)), settings.Verbs), At: a.At})
	}
	if len(in.Includes) != 1 {
		t.Fatalf("%d includes were found in\n%s", len(in.Includes), host)
	}
	p, faults := resolve.Resolve(in)
	play := assembly.PlayAll(p, settings.Verbs, faults, true)[0]
	pictures := dumps(play)
	if pictures["1"] != "off 1 of 1 guard" || pictures["2"] != "whole" || len(play.Faults)+len(faults) > 0 {
		t.Errorf("pictures %v, faults %v %v", pictures, faults, play.Faults)
	}
}
