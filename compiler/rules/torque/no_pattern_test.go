package torque_test

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/rules"
)

// A second pull follows the order of the first only if the bolts stayed in, and only in a variant that had the first.
func TestASecondPullFollowsTheFirstOrder(t *testing.T) {
	const head = `---
title: Bolt the gear rim down
number: DR-41
revision: A
variants: [short, long]
---

## Parts

| Part | Qty | Spec | Place | Torque |
|:--|--:|:--|:--|:--|
| rim | 1 | 19 kg | | |
| rim bolt | 6 | M10×25 8.8 hex | holds rim | 45 N·m |

## Work

`
	for _, c := range []struct {
		steps string
		want  []int // steps that lack an order
	}{
		{"1. {Torque 6 rim bolts crosswise}.\n2. {Torque 6 rim bolts} once more.", nil},
		{"1. {Torque 6 rim bolts}.\n2. {Torque 6 rim bolts crosswise}.", []int{1}},
		{"1. {Torque 6 rim bolts crosswise}.\n2. {Remove 6 rim bolts}. {Install 6 rim bolts}.\n3. {Torque 6 rim bolts}.", []int{3}},
		{"1. {for short} {Torque 6 rim bolts crosswise}.\n2. {Torque 6 rim bolts}.", []int{2}},
		{"1. {for short} {Torque 6 rim bolts crosswise}.\n2. {for short} {Torque 6 rim bolts}.", nil},
		{"1. {for short}\n   1. {Torque 6 rim bolts crosswise}.\n2. {for long} {Torque 6 rim bolts}.", []int{2}},
	} {
		fsys := fstest.MapFS{}
		lib := compiler.Open(fsys, func(p string) string { return p })
		var got []int
		for _, f := range lib.CompileText("case.md", []byte(head+c.steps+"\n"), rules.Options{Only: []string{"torque/no-pattern"}}).Findings {
			got = append(got, f.Step)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s\nsteps without an order: %v, want %v", strings.ReplaceAll(c.steps, "\n", " "), got, c.want)
		}
	}
}
