package assembly_test

import "testing"

// unitCases prove what a unit is at the start, what a fastener is, when it is final, and how acts count.
var unitCases = []ledgerCase{
	{
		rule:  "at the start a reuse part is on, old and final",
		parts: `nut | 2 | M8 class 8 hex | reuse | | 22 N·m`,
		steps: `{Check 2 nuts are there}.`,
		want: `start: whole
			end: whole`,
	},
	{
		rule:  "at the start a replace part is on and old",
		parts: `filter | 1 | | replace`,
		steps: `{Check the filter is there}.`,
		want: `start: whole
			0 refit/old-part-back "filter"`,
	},
	{
		rule:  "at the start an if worn part is on, and may stay old",
		parts: `belt | 1 | | if worn`,
		steps: `{Remove the belt}.
			{Install the belt}.`,
		want: `start: whole
			end: whole`,
	},
	{
		rule:  "an omit part that nobody takes off is on at the end",
		parts: `transit strap | 1 | | omit`,
		steps: `{Check the transit strap}.`,
		want:  `0 part/use-differs "transit strap"`,
	},
	{
		rule:  "an omit part comes off and stays off",
		parts: `transit strap | 1 | | omit`,
		steps: `{Remove the transit strap}.`,
		want:  `1: off 1 of 1 transit strap`,
	},
	{
		rule:  "an omit part does not go back",
		parts: `transit strap | 1 | | omit`,
		steps: `{Remove the transit strap}.
			{Install the transit strap}.`,
		want: `2 part/use-differs "Install the transit strap"`,
	},
	{
		rule:  "an add part is in the packet at the start",
		parts: `plate | 1 | | add`,
		steps: `{Remove the plate}.
			{Install the plate}.`,
		want: `1 part/use-differs "Remove the plate"`,
	},
	{
		rule:  "an add part that is never fitted",
		parts: `plate | 1 | | add`,
		steps: `{Check the plate}.`,
		want:  `0 part/use-differs "plate"`,
	},
	{
		rule:  "new of a reuse row",
		parts: `guard | 1`,
		steps: `{Remove the guard}.
			{Install a new guard}.`,
		want: `2 part/use-differs "Install a new guard"`,
	},
	{
		rule: "a fastener has a torque or a thread, anything else is final as soon as it is on",
		parts: `gasket | 1 | fibre
			strap | 1 | steel | | | hand-tight
			stud | 1 | M8×30
			clamp | 1 | steel | | | 22 N·m`,
		steps: `{Loosen the gasket, strap, stud, and clamp}.
			{Remove the gasket, strap, stud, and clamp}.
			{Install the gasket, strap, stud, and clamp}.
			{Tighten the stud}. {Torque the clamp}.`,
		want: `1: slack 1 of 1 strap; slack 1 of 1 stud; slack 1 of 1 clamp
			3: in 1 of 1 stud; in 1 of 1 clamp
			4: whole`,
	},
	{
		rule:  "hand-tight is final after install",
		parts: `knob | 2 | M6 | | | hand-tight`,
		steps: `{Remove 2 knobs}.
			{Install 2 knobs}.`,
		want: `2: whole`,
	},
	{
		rule:  "hand-tight is final after snug",
		parts: `knob | 2 | M6 | | | hand-tight`,
		steps: `{Loosen 2 knobs}.
			{Snug 2 knobs}.`,
		want: `1: slack 2 of 2 knob
			2: whole`,
	},
	{
		rule:  "hand-tight left slack",
		parts: `knob | 2 | M6 | | | hand-tight`,
		steps: `{Loosen 2 knobs}.`,
		want:  `1 refit/left-loose "Loosen 2 knobs" [2 2]`,
	},
	{
		rule:  "by setting is final after snug",
		parts: `gland nut | 2 | M8 | | | by setting`,
		steps: `{Loosen 2 gland nuts}.
			{Snug 2 gland nuts}.`,
		want: `2: whole`,
	},
	{
		rule:  "by setting is final after tighten or torque",
		parts: `gland nut | 2 | M8 | | | by setting`,
		steps: `{Loosen 2 gland nuts}.
			{Tighten 1 gland nut}.
			{Torque 1 gland nut to 6 N·m}.`,
		want: `2: slack 1 of 2 gland nut
			3: whole`,
	},
	{
		rule:  "by setting is not final after install",
		parts: `gland nut | 2 | M8 | | | by setting`,
		steps: `{Remove 2 gland nuts}.
			{Install 2 gland nuts}.`,
		want: `2: in 2 of 2 gland nut
			2 refit/left-loose "Install 2 gland nuts" [2 2]`,
	},
	{
		rule:  "with no torque in the row, final after torque",
		parts: `stud | 2 | M8×30`,
		steps: `{Loosen 2 studs}.
			{Torque 2 studs to 20 N·m}.`,
		want: `2: whole`,
	},
	{
		rule:  "with no torque in the row, snug is not enough",
		parts: `stud | 2 | M8×30`,
		steps: `{Loosen 2 studs}.
			{Snug 2 studs}.`,
		want: `2: hand-tight 2 of 2 stud
			2 refit/left-loose "Snug 2 studs" [2 2]`,
	},
	{
		rule: "the bolt without a torque follows its nut",
		parts: `plate | 1
			bolt | 2 | M8×40 8.8 hex | | holds plate
			nut | 2 | M8 class 8 hex | | holds plate | 22 N·m`,
		steps: `{Remove 2 nuts, 2 bolts, and the plate}.
			{Install the plate, 2 bolts, and 2 nuts}.
			{Torque 2 nuts}.`,
		want: `2: in 2 of 2 bolt; in 2 of 2 nut
			3: whole`,
	},
	{
		rule: "the bolt of a nut that is short of its torque is one finding with it",
		parts: `plate | 1
			bolt | 2 | M8×40 8.8 hex | | holds plate
			nut | 2 | M8 class 8 hex | | holds plate | 22 N·m`,
		steps: `{Loosen 2 nuts and 2 bolts}.
			{Snug 2 bolts and 2 nuts}.`,
		want: `2 refit/not-torqued "2 nuts" [2 2]`,
	},
	{
		rule: "a bolt that is slackened after its nut was torqued follows it no more",
		parts: `plate | 1
			bolt | 2 | M8×40 8.8 hex | | holds plate
			nut | 2 | M8 class 8 hex | | holds plate | 22 N·m`,
		steps: `{Loosen 2 bolts}.
			{Torque 2 nuts}.
			{Loosen 2 bolts}.`,
		want: `1: slack 2 of 2 bolt
			2: whole
			3: slack 2 of 2 bolt
			3 refit/left-loose "Loosen 2 bolts" [2 2]`,
	},
	{
		rule: "a bolt with other relations follows no nut",
		parts: `plate | 1
			bolt | 2 | M8×40 8.8 hex
			nut | 2 | M8 class 8 hex | | holds plate | 22 N·m`,
		steps: `{Loosen 2 bolts and 2 nuts}.
			{Torque 2 nuts}.`,
		want: `2: slack 2 of 2 bolt
			1 refit/left-loose "2 bolts" [2 2]`,
	},
	{
		rule: "a bolt that holds another part follows no nut",
		parts: `plate | 1
			lid | 1
			bolt | 2 | M8×40 8.8 hex | | holds lid
			nut | 2 | M8 class 8 hex | | holds plate | 22 N·m`,
		steps: `{Loosen 2 bolts}.`,
		want:  `1 refit/left-loose "Loosen 2 bolts" [2 2]`,
	},
	{
		rule: "a bolt of another thread follows no nut",
		parts: `plate | 1
			bolt | 2 | M10×40 8.8 hex | | holds plate
			nut | 2 | M8 class 8 hex | | holds plate | 22 N·m`,
		steps: `{Loosen 2 bolts}.`,
		want:  `1 refit/left-loose "Loosen 2 bolts" [2 2]`,
	},
	{
		rule:  "a number, and both",
		parts: `guard | 2`,
		steps: `{Remove 1 guard}.
			{Install 1 guard}.
			{Remove both guards}.
			{Install two guards}.`,
		want: `1: off 1 of 2 guard
			2: whole
			3: off 2 of 2 guard
			4: whole`,
	},
	{
		rule:  "n of m is n",
		parts: `panel | 4`,
		steps: `{Remove 3 of 4 panels}.
			{Install 3 of the 4 panels}.`,
		want: `1: off 3 of 4 panel
			2: whole`,
	},
	{
		rule:  "m must be Qty",
		parts: `panel | 4`,
		steps: `{Remove 3 of 5 panels}.`,
		want: `1: whole
			1 part/too-many "3 of 5 panels" [5 4 4]`,
	},
	{
		rule:  "remaining and other are all that still can be",
		parts: `panel | 4`,
		steps: `{Remove 1 panel}.
			{Remove the remaining panels}.
			{Install 3 panels}.
			{Install the other panels}.`,
		want: `2: off 4 of 4 panel
			3: off 1 of 4 panel
			4: whole`,
	},
	{
		rule:  "remaining of nothing that is left",
		parts: `panel | 2`,
		steps: `{Remove 2 panels}.
			{Remove the remaining panels}.
			{Install 2 panels}.`,
		want: `2 refit/already-off "Remove the remaining panels" [0 0]`,
	},
	{
		rule:  "a is one",
		parts: `panel | 4`,
		steps: `{Remove a panel}.
			{Install a panel}.`,
		want: `1: off 1 of 4 panel
			2: whole`,
	},
	{
		rule:  "all, each and nothing are Qty",
		parts: `panel | 4`,
		steps: `{Remove all panels}.
			{Install each panel}.
			{Remove panels}.
			{Install every panel}.`,
		want: `1: off 4 of 4 panel
			2: whole
			3: off 4 of 4 panel
			4: whole`,
	},
	{
		rule:  "all is Qty, not what is left",
		parts: `panel | 4`,
		steps: `{Remove 1 panel}.
			{Remove all panels}.
			{Install 1 panel}.`,
		want: `2: off 1 of 4 panel
			2 part/too-many "Remove all panels" [4 3 4]`,
	},
	{
		rule:  "a singular without each, of a part declared with more",
		parts: `panel | 4`,
		steps: `{Remove the panel}.`,
		want:  `1 part/singular "the panel" [4]`,
	},
}

func TestUnitsFastenersAndCounts(t *testing.T) { checkAll(t, unitCases) }
