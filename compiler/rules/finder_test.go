package rules_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"refitcard/compiler/rules"
)

func TestFinderFindsWhatStandsThere(t *testing.T) {
	f := rules.NewFinder([]string{"gear box", "gearbox"}, []string{" if "}, []string{"box of"}, []string{"x"})
	for text, want := range map[string]uint64{
		"":                                0,
		"the gear case":                   0,
		"the Gear-Box":                    0b1001,
		"a gearbox of old":                0b1101,
		"clean it if\nit is dirty":        0b10,
		"gegear box":                      0b1001,
		"gear bgearbox":                   0b1001,
		"naïve words beyond ASCII: é N·m": 0,
	} {
		if got := f.In([]byte(text)); got != want {
			t.Errorf("%q: groups %b, they were to be %b", text, got, want)
		}
	}
}

// Random texts of a few letters, so that phrases run into each other.
func TestFinderAgreesWithASearchForEachPhrase(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		phrase := rapid.StringMatching(`[abA\- ]{1,4}`)
		groups := rapid.SliceOfN(rapid.SliceOfN(phrase, 1, 3), 1, 4).Draw(t, "groups")
		text := rapid.StringMatching(`[abAB\- \n]{0,30}`).Draw(t, "text")
		fold := func(s string) string { return strings.NewReplacer("-", " ", "\n", " ").Replace(strings.ToLower(s)) }
		var want uint64
		for k, g := range groups {
			for _, p := range g {
				if strings.Contains(fold(text), fold(p)) {
					want |= 1 << k
				}
			}
		}
		if got := rules.NewFinder(groups...).In([]byte(text)); got != want {
			t.Fatalf("groups %b, they were to be %b", got, want)
		}
	})
}
