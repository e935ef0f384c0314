package prose

import "testing"

func TestSentencesAreCutAtTheirStops(t *testing.T) {
	text := "Set it to 4.5 mm, e.g. with a shim. See fig. 2; then stop! Use no. 5 oil.\nNext line"
	want := []string{"Set it to 4.5 mm, e.g. with a shim.", "See fig. 2;", "then stop!", "Use no. 5 oil.", "Next line"}
	got := Cut(text)
	if len(got) != len(want) {
		t.Fatalf("%d sentences, want %d: %v", len(got), len(want), got)
	}
	for i, c := range got {
		if s := text[c.From:c.To]; s != want[i] {
			t.Errorf("sentence %d is %q, want %q", i+1, s, want[i])
		}
	}
}

func TestWordsAreCounted(t *testing.T) {
	for text, want := range map[string]int{
		"Fit the O-ring.": 3, "Turn it 1/4 turn (not more, or it tears) by hand.": 6, "Lift – slowly – the 18 kg cover.": 6, "": 0, "( )": 0,
	} {
		if got := Count(text); got != want {
			t.Errorf("%q has %d words, want %d", text, got, want)
		}
	}
}

// A noun that is spelt like a verb orders nothing; neither does a statement that begins with a condition.
func TestWhichSentencesOrder(t *testing.T) {
	for text, want := range map[string]string{
		"Wipe the face.": "wipe",
		"Then carefully lower it onto the blocks.":    "lower",
		"If the seal is torn, replace it.":            "replace",
		"With the pump stopped, open the cock.":       "open",
		"Do not turn the shaft.":                      "turn",
		"Never stand under the load.":                 "stand",
		"Drain 2 xxxxxxxx slowly.":                    "drain",
		"Press down on the lid.":                      "press",
		"Check that the lamp is out.":                 "check",
		"Drain plugs are green.":                      "",
		"Cover bolts stay in.":                        "",
		"Check valves close by themselves.":           "",
		"Level 0 prints nothing.":                     "",
		"Lock washers of steel rust.":                 "",
		"Oil runs out.":                               "",
		"Lift is provided by the crane.":              "",
		"Torque reaction throws the drill.":           "",
		"Set by the maker, the screw stays as it is.": "",
		"The valve opens by itself.":                  "",
		"If the lamp is lit, the pump is running.":    "",
		"Note that the pump may start.":               "",
		"Normal force keeps the lining on.":           "",
	} {
		if got := Order(text); got != want {
			t.Errorf("%q orders %q, want %q", text, got, want)
		}
	}
}

type found struct {
	text, want string
}

func eachFound(t *testing.T, list []found, find func(string) (from, to int)) {
	t.Helper()
	for _, x := range list {
		from, to := find(x.text)
		if got := x.text[from:to]; got != x.want {
			t.Errorf("%q: found %q, want %q", x.text, got, x.want)
		}
	}
}

func TestVagueWords(t *testing.T) {
	eachFound(t, []found{
		{"Clean the face properly.", "properly"},
		{"Tie the sling securely, then lift it.", "securely"},
		{"Fasten the cover securely and go on.", "securely"},
		{"Properly seat the ring.", "Properly"},
		{"Grease the pin as required.", "as required"},
		{"If necessary, scrape the face.", "If necessary"},
		{"Adjust the screw where needed.", "where needed"},
		{"Make sure the lip is correctly fitted.", "correctly fitted"},
		{"Make sure that the lip is properly seated.", "properly seated"},
		{"Check that the noise is normal.", "normal"},
		{"Check the pump runs normally.", "normally"},
		{"Check the level is correct.", "correct"},
		{"Check the hose is in good condition.", "in good condition"},
		{"See that the fit is good and go on.", "good"},
		{"Ensure the clearance is adequate before you start.", "adequate"},
		{"Check for proper operation.", "proper operation"},
		{"Check the pump for normal noise and vibration.", "normal noise"},
		{"Check correct seating, then close the lid.", "correct seating"},
		// The measure stands beside it.
		{"Check for proper operation: three strokes without a stop.", ""},
		{"Seat the ring properly: both ends in their holes.", ""},
		{"Tie it securely, with two half hitches.", ""},
		{"Tie it securely (two half hitches).", ""},
		{"Lock the door as required by the permit.", ""},
		{"Lock the door as required under the night rules.", ""},
		{"Check the gap is normal, 1.0 to 1.4 mm.", ""},
		{"Turn the screw as needed until the lamp goes out.", ""},
		// Not the measure of an order.
		{"The valve closes properly.", ""},
		{"Normal force keeps the lining on.", ""},
		{"Hold the gauge normal to the shaft.", ""},
		{"Check the normal force.", ""},
		{"Check the normal operation lamp is lit.", ""},
		{"Bring the lever back to normal.", ""},
		{"Use a properly rated sling.", ""},
		{"Take the good side of the gauge.", ""},
		{"Remove the part that is not properly painted.", ""},
		{"If the door does not close properly, tell the foreman.", ""},
		{"Do not run it if it is not properly earthed.", ""},
		{"Check the label is correct.", ""},
		{"Grease is drawn as required from the store.", ""},
		{"Good oil is clear.", ""},
		{"Bring all pins to one height, changing shims as necessary.", ""},
	}, func(s string) (int, int) { return Vague(s, false, false) })
}

func TestOrdersWordedAsStatements(t *testing.T) {
	eachFound(t, []found{
		{"The bolts should be tightened.", "should be tightened"},
		{"The bolts must then be carefully removed.", "must then be carefully removed"},
		{"All pipes are to be flushed with water.", "are to be flushed"},
		{"After the wash, the filter has to be dried.", "has to be dried"},
		{"You must now press the button.", "must now press"},
		{"The seal must not be stretched.", "must not be stretched"},
		{"The tape must not be cut.", "must not be cut"},
		{"The old belt must be taken to the store.", "must be taken"},
		// States, statements, and acts of others.
		{"The lamp must be lit.", ""},
		{"The drum must be free.", ""},
		{"The plug should be set to 0.7 mm.", ""},
		{"The cover must be removed by the electrician.", ""},
		{"A part which should be replaced is marked red.", ""},
		{"The part that must be removed is red.", ""},
		{"Check whether the rod should be straightened.", ""},
		{"Look where the float should be thin.", ""},
		{"The float does not need to be greased.", ""},
		{"The bolts should be tight.", ""},
		{"The lamp is to be seen from the bridge.", ""},
		{"It should be noted that the pump may start.", ""},
		{"If the bolts should be loosened later, mark them.", ""},
	}, func(s string) (int, int) { from, to, _ := Told(s); return from, to })
}

func TestConditionsBehindTheirActs(t *testing.T) {
	eachFound(t, []found{
		{"Replace the ring, if worn.", "if worn"},
		{"Scrape the face if old gasket sticks to it.", "if old gasket sticks to it"},
		{"Wipe the face and dry it if it is wet.", "if it is wet"},
		{"If worn, replace the ring.", ""},
		{"Check if the hinge is free.", ""},
		{"Ask the foreman if the spare is in.", ""},
		{"Wipe it even if it looks clean.", ""},
		{"Turn it as if it were glass.", ""},
		{"Press the seal in and, if it springs out, press it again.", ""},
		{"Lift the lid, then if it sticks tap the rim.", ""},
		{"Do not stand on the hatch if it is wet.", ""},
		{"Replace the ring if necessary.", ""}, // vague, and found as that
		{"The valve shuts if the float rises.", ""},
		{"Take the new one or the old one if it is whole.", ""},
		{"Write down what to do if it stops.", ""},
		{"Fetch the old plate, using the crane if free.", ""},
	}, func(s string) (int, int) { return LateCondition(s, false) })
}

func TestVerbsJoinedToAStatementOrderNothing(t *testing.T) {
	for before, want := range map[string]bool{
		"It will stop and ":                        true,
		"The crane can lift and ":                  true,
		"See the board on how to open and ":        true,
		"Leave the drain (open and ":               true,
		"Wipe the face and ":                       false,
		"If the seal is torn, take the knife and ": false,
		"The cover is off. ":                       false,
		"":                                         false,
		"Lift the lid, ":                           false,
	} {
		if got := Joined(before); got != want {
			t.Errorf("%q: %v, want %v", before, got, want)
		}
	}
}
