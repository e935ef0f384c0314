package assembly_test

import "testing"

// rowCases prove the rows of the verb table, each at work and where it can't be done.
var rowCases = []ledgerCase{
	{
		rule: "remove takes the loosest first",
		parts: `cover | 1
			nut | 4 | M8 class 8 hex | | holds cover | 22 N·m`,
		steps: `{Loosen 2 nuts}.
			{Remove 2 nuts}.
			{Install 2 nuts}. {Torque 4 nuts crosswise}.`,
		want: `1: slack 2 of 4 nut
			2: off 2 of 4 nut
			end: whole`,
	},
	{
		rule:  "remove of what is off",
		parts: `guard | 1`,
		steps: `{Remove the guard}.
			{Remove the guard}.
			{Install the guard}.`,
		want: `2: off 1 of 1 guard
			2 refit/already-off "Remove the guard" [1 0]`,
	},
	{
		rule:  "remove of more than are on",
		parts: `panel | 4`,
		steps: `{Remove 3 panels}.
			{Remove 2 panels}.
			{Install 3 panels}.`,
		want: `2: off 3 of 4 panel
			2 part/too-many "Remove 2 panels" [2 1 4]`,
	},
	{
		rule:  "remove ends a support of that name",
		parts: `motor | 1`,
		steps: `{Support the motor} with a strap. {Remove the motor}.
			{Install the motor}.`,
		want: `1: off 1 of 1 motor
			end: whole`,
	},
	{
		rule:  "remove ends no support of another name",
		parts: `motor | 1`,
		steps: `{Support the gearbox} with a strap. {Remove the motor}.
			{Install the motor}.`,
		want: `end: support 1 of 1 gearbox
			1 refit/left-open "Support the gearbox"`,
	},
	{
		rule:  "install puts an old one that is off back, and tightens nothing",
		parts: `nut | 4 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Remove 3 nuts}.
			{Install 3 nuts}.`,
		want: `2: in 3 of 4 nut
			2 refit/not-torqued "Install 3 nuts" [3 4]`,
	},
	{
		rule:  "install of what is on",
		parts: `guard | 1`,
		steps: `{Install the guard}.`,
		want: `1: whole
			1 refit/already-on "Install the guard" [1 0]`,
	},
	{
		rule:  "install new takes one out of the packet and retires the old one",
		parts: `gasket | 1 | | replace`,
		steps: `{Remove the gasket}.
			{Install a new gasket}.`,
		want: `1: off 1 of 1 gasket
			2: scrap 1 of 1 gasket`,
	},
	{
		rule:  "install new retires a scrapped one before one that is only off",
		parts: `shoe | 4 | | if worn`,
		steps: `{Remove 4 shoes}. {Discard 2 shoes}.
			{Install 2 new shoes}.
			{Install 2 old shoes}.`,
		want: `1: off 2 of 4 shoe; scrap 2 of 4 shoe
			2: off 2 of 4 shoe; scrap 2 of 4 shoe
			3: scrap 2 of 4 shoe`,
	},
	{
		rule:  "plain install puts an old one back while one is off",
		parts: `gasket | 1 | | replace`,
		steps: `{Remove the gasket}.
			{Install the gasket}.`,
		want: `2: whole
			2 refit/old-part-back "Install the gasket"`,
	},
	{
		rule:  "plain install goes to the packet when all old ones are scrapped",
		parts: `gasket | 1 | | replace`,
		steps: `{Remove the gasket}. {Discard the gasket}.
			{Install the gasket}.`,
		want: `1: off 1 of 1 gasket; scrap 1 of 1 gasket
			2: scrap 1 of 1 gasket`,
	},
	{
		rule:  "plain install goes to the packet for if worn too",
		parts: `belt | 1 | | if worn`,
		steps: `{Remove the belt}. {Discard the belt}.
			{Install the belt}.`,
		want: `2: scrap 1 of 1 belt`,
	},
	{
		rule:  "plain install of a reuse part finds no packet",
		parts: `belt | 1`,
		steps: `{Remove the belt}. {Discard the belt}.
			{Install the belt}.`,
		want: `2 refit/used-after-scrap "Install the belt" [1 0]`,
	},
	{
		rule:  "install of an add part comes from the packet",
		parts: `splash plate | 1 | | add`,
		steps: `{Install the splash plate}.`,
		want: `start: whole
			end: whole`,
	},
	{
		rule:  "install new when none is left in the packet",
		parts: `seal | 2 | | replace`,
		steps: `{Remove 2 seals}. {Install 2 new seals}.
			{Remove 1 seal}. {Discard 1 new seal}.
			{Install a new seal}.`,
		want: `2: off 1 of 2 seal; scrap 3 of 2 seal
			3 refit/used-after-scrap "Install a new seal" [1 0]`,
	},
	{
		rule:  "install old after discard",
		parts: `shoe | 2 | | if worn`,
		steps: `{Remove 2 shoes}. {Discard 2 shoes}.
			{Install 2 old shoes}.`,
		want: `2 refit/used-after-scrap "Install 2 old shoes" [2 0]`,
	},
	{
		rule:  "install old before discard",
		parts: `shoe | 2 | | if worn`,
		steps: `{Remove 2 shoes}.
			{Install 2 old shoes}.`,
		want: `2: whole`,
	},
	{
		rule:  "replace scraps one that is on",
		parts: `fuse | 2 | | replace`,
		steps: `{Replace 1 fuse}.
			{Replace 1 fuse}.`,
		want: `1: scrap 1 of 2 fuse
			2: scrap 2 of 2 fuse`,
	},
	{
		rule:  "replace scraps one that is off, and leaves in what it is not tightened to",
		parts: `nut | 2 | M8 class 8 hex | replace | | 22 N·m`,
		steps: `{Remove 2 nuts}.
			{Replace 2 nuts}.`,
		want: `1: off 2 of 2 nut
			2: in 2 of 2 nut; scrap 2 of 2 nut
			2 refit/not-torqued "Replace 2 nuts" [2 2]`,
	},
	{
		rule:  "replace of one that was discarded scraps no other",
		parts: `shoe | 4 | | if worn`,
		steps: `{Remove 1 shoe}. {Discard 1 shoe}.
			{Replace 1 shoe}.`,
		want: `1: off 1 of 4 shoe; scrap 1 of 4 shoe
			2: scrap 1 of 4 shoe`,
	},
	{
		rule:  "replace of a reuse row",
		parts: `fuse | 1`,
		steps: `{Replace the fuse}.`,
		want:  `1 part/use-differs "Replace the fuse"`,
	},
	{
		rule:  "discard scraps what is off",
		parts: `fuse | 2 | | omit`,
		steps: `{Remove 2 fuses}.
			{Discard 2 fuses}.`,
		want: `1: off 2 of 2 fuse
			2: scrap 2 of 2 fuse`,
	},
	{
		rule:  "discard of what is on",
		parts: `fuse | 2 | | omit`,
		steps: `{Discard 2 fuses}.
			{Remove 2 fuses}.`,
		want: `1 refit/already-on "Discard 2 fuses" [2 0]`,
	},
	{
		rule:  "discard of the old one when a new one has retired it",
		parts: `gasket | 1 | | replace`,
		steps: `{Remove the gasket}. {Install a new gasket}.
			{Discard the old gasket}.`,
		want: `2: scrap 1 of 1 gasket`,
	},
	{
		rule:  "lift is of a declared part, and has no state",
		parts: `motor | 1 | 18 kg`,
		steps: `{Lift the motor}.`,
		want:  `1: whole`,
	},
	{
		rule:  "lift of what nobody declares",
		parts: `motor | 1 | 18 kg`,
		steps: `{Lift the gearbox}. {Check the motor turns}.`,
		want:  `1 part/unknown "gearbox"`,
	},
}

func TestEachRowOfTheVerbTable(t *testing.T) { checkAll(t, rowCases) }
