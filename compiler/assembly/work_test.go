package assembly_test

import (
	"strings"
	"testing"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// actOf gives an act of each verb that stands in a step, for the tables that ask something of every verb.
var actOf = map[string]string{
	"remove": "Remove the stud", "install": "Install the stud", "replace": "Replace the stud", "discard": "Discard the stud",
	"loosen": "Loosen the stud", "tighten": "Tighten the stud", "snug": "Snug the stud", "torque": "Torque the stud",
	"disconnect": "Disconnect the cable", "connect": "Connect the cable", "open": "Open the hatch", "close": "Close the hatch",
	"raise": "Raise the jib", "lower": "Lower the jib", "drain": "Drain the gear oil", "fill": "Fill 1 L of gear oil",
	"top up": "Top up 1 L of gear oil", "lock off": "Lock off the fan", "unlock": "Unlock the fan", "relieve": "Relieve the spring",
	"support": "Support the jib", "release": "Release the jib", "cap": "Cap the pipe", "uncap": "Uncap the pipe",
	"insert": "Insert a wedge", "withdraw": "Withdraw the wedge", "mark": "Mark the shaft", "align": "Align the shaft",
	"start": "Start the cure, 10 min", "await": "Await the cure", "wait": "Wait 10 min", "lubricate": "Lubricate the pin",
	"clean": "Clean the face", "bleed": "Bleed the line", "lift": "Lift the stud", "measure": "Measure the gap 1..2 mm",
	"record": "Record the hours", "check": "Check the lamp is out", "tell": "Tell the control room", "wear": "Wear goggles",
	"hold": "Hold for the foreman", "handover": "Handover", "follow up": "Follow up look at the seal", "repeat": "Repeat 2 times",
	"tool": "Tool torch", "part": "Part the stud", "supply": "Supply 1 L gear oil", "danger": "Danger the spring bites",
	"warning": "Warning the spring bites", "caution": "Caution the spring bites", "notice": "Notice the spring bites",
	"takes": "Takes 4 min", "if": "If it is wet", "otherwise": "Otherwise", "for": "For short", "label": "Label here",
	"number": "Number here", "waive": "Waive refit/left-loose: it is set later", "include": "Include strip.md",
}

// Work is remove, install, replace, loosen, snug, tighten, torque and drain, and no other verb: only these make an isolation
// that comes after them late.
func TestWhatIsWork(t *testing.T) {
	const work = "remove install replace loosen snug tighten torque drain"
	for _, v := range verb.Standard().All() {
		if v.Takes == verb.Path || v.Effect == verb.Isolate { // not in a step; the isolation itself
			continue
		}
		act, ok := actOf[v.Name]
		if !ok {
			t.Errorf("no act of %q to ask", v.Name)
			continue
		}
		c := ledgerCase{
			front: "variants: [short, long]", parts: "stud | 1 | M8×30 8.8 hex | if worn | | 22 N·m", supplies: "gear oil, 5 L",
			steps: "{" + act + "}.\n{Lock off the drive}.",
		}
		_, _, plays := played(t, c.text())
		late := false
		for _, f := range plays[0].Faults {
			late = late || f.Name == "energy/isolated-late"
		}
		if want := isOneOf(work, v.Name); late != want || v.Work != want {
			t.Errorf("{%s} before the first isolation: late %v, the table says work %v; want %v", act, late, v.Work, want)
		}
	}
}

func isOneOf(list, word string) bool {
	for _, w := range strings.Fields(list) {
		if w == word {
			return true
		}
	}
	return false
}

// A verb with no row in the ledger's table changes nothing: the picture after it is the picture before.
func TestVerbsThatChangeNothing(t *testing.T) {
	const before = "{Loosen the stud}. {Open the hatch}. {Drain the gear oil}. {Lock off the fan}. {Mark the shaft}. {Start the cure, 10 min}. {Raise the jib}."
	const standing = "slack 1 of 1 stud; open 1 of 1 hatch; raise 1 of 1 jib; drained gear oil; isolated fan; running cure; marked shaft"
	none := 0
	for _, v := range verb.Standard().All() {
		if changing[v.Name] || v.Effect == verb.Include || v.Effect == verb.Otherwise {
			continue
		}
		none++
		act := actOf[v.Name]
		c := ledgerCase{
			front: "variants: [short, long]", parts: "stud | 1 | M8×30 8.8 hex | if worn | | 22 N·m", supplies: "gear oil, 5 L",
			steps: before + "\n{" + act + "}.",
		}
		_, _, plays := played(t, c.text())
		if got := dumps(plays[0]); got["1"] != standing || got["2"] != standing {
			t.Errorf("{%s}: before %q, after %q, both to be %q", act, got["1"], got["2"], standing)
		}
	}
	if none < 20 {
		t.Errorf("only %d verbs were asked", none)
	}
}

// changing lists the verbs that the ledger's table gives an effect.
var changing = map[string]bool{
	"remove": true, "install": true, "snug": true, "loosen": true, "tighten": true, "torque": true, "replace": true, "discard": true,
	"disconnect": true, "connect": true, "open": true, "close": true, "raise": true, "lower": true, "cap": true, "uncap": true,
	"insert": true, "withdraw": true, "support": true, "release": true, "lock off": true, "unlock": true, "drain": true, "fill": true,
	"start": true, "await": true, "mark": true, "align": true,
}

// rowed lists the verbs that have a row in the ledger's table and change no state of their own.
var rowed = map[string]bool{"top up": true, "measure": true, "check": true, "lift": true}

// allCases are the tables of this folder, for what is asked of all of them.
func allCases() []ledgerCase {
	var all []ledgerCase
	for _, table := range [][]ledgerCase{rowCases, turningCases, nameCases, unitCases, relationCases, lateCases, slipCases, frontCases, branchCases, orderCases} {
		all = append(all, table...)
	}
	return all
}

// Every verb of the table that has a row in the ledger has a case that is done with and one that goes wrong; every other one is
// asked by the tests above, which have an act of it.
func TestEveryVerbHasItsCases(t *testing.T) {
	fine, wrong := map[string]bool{}, map[string]bool{}
	for _, c := range allCases() {
		p, faults, plays := played(t, c.text())
		for _, play := range plays {
			faults = append(faults, play.Faults...)
		}
		into := fine
		if len(faults) > 0 {
			into = wrong
		}
		for name := range verbsOf(p) {
			into[name] = true
		}
	}
	seen := 0
	for _, v := range verb.Standard().All() {
		if actOf[v.Name] == "" {
			t.Errorf("%q is in the table of verbs, and no test here has an act of it", v.Name)
		}
		if !changing[v.Name] && !rowed[v.Name] {
			continue
		}
		seen++
		if !fine[v.Name] {
			t.Errorf("%q has no case where all is well", v.Name)
		}
		if !wrong[v.Name] {
			t.Errorf("%q has no case where something is wrong", v.Name)
		}
	}
	if seen != len(changing)+len(rowed) {
		t.Errorf("%d verbs have a row in the ledger, and the table of verbs has %d of them", len(changing)+len(rowed), seen)
	}
	if n := len(allCases()); n < 120 {
		t.Errorf("only %d cases", n)
	}
}

// Each other spelling of a verb does what the verb does: every case plays alike with it.
func TestOtherSpellingsPlayAlike(t *testing.T) {
	tried := 0
	for _, v := range verb.Standard().All() {
		for _, also := range v.Also {
			used := false
			for _, c := range allCases() {
				other := c
				other.steps = respelt(c.steps, v.Name, also)
				if other.steps == c.steps {
					continue
				}
				used = true
				tried++
				_, faults, plays := played(t, c.text())
				_, otherFaults, otherPlays := played(t, other.text())
				if len(faults) != len(otherFaults) || len(plays) != len(otherPlays) {
					t.Errorf("%s with %q: %d faults, were %d", c.rule, also, len(otherFaults), len(faults))
					continue
				}
				for i := range plays {
					a, b := dumps(plays[i]), dumps(otherPlays[i])
					for step, words := range a {
						if b[step] != words {
							t.Errorf("%s with %q: after step %s %q, was %q", c.rule, also, step, b[step], words)
						}
					}
					if len(plays[i].Faults) != len(otherPlays[i].Faults) {
						t.Errorf("%s with %q: %d faults, were %d", c.rule, also, len(otherPlays[i].Faults), len(plays[i].Faults))
					}
				}
			}
			if !used {
				t.Errorf("no case has the verb %q to be spelt %q", v.Name, also)
			}
		}
	}
	if tried < 50 {
		t.Errorf("only %d plays were compared", tried)
	}
}

// respelt puts another spelling in for a verb at the head of each tag.
func respelt(steps, name, also string) string {
	for _, head := range []string{"{" + name + " ", "{" + strings.ToUpper(name[:1]) + name[1:] + " "} {
		steps = strings.ReplaceAll(steps, head, "{"+also+" ")
	}
	return steps
}

// A step of a case is what the case says it is: the helper puts sub-steps where they belong.
func TestCasesAreReadAsMeant(t *testing.T) {
	p, _, _ := played(t, ledgerCase{parts: "guard | 2", steps: "{Remove 1 guard}.\nsub: {Clean the guard}.\n{Install 1 guard}."}.text())
	var names []string
	for _, s := range p.Stages[0].Steps {
		names = append(names, s.Name())
		for _, sub := range s.Steps {
			names = append(names, sub.Name())
		}
	}
	if got := strings.Join(names, " "); got != "1 1a 2" || len(p.Parts) != 1 || p.Parts[0].Qty != 2 || p.Parts[0].Use != procedure.Reuse {
		t.Errorf("steps %q, parts %v", got, p.Parts)
	}
}
