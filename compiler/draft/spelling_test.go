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
