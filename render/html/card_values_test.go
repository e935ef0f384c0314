package html

import (
	"testing"

	"refitcard/compiler/quantity"
	"refitcard/render/document"
)

func TestLimitsAreReadBack(t *testing.T) {
	for _, c := range []struct {
		text, unit, low, high string
		ok                    bool
	}{
		{"12–18", "mm", "12", "18", true},
		{"3.0 ±0.1", "mm", "2.9", "3.1", true},
		{"1.20 ±0.02", "mm", "1.18", "1.22", true},
		{"≥ 7.2", "mm", "7.2", "", true},
		{"≤ 0.05", "mm", "", "0.05", true},
		{"0.028–0.031", "in", "0.028", "0.031", true},
		{"15–60", "°C", "15", "60", true},
		{"−5–5", "°C", "-5", "5", true},
		{"≤ 1/8", "in", "", "0.125", true},
		{"5", "mm", "5", "5", true},
		{"", "mm", "", "", false},
		{"some", "mm", "", "", false},
		{"12–18", "furlongs per fortnight", "", "", false},
	} {
		if low, high, ok := limits(c.text, c.unit); low != c.low || high != c.high || ok != c.ok {
			t.Errorf("%q %q: %q to %q, %v; want %q to %q, %v", c.text, c.unit, low, high, ok, c.low, c.high, c.ok)
		}
	}
}

// What quantity prints into a box, limits reads back to the same figures, in every unit and every form.
func TestLimitsOfEveryUnit(t *testing.T) {
	n := 0
	for _, u := range quantity.Units() {
		for _, form := range []string{"12..18 ", "20 ±0.5 ", "at least 0.25 ", "at most 3 "} {
			v, problem := quantity.ParseLimit(form + u.Name)
			if problem != nil {
				continue // no figure of this form in this unit
			}
			n++
			text, unit := v.Boxed()
			low, high, ok := limits(text, unit)
			if !ok || low != decimal(v.Low.Rat) || high != decimal(v.High.Rat) {
				t.Errorf("%q %q: %q to %q, %v", text, unit, low, high, ok)
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d were tried", n)
	}
}

func TestWaitsAreFound(t *testing.T) {
	plain := func(s string) document.Run { return document.Run{Text: s} }
	bold := func(s string) document.Run { return document.Run{Text: s, Bold: true} }
	for name, c := range map[string]struct {
		runs []document.Run
		want []int
	}{
		"a wait":                  {[]document.Run{plain("Wait "), bold("10 min"), plain(".")}, []int{600}},
		"then wait":               {[]document.Run{plain("Fill the "), bold("sump"), plain(", then wait "), bold("90 s")}, []int{90}},
		"a range, its least":      {[]document.Run{plain("Wait "), bold("2 to 3 h")}, []int{7200}},
		"a start":                 {[]document.Run{plain("Start "), bold("sealant cure"), plain(", "), bold("20 min")}, []int{1200}},
		"a length is no time":     {[]document.Run{plain("Wait at "), bold("10 mm")}, nil},
		"a time that is no wait":  {[]document.Run{plain("Run it for "), bold("10 min")}, nil},
		"the sentence is another": {[]document.Run{plain("Start the pump. It takes "), bold("10 min")}, nil},
		"not in bold":             {[]document.Run{plain("Wait 10 min")}, nil},
		"two":                     {[]document.Run{plain("Wait "), bold("1 min"), plain(", then wait "), bold("2 min")}, []int{60, 120}},
	} {
		var got []int
		for _, w := range waits(document.Act{Runs: c.runs, Tick: true}, "s1-a1") {
			got = append(got, w.Seconds)
		}
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%s: %v, want %v", name, got, c.want)
			}
		}
	}
	if all := waits(document.Act{Runs: []document.Run{plain("Wait "), bold("10 min")}}, "x"); all != nil {
		t.Errorf("words that nobody does: %v", all)
	}
}
