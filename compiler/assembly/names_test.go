package assembly_test

import "testing"

// nameCases prove the rows of the verb table that work by name: what is opened, isolated, drained, awaited, aligned.
var nameCases = []ledgerCase{
	{
		rule: "disconnect and connect",
		steps: `{Disconnect the feed hose}.
			{Connect the feed hose}.`,
		want: `1: disconnect 1 of 1 feed hose
			2: whole`,
	},
	{
		rule:  "disconnect never undone",
		steps: `{Disconnect the feed hose}.`,
		want: `end: disconnect 1 of 1 feed hose
			1 refit/left-open "Disconnect the feed hose"`,
	},
	{
		rule: "connect first, and not undone",
		steps: `{Connect the test hose}.
			{Check the pressure}.`,
		want: `1: connect 1 of 1 test hose
			1 refit/left-open "Connect the test hose"`,
	},
	{
		rule: "open and close, either first, repeats silent",
		steps: `{Close the stop valve}. {Close the stop valve}. {Open the drain cock}.
			{Open the drain cock}. {Shut the drain cock}. {Open the stop valve}. {Open the stop valve}.`,
		want: `1: open 1 of 1 drain cock; close 1 of 1 stop valve
			2: whole`,
	},
	{
		rule: "the state before the first act must come back",
		steps: `{Close the stop valve}. {Open the stop valve}.
			{Close the stop valve}.`,
		want: `2 refit/left-open "Close the stop valve"`,
	},
	{
		rule: "raise and lower",
		steps: `{Raise the trailer}.
			{Lower the trailer}.`,
		want: `1: raise 1 of 1 trailer
			2: whole`,
	},
	{
		rule:  "raise never undone",
		steps: `{Raise the trailer}.`,
		want:  `1 refit/left-open "Raise the trailer"`,
	},
	{
		rule:  "lower first owes nothing",
		steps: `{Lower the jib}.`,
		want:  `end: whole`,
	},
	{
		rule: "lower first, and raised again",
		steps: `{Lower the jib}.
			{Raise the jib}.`,
		want: `end: whole`,
	},
	{
		rule: "cap and uncap by count",
		steps: `{Cap 3 pipe ends}.
			{Uncap 2 pipe ends}.
			{Uncap 1 pipe end}.`,
		want: `1: cap 3 of 3 pipe ends
			2: cap 1 of 3 pipe ends
			3: whole`,
	},
	{
		rule: "cap undone short of its count",
		steps: `{Cap 3 pipe ends}.
			{Uncap 2 pipe ends}.`,
		want: `1 refit/left-open "Cap 3 pipe ends" [1 3]`,
	},
	{
		rule: "insert and withdraw all",
		steps: `{Insert 2 wedges} under the gate. {Insert 1 wedge} at the side.
			{Withdraw the wedges}.`,
		want: `1: insert 3 of 3 wedges
			2: whole`,
	},
	{
		rule: "insert, and more withdrawn than are in",
		steps: `{Insert 2 wedges}.
			{Withdraw 3 wedges}.`,
		want: `2 part/too-many "Withdraw 3 wedges" [3 2 2]`,
	},
	{
		rule: "support and release",
		steps: `{Support the jib} with a prop.
			{Release the jib}.`,
		want: `1: support 1 of 1 jib
			2: whole`,
	},
	{
		rule:  "support never undone",
		steps: `{Support the jib} with a prop.`,
		want:  `1 refit/left-open "Support the jib"`,
	},
	{
		rule: "lock off and unlock",
		steps: `{Lock off the pump isolator}. {Check the pump is dead}.
			{Unlock the pump isolator}.`,
		want: `1: isolated pump isolator
			2: whole`,
	},
	{
		rule:  "lock off never undone",
		steps: `{Lock off the pump isolator}. {Check the pump is dead}.`,
		want:  `1 energy/left-isolated "Lock off the pump isolator"`,
	},
	{
		rule:     "drain and fill",
		supplies: `gear oil, 2 L`,
		steps: `{Drain the gear oil}.
			{Fill the gear oil}.`,
		want: `1: drained gear oil
			2: whole`,
	},
	{
		rule:     "drain never undone",
		supplies: `gear oil, 2 L`,
		steps:    `{Drain the gear oil}.`,
		want:     `1 refit/not-filled "Drain the gear oil"`,
	},
	{
		rule:     "fill while full and a second drain change nothing",
		supplies: `gear oil, 2 L`,
		steps: `{Fill 1 L of gear oil}.
			{Drain the gear oil}.
			{Drain the gear oil}.
			{Fill 1 L of gear oil}.`,
		want: `1: whole
			2: drained gear oil
			3: drained gear oil
			4: whole`,
	},
	{
		rule:     "top up does not fill what was drained",
		supplies: `gear oil, 2 L`,
		steps: `{Drain the gear oil}.
			{Top up the gear oil}.`,
		want: `2: drained gear oil
			1 refit/not-filled "Drain the gear oil"`,
	},
	{
		rule:     "top up of what is full",
		supplies: `gear oil, 2 L`,
		steps:    `{Top up the gear oil}.`,
		want:     `1: whole`,
	},
	{
		rule: "start and await",
		steps: `{Start the sealant cure, 20 min}.
			{Await the sealant cure}.`,
		want: `1: running sealant cure
			2: whole`,
	},
	{
		rule:  "start never awaited",
		steps: `{Start the sealant cure, 20 min}.`,
		want:  `1 order/never-awaited "Start the sealant cure, 20 min"`,
	},
	{
		rule:  "await of what was never started",
		steps: `{Await the sealant cure}.`,
		want:  `1 order/await-unstarted "Await the sealant cure"`,
	},
	{
		rule: "mark and align",
		steps: `{Mark the drive shaft}.
			{Align the drive shaft}.`,
		want: `1: marked drive shaft
			2: whole`,
	},
	{
		rule:  "mark never used",
		steps: `{Mark the drive shaft}.`,
		want:  `1 refit/mark-unused "Mark the drive shaft"`,
	},
	{
		rule:  "align by no mark",
		steps: `{Align the drive shaft}.`,
		want:  `1 order/align-unmarked "Align the drive shaft"`,
	},
	{
		rule: "check proves every isolation made so far",
		steps: `{Lock off the pump isolator}. {Lock off the valve drive}.
			{Check the pump is dead}.
			{Unlock the pump isolator and valve drive}.`,
		want: `2: isolated pump isolator; isolated valve drive
			3: whole`,
	},
	{
		rule: "check proves no isolation that comes later",
		steps: `{Lock off the pump isolator}. {Check the pump is dead}.
			{Lock off the valve drive}.
			{Unlock the pump isolator and valve drive}.`,
		want: `2 energy/not-proved "Lock off the valve drive"`,
	},
	{
		rule: "verify proves",
		steps: `{Lock off the pump isolator}. {Verify the pump is dead}.
			{Unlock the pump isolator}.`,
		want: `2: whole`,
	},
	{
		rule: "measure proves",
		steps: `{Lock off the pump isolator}. {Measure terminal voltage at most 1 V}.
			{Unlock the pump isolator}.`,
		want: `2: whole`,
	},
	{
		rule: "record proves nothing",
		steps: `{Lock off the pump isolator}. {Record the time}.
			{Unlock the pump isolator}.`,
		want: `1 energy/not-proved "Lock off the pump isolator"`,
	},
	{
		rule: "undone twice is not never done",
		steps: `{Cap the pipe}. {Support the jib}. {Lock off the fan}. {Check the fan is dead}.
			{Uncap the pipe}. {Release the jib}. {Unlock the fan}.
			{Uncap the pipe}. {Release the jib}. {Unlock the fan}.`,
		want: `2: whole
			3: whole`,
	},
	{
		rule:  "release of what was supported until it came off",
		parts: `motor | 1`,
		steps: `{Support the motor}. {Remove the motor}.
			{Install the motor}. {Release the motor}.`,
		want: `1: off 1 of 1 motor
			2: whole`,
	},
	{
		rule: "withdraw of more, when all are out",
		steps: `{Insert 2 wedges}.
			{Withdraw 2 wedges}. {Withdraw 1 wedge}.`,
		want: `2 part/too-many "Withdraw 1 wedge" [1 0 2]`,
	},
	{
		rule: "lock off of what is locked off needs no second proof",
		steps: `{Lock off the fan}. {Check the fan is dead}.
			{Lock off the fan}.
			{Unlock the fan}.`,
		want: `2: isolated fan
			3: whole`,
	},
	{
		rule:  "uncap of what was never capped",
		steps: `{Uncap the pipe end}.`,
		want:  `1 refit/never-opened "Uncap the pipe end"`,
	},
	{
		rule:  "withdraw of what was never inserted",
		steps: `{Withdraw the wedge}.`,
		want:  `1 refit/never-opened "Withdraw the wedge"`,
	},
	{
		rule:  "release of what was never supported",
		steps: `{Release the jib}.`,
		want:  `1 refit/never-opened "Release the jib"`,
	},
	{
		rule:  "unlock of what was never locked off",
		steps: `{Unlock the pump isolator}.`,
		want:  `1 refit/never-opened "Unlock the pump isolator"`,
	},
}

func TestVerbsThatWorkByName(t *testing.T) { checkAll(t, nameCases) }
