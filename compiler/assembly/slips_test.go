package assembly_test

import "testing"

const gasketBehind = `cover | 1
			bolt | 2 | M8×30 8.8 hex | | holds cover | 22 N·m
			gasket | 1 | | replace | behind cover`

const oilCover = `cover | 1 | | | seals gear oil
			bolt | 2 | M8×30 8.8 hex | | holds cover | 22 N·m`

// lateCases prove that an order is wrong only when the missing act comes later; a pair each: late, and never.
var lateCases = []ledgerCase{
	{
		rule:  "front first, and what is behind it comes later",
		parts: gasketBehind,
		steps: `{Remove 2 bolts}. {Remove the cover}. {Remove the gasket}.
			{Install the cover}.
			{Install a new gasket}. {Install 2 bolts}. {Torque 2 bolts}.`,
		want: `3 order/behind "Install a new gasket" < "Install the cover"`,
	},
	{
		rule:  "front first, and what is behind it never comes",
		parts: gasketBehind,
		steps: `{Remove 2 bolts}. {Remove the cover}. {Remove the gasket}.
			{Install the cover}. {Install 2 bolts}. {Torque 2 bolts}.`,
		want: `1 refit/left-off "Remove the gasket" [1 1]`,
	},
	{
		rule: "front first, snugged on, and what is behind it comes later",
		parts: `lid | 1 | | | | hand-tight
			disc | 1 | | | behind lid`,
		steps: `{Remove the lid}. {Remove the disc}.
			{Snug the lid}.
			{Install the disc}.`,
		want: `3 order/behind "Install the disc" < "Snug the lid"`,
	},
	{
		rule:  "fastener first, and what it holds comes later",
		parts: twoBolts,
		steps: `{Remove 2 bolts}. {Remove the cover}.
			{Install 2 bolts}.
			{Install the cover}. {Torque 2 bolts}.`,
		want: `2 order/held "Install 2 bolts" < "Install the cover"`,
	},
	{
		rule:  "fastener first, and what it holds never comes",
		parts: twoBolts,
		steps: `{Remove 2 bolts}. {Remove the cover}.
			{Install 2 bolts}. {Torque 2 bolts}.`,
		want: `1 refit/left-off "Remove the cover" [1 1]`,
	},
	{
		rule:  "fastener first, and out again before what it holds",
		parts: twoBolts,
		steps: `{Remove 2 bolts}. {Remove the cover}.
			{Install 2 bolts}. {Remove 2 bolts}.
			{Install the cover}. {Install 2 bolts}. {Torque 2 bolts}.`,
		want: `3: whole`,
	},
	{
		rule:  "torqued early, and the others come later",
		parts: `nut | 4 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Remove 4 nuts}.
			{Install 3 nuts}. {Torque 3 nuts}.
			{Install 1 nut}. {Torque 1 nut}.`,
		want: `2 order/torqued-early "Torque 3 nuts" [3 1] < "Install 1 nut"`,
	},
	{
		rule:  "torqued early, and the others never come",
		parts: `nut | 4 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Remove 4 nuts}.
			{Install 3 nuts}. {Torque 3 nuts}.`,
		want: `2 refit/left-off "Install 3 nuts" [1 4]`,
	},
	{
		rule:  "torqued early, and slackened again in between",
		parts: `nut | 4 | M8 class 8 hex | | | 22 N·m`,
		steps: `{Remove 2 nuts}. {Torque 2 nuts}.
			{Loosen 2 nuts}. {Install 2 nuts}. {Torque 4 nuts crosswise}.`,
		want: `2: whole`,
	},
	{
		rule:     "filled while what seals is off, and it goes on later",
		parts:    oilCover,
		supplies: `gear oil, 2 L`,
		steps: `{Drain the gear oil}. {Remove 2 bolts}. {Remove the cover}.
			{Fill the gear oil}.
			{Install the cover}. {Install 2 bolts}. {Torque 2 bolts}.`,
		want: `2 order/filled-open "Fill the gear oil" < "Install the cover"`,
	},
	{
		rule:     "filled while what seals is off, and it never goes on",
		parts:    oilCover,
		supplies: `gear oil, 2 L`,
		steps: `{Drain the gear oil}. {Remove 2 bolts}. {Remove the cover}.
			{Fill the gear oil}.`,
		want: `1 refit/left-off "Remove the cover" [1 1]`,
	},
	{
		rule:     "filled while what holds the seal is short of its torque, and it is torqued later",
		parts:    oilCover,
		supplies: `gear oil, 2 L`,
		steps: `{Drain the gear oil}. {Loosen 2 bolts}.
			{Fill the gear oil}.
			{Torque 2 bolts}.`,
		want: `2 order/filled-open "Fill the gear oil" < "Torque 2 bolts"`,
	},
	{
		rule:     "filled while what holds the seal is slack, and it is never torqued",
		parts:    oilCover,
		supplies: `gear oil, 2 L`,
		steps: `{Drain the gear oil}. {Loosen 2 bolts}.
			{Fill the gear oil}.`,
		want: `1 refit/left-loose "Loosen 2 bolts" [2 2]`,
	},
	{
		rule: "filled while bolts follow nuts that have their torque",
		parts: `cover | 1 | | | seals gear oil
			bolt | 2 | M8×40 8.8 hex | | holds cover
			nut | 2 | M8 class 8 hex | | holds cover | 22 N·m`,
		supplies: `gear oil, 2 L`,
		steps: `{Drain the gear oil}. {Remove 2 nuts, 2 bolts, and the cover}.
			{Install the cover, 2 bolts, and 2 nuts}. {Torque 2 nuts}. {Fill the gear oil}.
			{Torque 2 nuts}. {Tighten 2 bolts}.`,
		want: `2: whole
			3: whole`,
	},
	{
		rule:  "work under what is raised with no support, and it is lowered later",
		parts: `guard | 1`,
		steps: `{Raise the trailer}. {Remove the guard}. {Install the guard}.
			{Lower the trailer}.`,
		want: `1 energy/raised-unsupported "Remove the guard" < "Raise the trailer"`,
	},
	{
		rule:  "work under what is raised with no support, and it is never lowered",
		parts: `guard | 1`,
		steps: `{Raise the trailer}. {Remove the guard}. {Install the guard}.`,
		want:  `1 refit/left-open "Raise the trailer"`,
	},
	{
		rule:  "work under what is raised and supported",
		parts: `guard | 1`,
		steps: `{Raise the trailer}. {Support the trailer} on stands. {Remove the guard}. {Install the guard}.
			{Release the trailer}. {Lower the trailer}.`,
		want: `2: whole`,
	},
}

func TestLateOrNever(t *testing.T) { checkAll(t, lateCases) }

// slipCases prove that one slip gives one finding, and where it stands.
var slipCases = []ledgerCase{
	{
		rule:  "a finding mutes that name for the rest of the play",
		parts: `guard | 1`,
		steps: `{Install the guard}.
			{Remove the guard}. {Remove the guard}.`,
		want: `1 refit/already-on "Install the guard" [1 0]`,
	},
	{
		rule: "a finding mutes no other name",
		parts: `guard | 1
			panel | 1`,
		steps: `{Install the guard}.
			{Remove the panel}.`,
		want: `1 refit/already-on "Install the guard" [1 0]
			2 refit/left-off "Remove the panel" [1 1]`,
	},
	{
		rule:  "a finding mutes the other name of the relation",
		parts: twoBolts,
		steps: `{Remove the cover}.
			{Remove 2 bolts}.`,
		want: `1 order/held "Remove the cover" [2 2]`,
	},
	{
		rule:  "a broken tag mutes the declared names in it",
		parts: `guard | 1`,
		steps: `{Remove the guard}.
			{Instal the guard}.`,
		want: `0 tag/unknown-verb "Instal"`,
	},
	{
		rule:  "a broken tag mutes names near in spelling",
		parts: `guard | 1`,
		steps: `{Remove the guard}.
			{Install the gaurd}.`,
		want: `2 part/unknown "gaurd"`,
	},
	{
		rule:  "a broken tag mutes short names near in spelling",
		parts: `rim | 1`,
		steps: `{Remove the rim}.
			{Install the rmi}.`,
		want: `2 part/unknown "rmi"`,
	},
	{
		rule: "a broken tag mutes no short name far in spelling",
		parts: `rim | 1
			tee | 1`,
		steps: `{Remove the rim}.
			{Remove the tee}.
			{Install the box}.`,
		want: `3 part/unknown "box"
			1 refit/left-off "Remove the rim" [1 1]
			2 refit/left-off "Remove the tee" [1 1]`,
	},
	{
		rule:  "a broken tag mutes a name in the plural",
		parts: `rim | 2`,
		steps: `{Remove 2 rims}.
			{Instal 2 rims}.`,
		want: `0 tag/unknown-verb "Instal"`,
	},
	{
		rule:  "a broken tag mutes names that share a word of four letters",
		parts: `belt guard | 1`,
		steps: `{Remove the belt guard}.
			{Install the wire guard}.`,
		want: `2 part/unknown "wire guard"`,
	},
	{
		rule:  "a broken tag mutes names that share a word of just four letters",
		parts: `belt guard | 1`,
		steps: `{Remove the belt guard}.
			{Install the belt shield}.`,
		want: `2 part/unknown "belt shield"`,
	},
	{
		rule:  "a broken tag mutes no name that shares a word of three letters",
		parts: `fan guard | 1`,
		steps: `{Remove the fan guard}.
			{Install the fan shield}.`,
		want: `2 part/unknown "fan shield"
			1 refit/left-off "Remove the fan guard" [1 1]`,
	},
	{
		rule: "a broken tag mutes no other name",
		parts: `belt guard | 1
			panel | 1`,
		steps: `{Remove the belt guard and panel}.
			{Install the wire guard}.`,
		want: `2 part/unknown "wire guard"
			1 refit/left-off "panel" [1 1]`,
	},
	{
		rule:  "an unclosed tag mutes",
		parts: `guard | 1`,
		steps: `{Remove the guard}.
			{Install the guard.`,
		want: `0 tag/unclosed "{Install"`,
	},
	{
		rule:  "a wrong variant mutes",
		front: `variants: [short, long]`,
		parts: `guard | 1`,
		steps: `{Remove the guard}.
			{for shrot} {Install the guard}.`,
		want: `2 variant/unknown "shrot"`,
	},
	{
		rule:  "parts whose held or front part is missing too fold into that finding",
		parts: gasketBehind,
		steps: `{Remove 2 bolts}. {Remove the cover}. {Remove the gasket}.`,
		want:  `1 refit/left-off "Remove the cover" [1 1]`,
	},
	{
		rule:  "what holds a part that is on already is on as well, and folds",
		parts: twoBolts,
		steps: `{Install the cover}.
			{Install 2 bolts}. {Torque 2 bolts}.`,
		want: `1 refit/already-on "Install the cover" [1 0]`,
	},
	{
		rule:  "what holds a part that is on already, and is off itself, does not fold",
		parts: twoBolts,
		steps: `{Remove 2 bolts}. {Install the cover}.`,
		want: `1 refit/already-on "Install the cover" [1 0]
			1 refit/left-off "Remove 2 bolts" [2 2]`,
	},
	{
		rule:  "parts whose held part is back do not fold",
		parts: gasketBehind,
		steps: `{Remove 2 bolts}. {Remove the cover}. {Remove the gasket}.
			{Install a new gasket}. {Install the cover}.`,
		want: `1 refit/left-off "Remove 2 bolts" [2 2]`,
	},
	{
		rule: "two open things whose names differ by two letters are one",
		steps: `{Disconnect the feed hose}.
			{Connect the fead hose}.`,
		want: `2 refit/left-open "Connect the fead hose" < "Disconnect the feed hose"`,
	},
	{
		rule: "two open things of which one is the tail of the other are one",
		steps: `{Disconnect the feed hose}.
			{Connect the hose}.`,
		want: `2 refit/left-open "Connect the hose" < "Disconnect the feed hose"`,
	},
	{
		rule: "two open things with names far apart are two",
		steps: `{Disconnect the feed hose}.
			{Connect the return pipe}.`,
		want: `1 refit/left-open "Disconnect the feed hose"
			2 refit/left-open "Connect the return pipe"`,
	},
	{
		rule: "two things of two pairs are two",
		steps: `{Disconnect the feed hose}.
			{Close the hose}.`,
		want: `1 refit/left-open "Disconnect the feed hose"
			2 refit/left-open "Close the hose"`,
	},
	{
		rule:  "the place is the last tag that handled any unit, the one that slackened it is related",
		parts: `stud | 2 | M8×30`,
		steps: `{Loosen 2 studs}.
			{Snug 2 studs}.`,
		want: `2 refit/left-loose "Snug 2 studs" [2 2] < "Loosen 2 studs"`,
	},
	{
		rule:  "the place of what is left off in part, the one that took it off is related",
		parts: `panel | 4`,
		steps: `{Remove 4 panels}.
			{Install 3 panels}.`,
		want: `2 refit/left-off "Install 3 panels" [1 4] < "Remove 4 panels"`,
	},
	{
		rule: "the place of a tag with several objects is the object",
		parts: `panel | 1
			guard | 1`,
		steps: `{Remove the panel and the guard}.
			{Install the panel}.`,
		want: `1 refit/left-off "the guard" [1 1]`,
	},
	{
		rule:  "the place is the row where no tag handled it",
		parts: `filter | 1 | | replace`,
		steps: `{Check the filter}.`,
		want:  `0 refit/old-part-back "filter"`,
	},
}

func TestOneSlipOneFinding(t *testing.T) { checkAll(t, slipCases) }
