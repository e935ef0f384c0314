package assembly_test

import "testing"

const capsAndBolts = `cap | 2
			bolt | 4 | M8×30 8.8 hex | | holds cap | 22 N·m`

const clippedHose = `hose | 1
			hose clip | 2 | | | clamps hose | hand-tight`

// frontCases prove what starts and leaves of the front matter do.
var frontCases = []ledgerCase{
	{
		rule:  "starts are set: what is off need not come off",
		front: `starts: [remove cover]`,
		parts: `cover | 1`,
		steps: `{Install the cover}.`,
		want: `start: off 1 of 1 cover
			end: whole`,
	},
	{
		rule:  "starts are set: what is off is owed",
		front: `starts: [remove cover]`,
		parts: `cover | 1`,
		steps: `{Check the cover}.`,
		want:  `0 refit/left-off "remove cover" [1 1]`,
	},
	{
		rule:  "starts are not played: no order is asked of them",
		front: `starts: [lock off the drive, remove cover]`,
		parts: twoBolts,
		steps: `{Install the cover}. {Install 2 bolts}. {Torque 2 bolts}. {Check the cover}. {Unlock the drive}.`,
		want: `start: off 1 of 1 cover; off 2 of 2 bolt; isolated drive
			1: whole`,
	},
	{
		rule:  "starts: a removed part takes its holders along",
		front: `starts: [remove cover]`,
		parts: twoBolts,
		steps: `{Install 2 bolts}. {Torque 2 bolts}.`,
		want: `start: off 1 of 1 cover; off 2 of 2 bolt
			0 refit/left-off "remove cover" [1 1]`,
	},
	{
		rule:  "starts: a part of them takes as great a part of the holders along",
		front: `starts: [remove 1 cap]`,
		parts: capsAndBolts,
		steps: `{Install 1 cap}. {Install 2 bolts}. {Torque 2 bolts}.`,
		want: `start: off 1 of 2 cap; off 2 of 4 bolt
			1: whole`,
	},
	{
		rule:  "starts: a removed part takes its clamps along, slack",
		front: `starts: [remove hose]`,
		parts: clippedHose,
		steps: `{Install the hose}.
			{Snug 2 hose clips}.`,
		want: `start: off 1 of 1 hose; slack 2 of 2 hose clip
			2: whole`,
	},
	{
		rule:     "starts by name",
		front:    `starts: [open the hatch, drain the gear oil, insert 2 wedges, raise the jib, start the cure]`,
		supplies: `gear oil, 2 L`,
		steps: `{Close the hatch}. {Fill the gear oil}. {Withdraw 2 wedges}. {Lower the jib}.
			{Check the paint}.`,
		want: `start: insert 2 of 2 wedges; open 1 of 1 hatch; raise 1 of 1 jib; drained gear oil
			1: whole
			0 tag/missing-quantity "start the cure"`,
	},
	{
		rule:  "starts with what was closed: it is opened at the end",
		front: `starts: [close the feed valve]`,
		steps: `{Open the feed valve}.`,
		want: `start: close 1 of 1 feed valve
			1: whole`,
	},
	{
		rule:  "starts with what was closed, and it stays so",
		front: `starts: [close the feed valve]`,
		steps: `{Check the feed valve}.`,
		want:  `0 refit/left-open "close the feed valve"`,
	},
	{
		rule:  "leaves is the wanted end",
		front: `leaves: [remove guard, open the drain cock, lock off the drive]`,
		parts: `guard | 1`,
		steps: `{Lock off the drive}. {Check the drive is dead}. {Remove the guard}. {Open the drain cock}.`,
		want:  `end: off 1 of 1 guard; open 1 of 1 drain cock; isolated drive`,
	},
	{
		rule:  "leaves takes the holders of what stays off along",
		front: `leaves: [remove cover]`,
		parts: twoBolts,
		steps: `{Remove 2 bolts}. {Remove the cover}.`,
		want:  `end: off 1 of 1 cover; off 2 of 2 bolt`,
	},
	{
		rule:  "leaves takes no holders of another part along",
		front: `leaves: [remove cover]`,
		parts: twoBolts + `
			panel | 1
			screw | 2 | M6×12 | | holds panel`,
		steps: `{Remove 2 bolts}. {Remove the cover}. {Remove 2 screws}.`,
		want:  `1 refit/left-off "Remove 2 screws" [2 2]`,
	},
	{
		rule:  "leaves takes the clamps of what stays off along",
		front: `leaves: [remove hose]`,
		parts: clippedHose,
		steps: `{Loosen 2 hose clips}. {Remove the hose}.`,
		want:  `end: off 1 of 1 hose; slack 2 of 2 hose clip`,
	},
	{
		rule:  "leaves takes as great a part of the holders along, and no more",
		front: `leaves: [remove 1 cap]`,
		parts: capsAndBolts,
		steps: `{Remove 4 bolts}. {Remove 1 cap}.
			{Install 1 bolt}. {Torque 1 bolt}.`,
		want: `2 refit/left-off "Install 1 bolt" [1 4]`,
	},
	{
		rule:  "leaves says off, and it is on",
		front: `leaves: [remove guard]`,
		parts: `guard | 1`,
		steps: `{Check the guard}.`,
		want:  `0 refit/leaves-differ "remove guard"`,
	},
	{
		rule:  "leaves says fewer off than are",
		front: `leaves: [remove 1 panel]`,
		parts: `panel | 4`,
		steps: `{Remove 2 panels}.`,
		want:  `1 refit/left-off "Remove 2 panels" [1 4]`,
	},
	{
		rule:  "leaves says off, of a part that the variant lacks",
		front: "variants: [short, long]\nleaves: [remove stay]",
		parts: `stay | 1 | | | | | long`,
		steps: `{for long} {Remove the stay}.`,
		want:  `end: whole`,
	},
	{
		rule:  "leaves says slack",
		front: `leaves: [loosen 2 nuts]`,
		parts: `nut | 2 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Loosen 2 nuts}.`,
		want:  `end: slack 2 of 2 nut`,
	},
	{
		rule:  "leaves says slack, and it is tight",
		front: `leaves: [loosen 2 nuts]`,
		parts: `nut | 2 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Loosen 2 nuts}. {Torque 1 nut}.`,
		want:  `0 refit/leaves-differ "loosen 2 nuts"`,
	},
	{
		rule:  "leaves says fewer slack than are",
		front: `leaves: [loosen 1 nut]`,
		parts: `nut | 2 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Loosen 2 nuts}.`,
		want:  `1 refit/left-loose "Loosen 2 nuts" [1 2]`,
	},
	{
		rule:  "leaves says hand-tight, and it is torqued",
		front: `leaves: [snug 2 nuts]`,
		parts: `nut | 2 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Loosen 2 nuts}. {Snug 2 nuts}. {Torque 2 nuts}.`,
		want:  `0 refit/leaves-differ "snug 2 nuts"`,
	},
	{
		rule:  "leaves says on, and part of it is off",
		front: `leaves: [install 2 nuts, remove 1 nut]`,
		parts: `nut | 2 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Remove 1 nut}.`,
		want:  `0 refit/leaves-differ "install 2 nuts"`,
	},
	{
		rule:  "leaves says on, and not yet torqued",
		front: `leaves: [install 2 nuts]`,
		parts: `nut | 2 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Remove 2 nuts}. {Install 2 nuts}.`,
		want:  `end: in 2 of 2 nut`,
	},
	{
		rule:  "leaves says hand-tight",
		front: `leaves: [snug 2 nuts]`,
		parts: `nut | 2 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Loosen 2 nuts}. {Snug 2 nuts}.`,
		want:  `end: hand-tight 2 of 2 nut`,
	},
	{
		rule:  "leaves says open, and it is shut",
		front: `leaves: [open the drain cock]`,
		steps: `{Open the drain cock}. {Close the drain cock}.`,
		want:  `0 refit/leaves-differ "open the drain cock"`,
	},
	{
		rule:     "leaves says drained, and it is full",
		front:    `leaves: [drain gear oil]`,
		supplies: `gear oil, 2 L`,
		steps:    `{Drain the gear oil}. {Fill the gear oil}.`,
		want:     `0 refit/leaves-differ "drain gear oil"`,
	},
	{
		rule:  "leaves says isolated, and it is not",
		front: `leaves: [lock off the drive]`,
		steps: `{Check the drive}.`,
		want:  `0 refit/leaves-differ "lock off the drive"`,
	},
	{
		rule:  "leaves says a wait runs, and none does",
		front: `leaves: ["start the paint cure, 2 h"]`,
		steps: `{Check the paint}.`,
		want:  `0 refit/leaves-differ "start the paint cure, 2 h"`,
	},
	{
		rule:  "leaves says a wait runs",
		front: `leaves: ["start the paint cure, 2 h"]`,
		steps: `{Start the paint cure, 2 h}.`,
		want:  `end: running paint cure`,
	},
	{
		rule:  "leaves says marked, and it is not",
		front: `leaves: [mark the shaft]`,
		steps: `{Check the shaft}.`,
		want:  `0 refit/leaves-differ "mark the shaft"`,
	},
}

func TestStartsAndLeaves(t *testing.T) { checkAll(t, frontCases) }
