package draft_test

import (
	"strings"
	"testing"

	"refitcard/compiler/draft"
)

// drafted gives the draft of one sentence behind two that make its things known.
func drafted(sentence string) string {
	notes := "Remove the four lid bolts with a 13 mm socket.\nTake the lid off.\n" + sentence + "\n"
	return string(draft.Make([]byte(notes), draft.Options{Title: "Lid", Number: "LID", Check: check}).Text)
}

// A torque is taken as it was said, or it is asked; it is never taken for another.
func TestTorquesInAnySpelling(t *testing.T) {
	for said, want := range map[string]string{
		"22 Nm": "22 N·m", "22 N.m": "22 N·m", "22 newton metres": "22 N·m", "22 newton-meters": "22 N·m", "thirty-two newton metres": "32 N·m",
		"seven foot pounds": "7 lbf·ft", "thirty pound feet": "30 lbf·ft", "7 ft-lbs": "7 lbf·ft", "7 ft. lbs.": "7 lbf·ft", "30 ft.-lbs.": "30 lbf·ft",
		"84 inch pounds": "84 lbf·in", "84 in. lbs": "84 lbf·in", "one hundred and ten newton metres": "110 N·m", "a hundred newton metres": "100 N·m",
		"two hundred Nm": "200 N·m", "110-120 Nm": "110..120 N·m", "110 to 120 Nm": "110..120 N·m", "35 ± 2 Nm": "35 ±2 N·m", "35 +/- 2 Nm": "35 ±2 N·m",
		"22 Nm (16 ft-lb)": "22 N·m (16 lbf·ft)", "30 Nm plus 90 degrees": "30 N·m then 90°", "first 2.5 Nm and then 5 Nm": "5 N·m in passes of 2.5, 5 N·m",
		"22 Nm crosswise": "22 N·m crosswise", "22 Nm in three passes": "22 N·m in 3 passes", "22 Nm in a criss-cross": "22 N·m crosswise",
		// What unit, what figure? A person has to say.
		"25 ft/lbs": "", "25 lb": "", "25": "", "22,5 Nm": "", "seven and a half foot pounds": "", "12 newton-inches": "", "20 Nm to 25 lbf·ft": "", "22 Nm ± 1 lbf·ft": "",
	} {
		for _, way := range []string{"Torque the lid bolts to ", "Fit the lid bolts and tighten them to ", "The lid bolts should be tightened to "} {
			text := drafted(way + said + ".")
			tag := "{Torque 4 lid bolts to " + want + "}"
			switch {
			case want != "" && !strings.Contains(text, tag):
				t.Errorf("%q gives no %s:\n%s", way+said, tag, text[strings.Index(text, "## Strip"):])
			case want == "" && (strings.Contains(text, "{Torque") || !strings.Contains(text, "> question: “"+way+said)):
				t.Errorf("%q is not asked:\n%s", way+said, text[strings.Index(text, "## Strip"):])
			}
		}
	}
}

// Counts, pronouns and things by a shorter name.
func TestActsAsTheyAreSaid(t *testing.T) {
	for said, want := range map[string]string{
		"Put all four bolts back in.":                        "{Install 4 lid bolts}",
		"Put them back in.":                                  "{Install 4 lid bolts}",
		"Shim it as needed to 12,5 mm.":                      "",
		"Put the lid back on, four bolts.":                   "{Install the lid}. {Install 4 lid bolts}",
		"Go ahead and put the lid back on.":                  "{Install the lid}",
		"Next you want to drop a new gasket in.":             "{Install the new gasket}",
		"Whip both side panels off.":                         "{Remove 2 side panels}",
		"Pull out the pair of dowels.":                       "{Remove 2 dowels}",
		"Take a pair of dowels out.":                         "{Remove 2 dowels}",
		"Knock out the other two dowels.":                    "{Remove the other 2 dowels}",
		"The hoses have to be disconnected.":                 "{Disconnect the hoses}",
		"Fill it up with 1.4 litres of oil.":                 "{Fill 1.4 L oil}",
		"Leave it for ten minutes.":                          "{Wait 10 min}",
		"Make sure that the drum does not turn.":             "{Check that the drum does not turn}",
		"Let the control room know.":                         "{Tell the control room}",
		"Nip up the lid bolts with a 6 mil key.":             "{Tighten 4 lid bolts} with a {tool 6 mm hex key}",
		"If the gasket is torn, fit a new one.":              "{If the gasket is torn} {Fit the new gasket}",
		"Measure the gap, it should be between 3 and 4 mil.": "{Measure the gap 3..4 mm}",
		"Fit the lid with the four bolts.":                   "{Fit the lid and 4 lid bolts}",
		"Loosen two of the six clamp screws.":                "{Loosen 2 of 6 clamp screws}",
		"Lid back on.":                                       "{Install the lid}",
		// What happens to a thing, and what is done with it.
		"The lid is then set back on.":                       "{Install the lid}",
		"The lid bolts are tightened crosswise to 22 Nm.":    "{Install 4 lid bolts}. {Torque 4 lid bolts to 22 N·m crosswise}",
		"Both dowels just lift out.":                         "{Remove 2 dowels}",
		"The old seal has to come off.":                      "{Remove the seal}",
		"Pump shaft to be drawn out.":                        "{Remove the pump shaft}",
		"Guard to be unbolted and removed.":                  "{Remove the guard}",
		"Fitter to fit the lid.":                             "{Fit the lid}",
		"The faces are wiped clean and inspected for nicks.": "{Clean the faces}. {Check them for nicks}",
		"LEVEL PROBE LEAD PLUGGED IN.":                       "{Connect the level probe lead}",
		"WIPE THE FACES.":                                    "{Clean the faces}",
		"Check the gap with a feeler: 0.1 - 0.3 mm.":         "{Check the gap with a feeler 0.1..0.3 mm}",
		"Drain tap shut.":                                    "{Close the drain tap}",
		// No verb, or a weak one.
		"Petcock shut.":                            "{Close the petcock}",
		"Lower hose off.":                          "{Remove the lower hose}",
		"Sump cover: 6 bolts, 13 mm socket.":       "{Remove 6 sump cover bolts}. {Remove the sump cover} with the {tool 13 mm socket}",
		"Lid on, bolts snug, 22 Nm.":               "{Torque 4 lid bolts to 22 N·m}",
		"Give the faces a good wipe.":              "{Clean the faces}",
		"Have a look at the shaft.":                "{Check the shaft}",
		"Get the clamp nuts undone.":               "{Remove the clamp nuts}",
		"Get the electrician to isolate the pump.": "{Isolate the pump} by the electrician",
		"Don't forget the lid.":                    "{Install the lid}",
		"Slide the lid back over the studs.":       "{Install the lid} over the studs",
		"Wriggle the bearing out.":                 "{Remove the bearing}",
		"Screw the clamp nut loose.":               "{Loosen the clamp nut}",
		"Take the belt from the pulleys.":          "{Remove the belt} from the pulleys",
	} {
		text := drafted(said)
		switch {
		case want != "" && !strings.Contains(text, want):
			t.Errorf("%q gives no %s:\n%s", said, want, text[strings.Index(text, "## Strip"):])
		case want == "" && !strings.Contains(text, "> question: “"+strings.TrimSuffix(said, ".")):
			t.Errorf("%q is not asked:\n%s", said, text[strings.Index(text, "## Strip"):])
		}
	}
}

// What is forbidden, allowed or told of is no act.
func TestWhatIsForbiddenIsNoAct(t *testing.T) {
	for _, said := range []string{
		"Don't remove the side panel.", "Do not remove the side panel.", "Never undo the side panel while it runs.",
		"The side panel does not have to be removed.", "The side panel must not be removed.", "The side panel should never be taken off.",
		"You don't need to take the side panel off.", "There is no need to take the side panel off.", "I removed the side panel last year.",
		"Be careful not to knock the side panel off.", "The side panel was taken off by the other shift.", "Leave the side panel on.",
		"The side panel is bolted to the frame.", "The side panel is held by its own weight.", "The side panel may not be removed.",
		"Swing the side panel aside.", "Pull the side panel back.", "No side panel is removed.",
		"Do not torque the side panel to more than 30 Nm.", "We never take the side panel off.", "Without removing the side panel, look inside.",
	} {
		text := drafted(said)
		for _, verb := range []string{"Remove", "Install", "Torque", "Loosen", "Undo", "Tighten"} {
			if at := strings.Index(text, "{"+verb+" the side panel"); at >= 0 {
				t.Errorf("%q gives %s", said, text[at:at+30])
			}
		}
		if !strings.Contains(letters(text), letters(said)) {
			t.Errorf("%q stands nowhere", said)
		}
	}
}

// Notes that tell what was done are read as what is to be done; one such sentence among orders is none.
func TestNotesThatTellWhatWasDone(t *testing.T) {
	text := string(draft.Make([]byte(`Yesterday's job on the sump pump.

I took the four lid bolts out with a 13 mm socket.
Drained the oil, 0.8 l, and prised out the old seal.
Then I had to slide the float off.
Cleaned the bore, closed end first.
We fitted a new seal, so I put the float back on.
`), draft.Options{Title: "Sump pump", Number: "SUMP", Check: check}).Text)
	for _, want := range []string{
		"{Remove 4 lid bolts} with a {tool 13 mm socket}", "{Drain 0.8 L oil}", "{Remove the seal}", "{Remove the float}", "{Clean the bore}",
		"{Fit the new seal}", "{Install the float}",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s in\n%s", want, text)
		}
	}
	if strings.Contains(text, "{Close") {
		t.Errorf("\"closed end first\" gives an act:\n%s", text)
	}
}

// Where the notes say no more than what holds a thing, the act that is made of it is asked; a lock that comes off is never
// taken for an isolation; and what speaks of safety is never left out in silence.
func TestNothingIsGuessedInSilence(t *testing.T) {
	text := drafted("Fan guard: 8 screws.")
	if !strings.Contains(text, "{Remove 8 fan guard screws}. {Remove the fan guard}") || !strings.Contains(text, "the notes say no more. Does it come off here?") {
		t.Errorf("not asked:\n%s", text)
	}
	if text := drafted("Lid on, lock off, breaker on."); strings.Contains(text, "{Lock off") || !strings.Contains(text, "{Unlock the breaker}") {
		t.Errorf("a lock that comes off is an isolation:\n%s", text)
	}
	if text := drafted("Whoever comes has the breaker in mind and a lock with him."); !strings.Contains(text, "> question: “Whoever comes") {
		t.Errorf("left out:\n%s", text)
	}
	if text := drafted("Lay the lid on a clean rag."); strings.Contains(text, "{Install the lid") {
		t.Errorf("what is laid down goes on:\n%s", text)
	}
	if text := drafted("Unplug both batteries."); strings.Contains(text, "batterie ") || strings.Contains(text, "batterie}") {
		t.Errorf("no such word:\n%s", text)
	}
	if text := drafted("Dry, no oil."); strings.Contains(text, "{supply no oil}") {
		t.Errorf("a supply of nothing:\n%s", text)
	}
}
