package procedure

import (
	"strings"
	"testing"

	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"
)

// The quick way of folding gives what the plain one gives.
func TestFoldIsOneWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringOf(rapid.SampledFrom([]rune("aZ -\u2011\u00a0\t\n\réÅ\u0301 b\x01\v\x7fŁжΣ"))).Draw(t, "name")
		want := strings.Join(strings.Fields(strings.NewReplacer("-", " ", "\u2011", " ", "\u00a0", " ").Replace(strings.ReplaceAll(strings.ToLower(norm.NFC.String(name)), "ς", "σ"))), " ")
		if got := Fold(name); got != want {
			t.Errorf("%q folds to %q, want %q", name, got, want)
		}
		if twice := Fold(Fold(name)); twice != Fold(name) {
			t.Errorf("%q folds to %q, and that to %q", name, Fold(name), twice)
		}
	})
}

func TestNamesInCapitalsAreTheSame(t *testing.T) {
	for _, c := range [][2]string{
		{"φλάντζα αντλίας", "ΦΛΆΝΤΖΑ ΑΝΤΛΊΑΣ"},
		{"щиток двигуна", "ЩИТОК ДВИГУНА"},
		{"śruba żółta", "ŚRUBA ŻÓŁTA"},
		{"kapağın cıvatası", "KAPAĞIN CIVATASI"},
		{"iğne", "İĞNE"},
		{"șaibă", "ŞAIBĂ"},
		{"e\u0301tanche", "ÉTANCHE"},
	} {
		if Fold(c[0]) != Fold(c[1]) {
			t.Errorf("%q folds to %q, %q to %q", c[0], Fold(c[0]), c[1], Fold(c[1]))
		}
		if Fold(Fold(c[1])) != Fold(c[1]) {
			t.Errorf("%q folds to %q, and that to another", c[1], Fold(c[1]))
		}
	}
}

func TestPlural(t *testing.T) {
	for one, many := range map[string]string{
		"cover bolt": "cover bolts", "locating bush": "locating bushes", "gland assembly": "gland assemblies", "key": "keys", "gearbox": "gearboxes",
		"length of rope": "lengths of rope", "half": "halves", "foot": "feet", "cover plate": "cover plates", "O-ring": "O-rings", "knife": "knives", "śruba pokrywy": "śruba pokrywy", "болт": "болт", "φλάντζα": "φλάντζα", "10 Ω resistor": "10 Ω resistors", "ø5 × 20 pin": "ø5 × 20 pins",
	} {
		if got := Plural(one); got != many {
			t.Errorf("%q: %q, want %q", one, got, many)
		}
	}
}
