package assembly_test

import (
	"fmt"
	"strings"
	"testing"
)

const oilCase = `cover | 1 | | | seals gear oil
			drain plug | 1 | M16×1.5 | | seals gear oil | 45 N·m`

const oilBack = `
			{Install the cover and drain plug}. {Torque the drain plug}. {Fill the gear oil}.`

// orderCases prove the checks of order and energy that the play makes beyond the verb table; in pairs, found and silent.
var orderCases = []ledgerCase{
	{
		rule:  "removed wet: what comes off in the drain's step is the drain point",
		parts: oilCase, supplies: `gear oil, 2 L`,
		steps: `{Remove the drain plug}. {Drain the gear oil}.
			{Remove the cover}.` + oilBack,
		want: `3: whole`,
	},
	{
		rule:  "removed wet: what came off in an earlier step",
		parts: oilCase, supplies: `gear oil, 2 L`,
		steps: `{Remove the cover}.
			{Remove the drain plug}. {Drain the gear oil}.` + oilBack,
		want: `1 order/removed-wet "Remove the cover" < "Drain the gear oil"`,
	},
	{
		rule:  "removed wet: an open in the drain's step is the drain point",
		parts: oilCase, supplies: `gear oil, 2 L`,
		steps: `{Remove the cover}.
			{Open the drain cock}. {Drain the gear oil}. {Close the drain cock}.
			{Install the cover}. {Fill the gear oil}.`,
		want: `1 order/removed-wet "Remove the cover" < "Drain the gear oil"`,
	},
	{
		rule:  "removed wet: an open behind the drain is none, and the first step with any is the drain point",
		parts: oilCase, supplies: `gear oil, 2 L`,
		steps: `{Remove the cover}.
			{Drain the gear oil}. {Open the vent}. {Close the vent}.
			{Install the cover}. {Fill the gear oil}.`,
		want: `3: whole`,
	},
	{
		rule:  "removed wet: the first step with any, and another comes off in a later one",
		parts: oilCase, supplies: `gear oil, 2 L`,
		steps: `{Remove the drain plug}.
			{Remove the cover}.
			{Drain the gear oil}.` + oilBack,
		want: `2 order/removed-wet "Remove the cover" < "Drain the gear oil"`,
	},
	{
		rule: "measured early: a fastener of it is slack",
		parts: `rail | 1
			rail bolt | 2 | M8×20 | | holds rail`,
		steps: `{Loosen 2 rail bolts}.
			{Measure rail height 41..42 mm}.
			{Tighten 2 rail bolts}.`,
		want: `2 order/measured-early "rail" < "Loosen 2 rail bolts"`,
	},
	{
		rule: "measured early: the step slackens something itself, or all is tight",
		parts: `rail | 1
			rail bolt | 2 | M8×20 | | holds rail`,
		steps: `{Loosen 2 rail bolts} and {measure rail height 41..42 mm}.
			{Tighten 2 rail bolts}.
			{Measure rail height 41..42 mm}.`,
		want: `3: whole`,
	},
	{
		rule: "measured early: what is measured holds nothing, or is no part",
		parts: `rail | 1
			rail bolt | 2 | M8×20 | | holds rail`,
		supplies: `gear oil, 1 L`,
		steps: `{Loosen 2 rail bolts}.
			{Measure gear oil height 41..42 mm}. {Measure rail bolt length 20..21 mm}.
			{Tighten 2 rail bolts}.`,
		want: `3: whole`,
	},
	{
		rule:     "not bled: a brake line that was opened and filled",
		supplies: `brake fluid, 1 L`,
		steps: `{Disconnect the brake line}. {Connect the brake line}. {Top up 0.1 L of brake fluid}.
			{Check the pedal}.`,
		want: `1 order/not-bled "Disconnect the brake line"`,
	},
	{
		rule:     "not bled: bled since, and another line than a brake's",
		supplies: "brake fluid, 1 L\nwash water, 9 L",
		steps: `{Disconnect the brake line}. {Connect the brake line}. {Top up 0.1 L of brake fluid}. {Bleed the brake line}.
			{Disconnect the wash line}. {Connect the wash line}. {Top up 1 L of wash water}.`,
		want: `2: whole`,
	},
	{
		rule:  "not cleared: restored with no check or word since the last work",
		parts: `guard | 1`,
		steps: `{Lock off the fan}. {Check the fan is dead}. {Remove the guard}. {Install the guard}.
			{Unlock the fan}.`,
		want: `2 energy/not-cleared "Unlock the fan" < "Install the guard"`,
	},
	{
		rule:  "not cleared: a check, a measurement or a word since",
		parts: `guard | 1`,
		steps: `{Lock off the fan}. {Check the fan is dead}. {Remove the guard}. {Install the guard}. {Check nobody is near}.
			{Unlock the fan}.
			{Lock off the fan}. {Check the fan is dead}. {Remove the guard}. {Install the guard}. {Tell the driver}.
			{Unlock the fan}.
			{Lock off the fan}. {Check the fan is dead}. {Remove the guard}. {Install the guard}. {Measure the gap 1..2 mm}.
			{Unlock the fan}.`,
		want: `6: whole`,
	},
	{
		rule:  "restored early: work after it, found once",
		parts: `guard | 1`,
		steps: `{Lock off the fan}. {Check the fan is dead}. {Unlock the fan}.
			{Remove the guard}. {Install the guard}.`,
		want: `1 energy/restored-early "Unlock the fan" < "Remove the guard"`,
	},
	{
		rule:  "given back between two works with no check: too early, and nothing else",
		parts: `guard | 1`,
		steps: `{Lock off the fan}. {Check it is dead}. {Remove the guard}.
			{Unlock the fan}.
			{Install the guard}.`,
		want: `2 energy/restored-early "Unlock the fan" < "Install the guard"`,
	},
	{
		rule:  "restored early: isolating again ends it",
		parts: `guard | 1`,
		steps: `{Lock off the fan}. {Check the fan is dead}. {Unlock the fan}.
			{Lock off the fan}. {Check the fan is dead}. {Remove the guard}. {Install the guard}. {Check the guard}. {Unlock the fan}.`,
		want: `2: whole`,
	},
	{
		rule:  "isolated late: only the first isolation that the job has",
		parts: `guard | 1`,
		steps: `{Lock off the fan}. {Check the fan is dead}. {Remove the guard}.
			{Lock off the pump}. {Check the pump is dead}.
			{Install the guard}. {Check the guard}. {Unlock the fan and pump}.`,
		want: `3: whole`,
	},
	{
		rule: "never opened: an open thing of nearly that name is offered, and not found a second time",
		steps: `{Support the long jib} with a prop.
			{Release the jib}.`,
		want: `2 refit/never-opened "Release the jib" < "Support the long jib"`,
	},
	{
		rule: "never opened: what was closed already is not offered",
		steps: `{Support the long jib} with a prop. {Release the long jib}.
			{Release the jib}.`,
		want: `2 refit/never-opened "Release the jib" <`,
	},
	{
		rule: "never opened: a thing of another verb is not offered",
		steps: `{Cap the long jib}. {Uncap the long jib}. {Insert the long jib}.
			{Release the jib}. {Withdraw the long jib}.`,
		want: `2 refit/never-opened "Release the jib" <`,
	},
	{
		rule: "never locked off: an isolated thing of nearly that name is offered",
		steps: `{Lock off the main pump}. {Check the pump is dead}.
			{Unlock the pump}.`,
		want: `2 refit/never-opened "Unlock the pump" < "Lock off the main pump"`,
	},
	{
		rule: "never locked off: one that was unlocked already is not offered",
		steps: `{Lock off the main pump}. {Check the pump is dead}. {Unlock the main pump}.
			{Unlock the pump}.`,
		want: `2 refit/never-opened "Unlock the pump" <`,
	},
	{
		rule: "never started: a wait that shares a word is meant",
		steps: `{Start the sealant cure, 20 min}.
			{Await the sealant}.`,
		want: `2 order/await-unstarted "Await the sealant"`,
	},
	{
		rule: "never started: a wait that shares nothing is another",
		steps: `{Start the sealant cure, 20 min}.
			{Await the paint}.`,
		want: `2 order/await-unstarted "Await the paint"
			1 order/never-awaited "Start the sealant cure, 20 min"`,
	},
	{
		rule: "never marked: a mark of nearly that name is meant",
		steps: `{Mark the drive shaft}.
			{Align the shaft}.`,
		want: `2 order/align-unmarked "Align the shaft"`,
	},
	{
		rule: "insert of a plural without a count: taking some out takes all out",
		steps: `{Insert wedges}.
			{Withdraw 4 wedges}.`,
		want: `1: insert 1 of 1 wedges
			2: whole`,
	},
	{
		rule: "insert of one: no more come out",
		steps: `{Insert the wedge}.
			{Withdraw 4 wedges}.`,
		want: `2 part/too-many "Withdraw 4 wedges" [4 1 1]`,
	},
	{
		rule:  "a row that could not be read is muted in the play",
		parts: `nut | 2 | M8 | | | 25 lb`,
		steps: `{Loosen 2 nuts}.`,
		want:  `0 torque/bad-unit "25 lb"`,
	},
	{
		rule:  "a torque below the table leaves final what is final",
		parts: `nut | 2 | M8 | | | 22 N·m`,
		steps: `{Torque 2 nuts to 10 N·m}.`,
		want:  `1: whole`,
	},
	{
		rule:  "a torque in another unit that agrees within its rounding",
		parts: `nut | 2 | M8 | | | 22 N·m`,
		steps: `{Loosen 2 nuts}. {Torque 2 nuts to 16 lbf·ft}.`,
		want:  `1: whole`,
	},
	{
		rule:  "a torque in another unit that does not agree",
		parts: `nut | 2 | M8 | | | 22 N·m`,
		steps: `{Loosen 2 nuts}. {Torque 2 nuts to 18 lbf·ft}.`,
		want:  `1 torque/differs-from-table "18 lbf·ft"`,
	},
	{
		rule:  "a range that lies half outside the table's",
		parts: `nut | 2 | M8 | | | 20..24 N·m`,
		steps: `{Loosen 2 nuts}. {Torque 2 nuts to 22..26 N·m}.`,
		want:  `1 torque/differs-from-table "22..26 N·m"`,
	},
	{
		rule:  "loosen takes the tight ones",
		parts: `nut | 4 | M8`,
		steps: `{Loosen 2 nuts}.
			{Loosen 1 nut}.
			{Tighten 3 nuts}.`,
		want: `1: slack 2 of 4 nut
			2: slack 3 of 4 nut
			3: whole`,
	},
	{
		rule: "a fastener first of what need not come at all",
		parts: `shim | up to 2 | | add
			clip | 1 | | omit
			shim screw | 2 | M4 | | holds shim
			clip screw | 2 | M4 | | holds clip`,
		steps: `{Remove 2 shim screws, 2 clip screws, and the clip}.
			{Install 2 shim screws and 2 clip screws}.
			{Install 1 shim}. {Tighten 2 shim screws and 2 clip screws}.`,
		want: `3: off 1 of 1 clip`,
	},
	{
		rule: "a branch within a branch's steps is played with it",
		parts: `guard | 1
			panel | 1`,
		steps: `{If it is wet} {remove the guard}.
			{If it is worn} {remove the panel}.
			{If it is wet} {install the guard}.
			{If it is worn} {install the panel}.`,
		want: `2: off 1 of 1 guard; off 1 of 1 panel
			4: whole`,
	},
}

func TestOrdersAndEnergy(t *testing.T) { checkAll(t, orderCases) }

// The moves of a play say what went where, and what is new; the last torque of a part is known.
func TestMovesOfAPlay(t *testing.T) {
	p, _, plays := played(t, ledgerCase{
		parts: "gasket | 1 | | replace\nnut | 4 | M8 | if worn | | 22 N·m",
		steps: "{Remove 4 nuts and the gasket}. {Discard 1 nut}.\n{Install a new gasket, 3 old nuts, and 1 new nut}.\n" +
			"{Snug 4 nuts}. {Torque 3 nuts to 10 N·m}. {Torque 1 nut}. {Torque the other nuts}. {Loosen 1 nut}. {Loosen the other nuts}. " +
			"{Torque 4 nuts to 10 N·m}. {Torque 4 nuts}. {Loosen 1 nut}. {Tighten 1 nut}. {Torque 1 nut}.",
	}.text())
	var got []string
	for _, m := range plays[0].Moves {
		line := fmt.Sprintf("%s %d %s %s", m.Step.Name(), m.N, m.Part.Name.Value, m.To)
		if m.New {
			line += " new"
		}
		got = append(got, line)
	}
	const want = "1 4 nut off, 1 1 gasket off, 1 1 nut scrap, 2 1 gasket on new, 2 3 nut on, 2 1 nut on new, " +
		"3 4 nut hand, 3 3 nut stage, 3 1 nut final, 3 3 nut final, 3 1 nut slack, 3 3 nut slack, 3 4 nut stage, 3 4 nut final, 3 1 nut slack, 3 1 nut tight, 3 1 nut final"
	if strings.Join(got, ", ") != want {
		t.Errorf("moves: %s\n want: %s", strings.Join(got, ", "), want)
	}
	if last := plays[0].Last[p.Parts[1]]; last == nil || last.Words != "Torque 1 nut" || len(plays[0].Last) != 1 {
		t.Errorf("the last torque is %v", last)
	}
}
