package hardware

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"refitcard/compiler/quantity"
)

// published reads a file of testdata, rows as maps of column to cell.
func published(t *testing.T, name string, least int) []map[string]string {
	t.Helper()
	raw, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(raw)))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var all []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, cell := range row {
			m[rows[0][i]] = cell
		}
		all = append(all, m)
	}
	if len(all) < least {
		t.Fatalf("%s has %d rows, there were to be %d", name, len(all), least)
	}
	return all
}

func figure(t *testing.T, cell string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func off(got, want float64) float64 { return math.Abs(got/want - 1) }

func newtonMetres(t *testing.T, row map[string]string) float64 {
	t.Helper()
	v, problem := quantity.Parse(row["torque"] + " " + row["unit"])
	if problem != nil {
		t.Fatal(problem)
	}
	return v.Float()
}

// The standard prints proof loads beside areas and stresses; its products are rounded by no simple rule.
func TestProofLoadsAreThoseOfTheStandard(t *testing.T) {
	for _, row := range published(t, "proof-loads.csv", 130) {
		p, ok := ParseSpec(row["thread"] + " " + row["class"]).ProofLoad()
		if !ok {
			t.Errorf("%s %s has no proof load", row["thread"], row["class"])
			continue
		}
		if want := figure(t, row["load"]); off(p.Load, want) > 0.01 {
			t.Errorf("%s %s: %.0f N, the standard has %.0f N", row["thread"], row["class"], p.Load, want)
		}
	}
}

func TestWhereNoProofLoadIsKnown(t *testing.T) {
	for _, cell := range []string{
		"M8", "8.8", "M8 class 7", "M8 grade 5", "M20 9.8", "M8 A4-100", "1/4-20 UNC grade 3", "M42 8.8", "2-8 UN grade 8",
	} {
		if p, ok := ParseSpec(cell).ProofLoad(); ok {
			t.Errorf("%q: %+v", cell, p)
		}
	}
}

func TestClassesByAnotherName(t *testing.T) {
	for cell, class := range map[string]string{
		"M8 class 8.8": "8.8", "M8 grade 10.9": "10.9", "M8 class 8": "8.8", "M8 Class 10": "10.9", "3/8-16 UNC grade 5": "grade 5", "M6 A2-70": "A2-70",
	} {
		p, ok := ParseSpec(cell).ProofLoad()
		if !ok || p.Class != class || p.Nut != (cell == "M8 class 8" || cell == "M8 Class 10") {
			t.Errorf("%q: %+v", cell, p)
		}
	}
	// 8.8 is weaker up to 16 mm (ISO 898-1), grade 5 above 1 in (SAE J429).
	for cell, stress := range map[string]float64{"M16 8.8": 580, "M18 8.8": 600, "1-8 UNC grade 5": 586, "1-1/8-7 UNC grade 5": 510} {
		if p, _ := ParseSpec(cell).ProofLoad(); math.Abs(p.Stress-stress) > 0.6 {
			t.Errorf("%q: %.1f MPa, want %.0f", cell, p.Stress, stress)
		}
	}
}

// The Army's table for clean, dry threads is K = 0.2 and 75 % of the proof load: two sources and the formula agree.
func TestTheArmysTorquesFollowFromProofLoadAndFriction(t *testing.T) {
	checked := 0
	for _, row := range published(t, "torques.csv", 150) {
		if row["source"] != "army" {
			continue
		}
		checked++
		s := ParseSpec(row["thread"] + " " + row["class"])
		p, ok := s.ProofLoad()
		if !ok {
			t.Errorf("%s %s has no proof load", row["thread"], row["class"])
			continue
		}
		got, want := TorqueFor(0.75*p.Load, 0.2, s.Thread.Diameter), newtonMetres(t, row)
		if off(got, want) > 0.11 {
			t.Errorf("%s %s: %.1f N·m, the table has %.1f N·m", row["thread"], row["class"], got, want)
		}
	}
	if checked < 50 {
		t.Errorf("only %d rows", checked)
	}
}

// VDI 2230 works from friction coefficients, not nut factors: its preloads have to lie in the range that the nut factors give.
func TestPublishedPreloadsLieWithinTheFrictionRange(t *testing.T) {
	checked := 0
	for _, row := range published(t, "torques.csv", 150) {
		if row["source"] != "vdi fine" {
			continue
		}
		checked++
		condition := map[string]string{"0.10": "anti-seize", "0.12": "oiled", "0.14": "oiled"}[row["mu"]]
		s := ParseSpec(row["thread"] + " " + row["class"] + " " + condition)
		f := s.Friction()
		torque, preload := newtonMetres(t, row), figure(t, row["preload"])*1000
		low, high := Preload(torque, f.High, s.Thread.Diameter), Preload(torque, f.Low, s.Thread.Diameter)
		if preload < low || preload > high {
			t.Errorf("%s %s, coefficient %s: %.1f kN is not within %.1f to %.1f kN", row["thread"], row["class"], row["mu"], preload/1000, low/1000, high/1000)
		}
	}
	if checked < 60 {
		t.Errorf("only %d rows", checked)
	}
}

// No published torque may be called too high, even where the thread's condition is not stated.
func TestPublishedTorquesAreNeverOverProofForSure(t *testing.T) {
	for _, row := range published(t, "torques.csv", 150) {
		s := ParseSpec(row["thread"] + " " + row["class"])
		p, ok := s.ProofLoad()
		if !ok {
			t.Errorf("%s %s has no proof load", row["thread"], row["class"])
			continue
		}
		if least := Preload(newtonMetres(t, row), s.Friction().High, s.Thread.Diameter); least > p.Load {
			t.Errorf("%s %s %s: %.1f kN over %.1f kN", row["source"], row["thread"], row["class"], least/1000, p.Load/1000)
		}
	}
}

func TestFrictionTakesTheWidestRange(t *testing.T) {
	for cell, want := range map[string][2]float64{
		"M8 8.8":              {0.15, 0.328},
		"M8 8.8, dry":         {0.158, 0.30},
		"M8 8.8, oiled":       {0.15, 0.20},
		"M8 8.8, oiled, zinc": {0.15, 0.328},
		"M8 8.8, anti-seize":  {0.08, 0.23},
		"M8 A2-70":            {0.086, 0.52},
		"M8 A4-70 anti-seize": {0.08, 0.52},
	} {
		f := ParseSpec(cell).Friction()
		if f.Low != want[0] || f.High != want[1] {
			t.Errorf("%q: %v to %v, want %v", cell, f.Low, f.High, want)
		}
		if f.Condition == "" {
			t.Errorf("%q has no word for its condition", cell)
		}
	}
}

func TestAdaptersAsInTheManuals(t *testing.T) {
	for _, row := range published(t, "adapters.csv", 10) {
		torque, l, e, a := figure(t, row["T"]), figure(t, row["L"]), figure(t, row["E"]), figure(t, row["degrees"])
		want := figure(t, row["published"])
		got := Setting(torque, l, e, a)
		switch row["mode"] {
		case "set_short":
			got = Setting(torque, l, e, 180)
		case "applied":
			got = torque * torque / Setting(torque, l, e, a)
		}
		if off(got, want) > 0.017 {
			t.Errorf("%s: %.2f, printed %.2f", row["source"], got, want)
		}
	}
	// At a right angle the length along the wrench does not change (an Army example), and 45° lies between.
	if got := Setting(100, 12, 6, 90); off(got, 100) > 1e-9 {
		t.Errorf("at 90°: %v", got)
	}
	if got := Setting(100, 12, 6, 45); got <= Setting(100, 12, 6, 0) || got >= 100 {
		t.Errorf("at 45°: %v", got)
	}
}

func TestWorkingRange(t *testing.T) {
	if got := WorkingFrom(50); got != 10 { // US Army TM 1-1500-204-23-9 table 8-1: not under a fifth
		t.Errorf("a wrench up to 50 is used from %v", got)
	}
}

func TestForceIsPrintedInKilonewtons(t *testing.T) {
	for n, want := range map[float64]string{21230: "21.2 kN", 1569: "1.57 kN", 230100: "230 kN"} {
		if got := Force(n).Running(); got != want {
			t.Errorf("%v N: %q, want %q", n, got, want)
		}
	}
}

func TestGripNamesEverySource(t *testing.T) {
	for cell, want := range map[string]string{
		"7/16-20 UNF": "8 lbf·in running (FAA AC 43.13-1B Table 7-2), 14 lbf·in breakaway (US Army TM 10-3510-220-24 Table D-2)",
		"#10-32 UNF":  "2 lbf·in breakaway (US Army TM 10-3510-220-24 Table D-2)",
		"M10":         "",
	} {
		if got := ParseSpec(cell).Thread.Grip(); got != want {
			t.Errorf("%q: %q, want %q", cell, got, want)
		}
	}
}

// Worked examples of T = K × F × d: Shigley 9th ed. example 8-3 (inputs read, answer follows), a university page, a torque-tension
// chart, an aircraft hardware note. They round by up to 3 %.
func TestWorkedExamples(t *testing.T) {
	const pound = 4.4482216152605 // lbf in N, exact
	for _, c := range []struct {
		thread      string
		k, force, t float64
	}{
		{"3/4-16 UNF", 0.20, 25000 * pound, 3750 * pound * 0.0254},
		{"M12", 0.20, 34200, 82},
		{"3/8-16 UNC", 0.20, 4940 * pound, 30 * pound * 0.3048},
		{"3/8-16 UNC", 0.15, 4940 * pound, 23 * pound * 0.3048},
		{"3/8-24 UNF", 0.16, 5788 * pound, 28.9 * pound * 0.3048},
		{"3/8-24 UNF", 0.11, 5788 * pound, 19.9 * pound * 0.3048},
	} {
		d := ParseSpec(c.thread).Thread.Diameter
		if got := TorqueFor(c.force, c.k, d); off(got, c.t) > 0.031 {
			t.Errorf("%s, K %v: %.1f N·m, printed %.1f N·m", c.thread, c.k, got, c.t)
		}
		if got := Preload(c.t, c.k, d); off(got, c.force) > 0.031 {
			t.Errorf("%s, K %v: %.0f N, printed %.0f N", c.thread, c.k, got, c.force)
		}
	}
}
