package assembly_test

import "testing"

const heldCaps = `cap | 2
			bolt | 4 | M8×30 8.8 hex | | holds cap | 22 N·m`

const twoBolts = `cover | 1
			bolt | 2 | M8×30 8.8 hex | | holds cover | 22 N·m`

// relationCases prove that relations are proportional, and what each of them forbids.
var relationCases = []ledgerCase{
	{
		rule:  "half of the bolts off frees half of what they hold",
		parts: heldCaps,
		steps: `{Remove 2 bolts}. {Remove 1 cap}.
			{Install 1 cap}. {Install 2 bolts}. {Torque 2 bolts}.`,
		want: `1: off 1 of 2 cap; off 2 of 4 bolt
			2: whole`,
	},
	{
		rule:  "half of the bolts off frees no more",
		parts: heldCaps,
		steps: `{Remove 2 bolts}. {Remove 2 caps}.
			{Install 2 caps}. {Install 2 bolts}. {Torque 2 bolts}.`,
		want: `1 order/held "Remove 2 caps" [2 4]`,
	},
	{
		rule:  "what comes off in two acts is counted together",
		parts: heldCaps,
		steps: `{Remove 3 bolts}. {Remove 1 cap}.
			{Remove 1 cap}.
			{Install 2 caps}. {Install 3 bolts}. {Torque 3 bolts}.`,
		want: `2 order/held "Remove 1 cap" [1 4]`,
	},
	{
		rule:  "going on likewise: the bolts of a cap that is on may go in",
		parts: heldCaps,
		steps: `{Remove 4 bolts}. {Remove 2 caps}.
			{Install 1 cap}. {Install 2 bolts}.
			{Install 1 cap}. {Install 2 bolts}. {Torque 4 bolts crosswise}.`,
		want: `2: off 1 of 2 cap; off 2 of 4 bolt; in 2 of 4 bolt
			3: whole`,
	},
	{
		rule:  "going on likewise: not the bolts of a cap that is off",
		parts: heldCaps,
		steps: `{Remove 4 bolts}. {Remove 2 caps}.
			{Install 1 cap}. {Install 4 bolts}.
			{Install 1 cap}. {Torque 4 bolts crosswise}.`,
		want: `2 order/held "Install 4 bolts"`,
	},
	{
		rule: "a clamp need only be slack",
		parts: `hose | 1
			hose clip | 2 | | | clamps hose | hand-tight`,
		steps: `{Loosen 2 hose clips}. {Remove the hose}.
			{Install the hose}. {Snug 2 hose clips}.`,
		want: `1: off 1 of 1 hose; slack 2 of 2 hose clip
			2: whole`,
	},
	{
		rule: "a clamp that is tight holds",
		parts: `hose | 1
			hose clip | 2 | | | clamps hose | hand-tight`,
		steps: `{Loosen 1 hose clip}. {Remove the hose}.
			{Install the hose}. {Snug 1 hose clip}.`,
		want: `1 order/held "Remove the hose" [1 2]`,
	},
	{
		rule:  "slack is not enough for what holds",
		parts: twoBolts,
		steps: `{Loosen 2 bolts}. {Remove the cover}.
			{Install the cover}. {Torque 2 bolts}.`,
		want: `1 order/held "Remove the cover" [2 2]`,
	},
	{
		rule: "k of Q behind may be touched when as great a part of the front is off",
		parts: `screen | 2
			brush | 4 | | | behind screen`,
		steps: `{Remove 1 screen}. {Remove 2 brushes}.
			{Install 2 brushes}. {Install 1 screen}.`,
		want: `1: off 1 of 2 screen; off 2 of 4 brush
			2: whole`,
	},
	{
		rule: "not more than as great a part",
		parts: `screen | 2
			brush | 4 | | | behind screen`,
		steps: `{Remove 1 screen}. {Remove 3 brushes}.
			{Install 1 screen}.`,
		want: `1: off 1 of 2 screen
			1 order/behind "Remove 3 brushes" < "screen"`,
	},
	{
		rule: "the front may stand open, raised or disconnected",
		parts: `door | 1
			hood | 1
			duct | 1
			fuse | 1 | | | behind door
			belt | 1 | | | behind hood
			fan | 1 | | | under duct`,
		steps: `{Open the door}. {Remove the fuse}. {Install the fuse}. {Close the door}.
			{Raise the hood}. {Support the hood}. {Remove the belt}. {Install the belt}. {Release the hood}. {Lower the hood}.
			{Disconnect the duct}. {Remove the fan}. {Install the fan}. {Connect the duct}.`,
		want: `3: whole`,
	},
	{
		rule: "a front that is capped or supported still stands in front",
		parts: `door | 1
			fuse | 1 | | | behind door`,
		steps: `{Support the door}. {Remove the fuse}.
			{Release the door}.`,
		want: `1 order/behind "Remove the fuse"`,
	},
	{
		rule: "what locks is on: what it locks can't be turned",
		parts: `nut | 1 | M8 castle | | | 22 N·m
			split pin | 1 | | replace | locks nut`,
		steps: `{Loosen the nut}.
			{Remove the split pin}. {Install a new split pin}.`,
		want: `1: whole
			1 order/held "Loosen the nut"`,
	},
	{
		rule: "what locks is off: what it locks turns",
		parts: `nut | 1 | M8 castle | | | 22 N·m
			split pin | 1 | | replace | locks nut`,
		steps: `{Remove the split pin}. {Loosen the nut}.
			{Torque the nut}. {Install a new split pin}.`,
		want: `1: off 1 of 1 split pin; slack 1 of 1 nut
			2: scrap 1 of 1 split pin`,
	},
	{
		rule: "a fastener locks only while it is final",
		parts: `screw | 1 | M6×30 | | | by setting
			lock nut | 1 | M6 jam | | locks screw | 5 N·m`,
		steps: `{Loosen the lock nut}. {Loosen the screw}. {Snug the screw}.
			{Torque the lock nut}.
			{Loosen the screw}.`,
		want: `1: slack 1 of 1 lock nut
			2: whole
			3 order/held "Loosen the screw"`,
	},
	{
		rule: "what is locked is not left loose",
		parts: `nut | 1 | M8 castle
			split pin | 1 | | replace | locks nut`,
		steps: `{Remove the split pin}. {Loosen the nut}.
			{Snug the nut}. {Install a new split pin}.`,
		want: `2: hand-tight 1 of 1 nut; scrap 1 of 1 split pin`,
	},
	{
		rule: "what is not locked is left loose",
		parts: `nut | 1 | M8 castle
			split pin | 1 | | replace | locks nut`,
		steps: `{Remove the split pin}. {Loosen the nut}.
			{Snug the nut}.`,
		want: `2 refit/left-loose "Snug the nut" [1 1]
			1 refit/left-off "Remove the split pin" [1 1]`,
	},
	{
		rule: "what is locked and has a torque stays not torqued",
		parts: `nut | 1 | M8 castle | | | 22 N·m
			split pin | 1 | | replace | locks nut`,
		steps: `{Remove the split pin}. {Loosen the nut}.
			{Snug the nut}. {Install a new split pin}.`,
		want: `2 refit/not-torqued "Snug the nut" [1 1]`,
	},
	{
		rule: "a filler plug may be off while the fluid goes in",
		parts: `drain plug | 1 | M16×1.5 | | seals gear oil | 45 N·m
			filler plug | 1 | M16×1.5 | | seals gear oil, fills gear oil | 45 N·m`,
		supplies: `gear oil, 2 L`,
		steps: `{Remove the drain plug and filler plug}. {Drain the gear oil}.
			{Install the drain plug}. {Torque the drain plug}. {Fill the gear oil}.
			{Install the filler plug}. {Torque the filler plug}.`,
		want: `2: off 1 of 1 filler plug
			3: whole`,
	},
	{
		rule: "another plug may not",
		parts: `drain plug | 1 | M16×1.5 | | seals gear oil | 45 N·m
			vent plug | 1 | M16×1.5 | | seals gear oil | 45 N·m`,
		supplies: `gear oil, 2 L`,
		steps: `{Remove the drain plug and vent plug}. {Drain the gear oil}.
			{Install the drain plug}. {Torque the drain plug}. {Fill the gear oil}.
			{Install the vent plug}. {Torque the vent plug}.`,
		want: `2 order/filled-open "Fill the gear oil"`,
	},
	{
		rule: "a circle of relations",
		parts: `door | 1 | | | behind frame
			frame | 1 | | | behind door`,
		steps: `{Check the door}. {Check the frame}.`,
		want:  `0 part/unknown-place "behind door"`,
	},
	{
		rule: "a chain of relations is no circle",
		parts: `door | 1
			frame | 1 | | | behind door
			seal | 1 | | | behind frame`,
		steps: `{Check the door}. {Check the frame}. {Check the seal}.`,
		want:  `end: whole`,
	},
}

func TestRelationsAreProportional(t *testing.T) { checkAll(t, relationCases) }

// Each way of touching needs the part in reach; nothing else does.
func TestWhatTouches(t *testing.T) {
	const parts = `screen | 1
		stud | 1 | M8×30 8.8 hex | if worn | behind screen | 22 N·m`
	for act, touches := range map[string]bool{
		"Remove the stud": true, "Install the stud": true, "Replace the stud": true, "Loosen the stud": true, "Snug the stud": true,
		"Tighten the stud": true, "Torque the stud": true,
		"Discard the stud": false, "Clean the stud": false, "Lubricate the stud": false, "Check the stud": false, "Lift the stud": false,
		"Mark the stud": false, "Part the stud": false, "Record the stud number": false, "Measure stud length 30..31 mm": false,
	} {
		_, faults, plays := played(t, ledgerCase{parts: parts, steps: "{" + act + "}."}.text())
		got := false
		for _, f := range append(faults, plays[0].Faults...) {
			got = got || f.Name == "order/behind"
		}
		if got != touches {
			t.Errorf("{%s} behind a screen that is on: found %v, want %v", act, got, touches)
		}
	}
}
