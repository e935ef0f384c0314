package safety

import (
	"math"
	"testing"

	"refitcard/compiler/quantity"
)

func TestWordsOfDeathAreMeantOfPeople(t *testing.T) {
	for text, want := range map[string]string{
		"It crushes and can kill.":            "kill",
		"The gas kills within two breaths.":   "kills",
		"The bar electrocutes a man.":         "electrocutes",
		"A fall here is fatal.":               "fatal",
		"It can be fatal to breathe it.":      "fatal",
		"The blow causes death.":              "death",
		"You die before you can call.":        "die",
		"Press the kill switch.":              "",
		"It kills the engine.":                "",
		"Salt can kill grass.":                "",
		"The splash is not fatal.":            "",
		"It is a non-lethal dose.":            "",
		"Hang it up as a dead weight.":        "",
		"Lay the die on the bench.":           "",
		"Nobody can kill time here.":          "",
		"The fatal flaw of the old seal was.": "",
	} {
		from, to := mortal(text)
		if got := text[from:to]; got != want {
			t.Errorf("%q: found %q, want %q", text, got, want)
		}
	}
}

func TestWhichMessagesPointElsewhere(t *testing.T) {
	for text, want := range map[string]bool{
		"Wear gloves. See the manual.":                       true,
		"Wear gloves (see page 12).":                         true,
		"Sling it as shown on the drawing.":                  false, // on the wall, perhaps
		"Sling it as described in the maker's manual.":       true,
		"Refer to section 4 before you lift.":                true,
		"Consult the data sheet.":                            true,
		"Stand where you see the manual.":                    false,
		"See the manual valve handle move.":                  false,
		"Refer to the watchman.":                             false,
		"See that the page boards hold.":                     false,
		"Follow the maker's instructions, then wear gloves.": false,
	} {
		at := elsewhere.FindStringIndex(text)
		if got := at != nil && !adjective(text[at[1]:]); got != want {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
	}
}

func TestWhichValuesOfANoteAreToBeMet(t *testing.T) {
	known, _ := quantity.Parse("22 N·m")
	for text, want := range map[string]string{
		"Tighten the clamp to 9 N·m.":                    "9 N·m",
		"The lip must be at least 3 mm proud.":           "at least 3 mm",
		"The gap should be 2..3 mm.":                     "2..3 mm",
		"Do not exceed 2 bar.":                           "2 bar",
		"It must be no more than 4 mm off.":              "4 mm",
		"Keep the arm at 40 ±2 mm.":                      "40 ±2 mm",
		"The 22 N·m must be met with dry threads.":       "", // that value stands in the table
		"The wrench reads 5–50 N·m.":                     "",
		"The old card said 35 N·m, and it was too much.": "",
		"Plates of 6..8 mm lie between the posts.":       "",
		"A rope of at least 12 m lies in the box.":       "",
		"It may be left off for 20 min.":                 "",
		"Do not stand under 5 t of water.":               "",
		"The pins bear more than 3 t.":                   "",
	} {
		from, to, _ := valueIn(text, func() []*quantity.Value { return []*quantity.Value{&known} })
		if got := text[from:to]; got != want {
			t.Errorf("%q: found %q, want %q", text, got, want)
		}
	}
}

func TestLiftsAreReadFromTheirTag(t *testing.T) {
	x, ok := described("from 20 cm to 0.9 m, reach 400 mm, turning 45°, poor grip")
	if want := (lift{reach: 40, from: 20, to: 90, turn: 45, grip: "poor", hours: 1}); !ok || math.Abs(x.reach-want.reach)+math.Abs(x.from-want.from)+math.Abs(x.to-want.to) > 1e-9 || x.turn != want.turn || x.grip != want.grip {
		t.Errorf("%+v, want %+v", x, want)
	}
	if down, ok := described("from 90 cm to 20 cm, reach 40 cm"); !ok || down.from < 89 || down.to > 21 || down.grip != "good" {
		t.Errorf("a lift down was read as %+v", down)
	}
	for _, words := range []string{"onto the bench", "reach 40 cm", "from 20 cm to 90 cm", "from the floor to 90 cm, reach 40 cm", "from 20 cm, reach 40 cm, turning round"} {
		if x, ok := described(words); ok {
			t.Errorf("%q was read as %+v", words, x)
		}
	}
}
