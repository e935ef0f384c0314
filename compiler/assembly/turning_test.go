package assembly_test

import "testing"

// turningCases prove the rows of the verb table that turn fasteners: snug, loosen, tighten, torque, and an angle alone.
var turningCases = []ledgerCase{
	{
		rule:  "snug takes slack and in to hand",
		parts: `nut | 4 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Remove 2 nuts}. {Install 2 nuts}. {Loosen 2 nuts}.
			{Snug 4 nuts}.`,
		want: `1: slack 2 of 4 nut; in 2 of 4 nut
			2: hand-tight 4 of 4 nut
			2 refit/not-torqued "Snug 4 nuts" [4 4]`,
	},
	{
		rule:  "snug installs the rest first, and final stays final",
		parts: `nut | 4 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Remove 2 nuts}.
			{Snug 4 nuts}.
			{Torque 2 nuts}.`,
		want: `1: off 2 of 4 nut
			2: hand-tight 2 of 4 nut
			3: whole`,
	},
	{
		rule:  "snug slackens nothing that is tighter",
		parts: `nut | 4 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Loosen 4 nuts}. {Torque 3 nuts to 10 N·m}.
			{Snug 4 nuts}.
			{Torque 4 nuts crosswise}.`,
		want: `1: slack 1 of 4 nut; stage 3 of 4 nut
			2: hand-tight 1 of 4 nut; stage 3 of 4 nut
			3: whole`,
	},
	{
		rule:  "snug of what is scrapped",
		parts: `nut | 2 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Remove 2 nuts}. {Discard 2 nuts}.
			{Snug 2 nuts}.`,
		want: `2 refit/used-after-scrap "Snug 2 nuts" [2 0]`,
	},
	{
		rule:  "loosen takes on to slack, and again is silent",
		parts: `nut | 2 | M8 class 8 hex`,
		steps: `{Loosen 2 nuts}.
			{Loosen 2 nuts}.
			{Tighten 2 nuts}.`,
		want: `1: slack 2 of 2 nut
			2: slack 2 of 2 nut
			3: whole`,
	},
	{
		rule:  "loosen of what is off",
		parts: `nut | 2 | M8 class 8 hex`,
		steps: `{Remove 2 nuts}.
			{Loosen 2 nuts}.`,
		want: `2 refit/already-off "Loosen 2 nuts" [2 0]`,
	},
	{
		rule:  "tighten takes a row with a torque to tight only",
		parts: `nut | 2 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Loosen 2 nuts}.
			{Tighten 2 nuts}.`,
		want: `1: slack 2 of 2 nut
			2: tight 2 of 2 nut
			2 refit/not-torqued "Tighten 2 nuts" [2 2]`,
	},
	{
		rule:  "tighten takes a row without torque to final",
		parts: `nut | 2 | M8 class 8 hex`,
		steps: `{Loosen 2 nuts}.
			{Tighten 2 nuts}.`,
		want: `2: whole`,
	},
	{
		rule:  "tighten of what is off",
		parts: `nut | 2 | M8 class 8 hex`,
		steps: `{Remove 2 nuts}.
			{Tighten 2 nuts}.
			{Install 2 nuts}. {Tighten 2 nuts}.`,
		want: `2: off 2 of 2 nut
			2 refit/already-off "Tighten 2 nuts" [2 0]`,
	},
	{
		rule:  "torque takes on to final",
		parts: `nut | 4 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Loosen 4 nuts}.
			{Torque 3 nuts to 22 N·m}.
			{Torque 1 nut}.`,
		want: `2: slack 1 of 4 nut
			3: whole`,
	},
	{
		rule:  "torque below the table's value is a stage",
		parts: `nut | 4 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Loosen 4 nuts}. {Torque 4 nuts to 10 N·m crosswise}.`,
		want: `1: stage 4 of 4 nut
			1 torque/differs-from-table "10 N·m"`,
	},
	{
		rule:  "torque below the table and then to it",
		parts: `nut | 4 | M8 class 8 hex | | | 20..24 N·m`,
		steps: `{Loosen 4 nuts}. {Torque 4 nuts to 10 N·m crosswise}.
			{Torque 4 nuts to 22 N·m crosswise}.`,
		want: `1: stage 4 of 4 nut
			2: whole`,
	},
	{
		rule:  "torque above the table's value",
		parts: `nut | 4 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Loosen 4 nuts}. {Torque 4 nuts to 30 N·m crosswise}.
			{Torque 4 nuts to 22 N·m crosswise}.`,
		want: `2: whole
			1 torque/differs-from-table "30 N·m"`,
	},
	{
		rule:  "torque of what is final is a re-torque",
		parts: `nut | 4 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Torque 4 nuts crosswise}.
			{Torque 4 nuts crosswise}.`,
		want: `1: whole
			2: whole`,
	},
	{
		rule:  "torque of what is off",
		parts: `nut | 4 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Remove 4 nuts}.
			{Torque 4 nuts crosswise}.
			{Install 4 nuts}.
			{Torque 4 nuts crosswise}.`,
		want: `2: off 4 of 4 nut
			4: whole
			2 refit/already-off "Torque 4 nuts crosswise" [4 0]`,
	},
	{
		rule:  "torque while others of the group are off and go in later",
		parts: `nut | 4 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Remove 2 nuts}.
			{Torque 2 nuts}.
			{Install 2 nuts}. {Torque 2 nuts}.`,
		want: `2: off 2 of 4 nut
			2 order/torqued-early "Torque 2 nuts" [2 2]`,
	},
	{
		rule:  "then an angle alone takes a stage to final",
		parts: `bolt | 2 | M8×30 10.9 hex | | | 15 N·m + 60°`,
		steps: `{Loosen 2 bolts}. {Torque 2 bolts to 15 N·m}.
			{Torque 2 bolts then 60°}.`,
		want: `1: stage 2 of 2 bolt
			2: whole`,
	},
	{
		rule:  "then an angle with no torque before it",
		parts: `bolt | 2 | M8×30 10.9 hex | | | 15 N·m + 60°`,
		steps: `{Loosen 2 bolts}. {Tighten 2 bolts}.
			{Torque 2 bolts then 60°}.`,
		want: `1: tight 2 of 2 bolt
			2 torque/angle-without-torque "Torque 2 bolts then 60°"`,
	},
	{
		rule:  "then an angle on bolts that nobody has touched",
		parts: `bolt | 2 | M8×30 10.9 hex | | | 15 N·m + 60°`,
		steps: `{Torque 2 bolts then 60°}.`,
		want:  `1 torque/angle-without-torque "Torque 2 bolts then 60°"`,
	},
	{
		rule: "then an angle when only another part had its torque",
		parts: `bolt | 2 | M8×30 10.9 hex
			stud | 2 | M8×30 10.9 hex`,
		steps: `{Loosen 2 studs}. {Torque 2 studs to 15 N·m}.
			{Torque 2 bolts then 60°}.`,
		want: `2 torque/angle-without-torque "Torque 2 bolts then 60°"`,
	},
	{
		rule:  "then an angle behind a torque that the row lacks",
		parts: `bolt | 2 | M8×30 10.9 hex`,
		steps: `{Loosen 2 bolts}. {Torque 2 bolts to 15 N·m}.
			{Torque 2 bolts then 60°}.`,
		want: `1: whole
			2: whole`,
	},
	{
		rule:  "an angle of the table that is never given",
		parts: `bolt | 2 | M8×30 10.9 hex | | | 15 N·m + 60°`,
		steps: `{Loosen 2 bolts}. {Torque 2 bolts to 15 N·m}.`,
		want: `1: stage 2 of 2 bolt
			1 torque/differs-from-table "Torque 2 bolts to 15 N·m"`,
	},
	{
		rule:  "an angle given in parts",
		parts: `bolt | 4 | M8×30 10.9 hex | | | 15 N·m + 60°`,
		steps: `{Loosen 4 bolts}. {Torque 4 bolts to 15 N·m crosswise}.
			{Torque 4 bolts then 30°}.
			{Torque 4 bolts then another 30°}.`,
		want: `2: stage 4 of 4 bolt
			3: whole`,
	},
	{
		rule:  "an angle given bolt by bolt",
		parts: `bolt | 4 | M8×30 10.9 hex | | | 15 N·m + 60°`,
		steps: `{Loosen 4 bolts}. {Torque 4 bolts to 15 N·m crosswise}.
			{Torque 2 bolts then 60°}.
			{Torque the other bolts then 60°}.`,
		want: `2: stage 2 of 4 bolt
			3: whole`,
	},
	{
		rule:  "an angle short of the table's",
		parts: `bolt | 4 | M8×30 10.9 hex | | | 15 N·m + 60°`,
		steps: `{Loosen 4 bolts}. {Torque 4 bolts to 15 N·m then 30° crosswise}.`,
		want: `1: stage 4 of 4 bolt
			1 torque/differs-from-table "15 N·m"`,
	},
	{
		rule:  "an angle above the table's",
		parts: `bolt | 4 | M8×30 10.9 hex | | | 15 N·m + 60°`,
		steps: `{Loosen 4 bolts}. {Torque 4 bolts to 15 N·m crosswise}.
			{Torque 4 bolts then 90°}.`,
		want: `2: stage 4 of 4 bolt
			2 torque/differs-from-table "Torque 4 bolts then 90°"`,
	},
	{
		rule:  "an angle behind a torque short of the table's",
		parts: `bolt | 4 | M8×30 10.9 hex | | | 15 N·m + 60°`,
		steps: `{Loosen 4 bolts}. {Torque 4 bolts to 8 N·m crosswise}.
			{Torque 4 bolts then 60°}.`,
		want: `2: stage 4 of 4 bolt
			2 torque/differs-from-table "Torque 4 bolts then 60°"`,
	},
}

func TestRowsThatTurnFasteners(t *testing.T) { checkAll(t, turningCases) }
