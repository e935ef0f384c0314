package reference

import (
	"encoding/csv"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// second reads a file of testdata: what another published source prints.
func second(t *testing.T, name string, least int) [][]string {
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
	if len(rows) <= least {
		t.Fatalf("%s has %d rows, there were to be %d", name, len(rows)-1, least)
	}
	return rows[1:]
}

func TestEveryTableSaysWhereItIsFrom(t *testing.T) {
	known := []string{"confirmed", "computed", "practice", "memory"}
	for _, name := range Names() {
		table := Open(name)
		if at := slices.Index(table.Columns, "status"); at != len(table.Columns)-1 {
			t.Errorf("%s: the last column is not status", name)
			continue
		}
		for _, row := range table.Rows {
			if status := row[len(row)-1]; !slices.Contains(known, status) {
				t.Errorf("%s: %v has the status %q", name, row, status)
			}
			for i, cell := range row[:len(row)-1] {
				if (table.Columns[i] == "source" || table.Columns[i] == "standard") && cell == "" {
					t.Errorf("%s: %v has no source", name, row)
				}
			}
		}
	}
}

func TestAHeadWithoutASourceIsRefused(t *testing.T) {
	good := "# title: a\n# source: b\n# edition: c\n# unit: d\n# status: e\nx,status\n1,computed\n"
	if _, err := parse("good", good); err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"title", "source", "edition", "unit", "status"} {
		cut := regexp.MustCompile("(?m)^# "+word+": .*\n").ReplaceAllString(good, "")
		if _, err := parse("bad", cut); err == nil || !strings.Contains(err.Error(), word) {
			t.Errorf("without %s: %v", word, err)
		}
	}
	if _, err := parse("empty", strings.Replace(good, "1,computed\n", "", 1)); err == nil {
		t.Error("a table without rows was read")
	}
	if _, err := parse("odd", "# maker: x\n"+good); err == nil {
		t.Error("an unknown word in the head was read")
	}
}

func TestDigestsStandInOrderAndFollowTheFile(t *testing.T) {
	list := Digests()
	if len(list) < 8 {
		t.Fatalf("only %d tables", len(list))
	}
	seen := map[string]bool{}
	for i, d := range list {
		if len(d.Digest) != 16 || seen[d.Digest] {
			t.Errorf("%s: %q is no digest of its own", d.Name, d.Digest)
		}
		seen[d.Digest] = true
		if i > 0 && list[i-1].Name >= d.Name {
			t.Errorf("%s stands behind %s", d.Name, list[i-1].Name)
		}
	}
}

// The formula of ISO 898-1 is independent of the column: As = π/4 × (d − 0.9382 P)², for unified threads ASME B1.1's
// At = π/4 × (D − 0.9743 P)².
func TestPublishedAreasFollowTheFormula(t *testing.T) {
	checked := 0
	for _, x := range Threads() {
		if x.Area == 0 {
			continue
		}
		checked++
		c := 0.9382
		if x.Inch {
			c = 0.9743
		}
		want := math.Pi / 4 * math.Pow(x.Diameter-c*x.Pitch, 2)
		if off := math.Abs(want/x.Area - 1); off > 0.006 {
			t.Errorf("%s: published %.2f mm², formula %.2f mm²", x.Name, x.Area, want)
		}
	}
	if checked < 80 {
		t.Errorf("only %d areas", checked)
	}
}

// A unified thread is named by its size and its threads per inch, so name and columns check each other.
func TestUnifiedNamesSayDiameterAndPitch(t *testing.T) {
	name := regexp.MustCompile(`^(#?)(\d+(?:/\d+)?|\d+-\d+/\d+)-(\d+)$`)
	for _, x := range Threads() {
		if !x.Inch {
			continue
		}
		m := name.FindStringSubmatch(x.Name)
		if m == nil {
			t.Errorf("%q is no name of a thread", x.Name)
			continue
		}
		d, _ := size(m[1] + m[2])
		if math.Abs(d-x.Diameter) > 0.001 || math.Abs(25.4/number(m[3])-x.Pitch) > 0.0001 {
			t.Errorf("%s: %.4f mm, pitch %.5f mm", x.Name, x.Diameter, x.Pitch)
		}
	}
}

// The designation rule of ISO 898-1: the first figure is a hundredth of the tensile strength, both multiplied a tenth of the
// yield strength. Nominal figures: the least ones are up to a twentieth higher. The proof stress is 0.87 to 0.95 of the yield.
func TestStrengthsFollowTheirNames(t *testing.T) {
	checked := 0
	for _, s := range Strengths() {
		if s.Stainless {
			if want := number(s.Name[3:]) * 10; s.Tensile != want {
				t.Errorf("%s: tensile strength %v, its name says %v", s.Name, s.Tensile, want)
			}
			continue
		}
		if ratio := s.Proof / s.Yield; ratio < 0.87 || ratio > 0.97 {
			t.Errorf("%s over %v: proof stress is %.3f of the yield", s.Name, s.Over, ratio)
		}
		if s.Standard != "ISO 898-1" {
			continue
		}
		checked++
		first, last, _ := strings.Cut(s.Name, ".")
		tensile, yield := number(first)*100, number(first)*number(last)*10
		if s.Tensile < tensile || s.Tensile > tensile*1.06 || s.Yield < yield || s.Yield > yield*1.065 {
			t.Errorf("%s over %v: %v and %v MPa, its name says %v and %v", s.Name, s.Over, s.Tensile, s.Yield, tensile, yield)
		}
	}
	if checked != 10 {
		t.Errorf("%d classes of ISO 898-1", checked)
	}
}

// A second reading of the widths; where the charts give the old DIN width, the table has to hold it too.
func TestWidthsAgreeWithASecondReading(t *testing.T) {
	for _, row := range second(t, "widths-second-reading.csv", 30) {
		d, inch := size(row[1])
		want := millimetres(row[2], row[3])
		if !slices.ContainsFunc(Widths(), func(w Width) bool {
			return w.Head == "hex" && w.Inch == inch && math.Abs(w.Diameter-d) < 0.001 && math.Abs(w.MM-want) < 0.001 && w.Sure
		}) {
			t.Errorf("%s: no row has %s %s", row[1], row[2], row[3])
		}
	}
}

// From 5/8 in on the cap screws of ASME B18.2.1 are one and a half diameters wide; heavy nuts 1/8 in more.
func TestInchWidthsFollowTheRule(t *testing.T) {
	checked := 0
	for _, w := range Widths() {
		rule := 1.5 * w.Diameter
		switch {
		case w.Standard == "ASME B18.2.1" && w.Head == "hex" && w.Diameter > 15.8:
		case strings.Contains(w.Standard, "B18.2.6"):
			rule += millimetres("1/8", "in")
		default:
			continue
		}
		checked++
		if math.Abs(w.MM-rule) > 0.001 {
			t.Errorf("%s for %.2f mm: %.3f mm, the rule says %.3f mm", w.Standard, w.Diameter, w.MM, rule)
		}
	}
	if checked < 15 {
		t.Errorf("only %d widths", checked)
	}
}

func TestKeysAgreeWithASecondReading(t *testing.T) {
	for _, row := range second(t, "keys-second-reading.csv", 28) {
		d, _ := size(row[2])
		want := number(row[3])
		if !slices.ContainsFunc(Drives(), func(x Drive) bool {
			return x.Head == row[1] && x.Drive == "hexagon socket" && !x.Inch && x.Diameter == d && x.MM == want
		}) {
			t.Errorf("%s %s: no row has %s mm", row[1], row[2], row[3])
		}
	}
}

func TestFrictionHasALowAndAHighEnd(t *testing.T) {
	for _, f := range Frictions() {
		if f.Low <= 0 || f.High < f.Low || f.High > 1 || f.Source == "" {
			t.Errorf("%+v", f)
		}
	}
	// What is not stated takes in dry, oiled and zinc, and no source of theirs lies outside it.
	low, high := 1.0, 0.0
	for _, f := range Frictions() {
		if f.Condition == "not stated" {
			low, high = min(low, f.Low), max(high, f.High)
		}
	}
	for _, f := range Frictions() {
		if c := f.Condition; (c == "dry" || c == "oiled" || c == "zinc") && (f.Low < low || f.High > high) {
			t.Errorf("%s %v to %v lies outside %v to %v", c, f.Low, f.High, low, high)
		}
	}
}

func TestNutsGoWithBoltsOfTheirNumber(t *testing.T) {
	for _, row := range Open("nut-classes").Rows {
		first, _, _ := strings.Cut(row[1], ".")
		if row[0] != "class "+first {
			t.Errorf("%s goes with %s", row[0], row[1])
		}
	}
	if NutPartner("Class 8") != "8.8" || NutPartner("class 7") != "" {
		t.Error("the partner of a nut is not found by its class")
	}
}

func TestLimitsAreReadWithTheirUnits(t *testing.T) {
	if got := NumberSize(10); math.Abs(got-0.190*25.4) > 0.001 { // #10 is 0.190 in, ASME B1.1
		t.Errorf("#10 is %v mm", got)
	}
	if got := Limit("wrench from"); got != 0.2 {
		t.Errorf("a wrench is used from %v of its capacity", got)
	}
}

// A larger thread grips at least as hard, in each source; #10 is a number size, not ten inches.
func TestLockingNutsGripHarderWithTheirSize(t *testing.T) {
	type list struct{ kind, series string }
	last := map[list]LockingNut{}
	for _, n := range LockingNuts() {
		if n.Diameter > 40 || n.Pitch <= 0 {
			t.Errorf("%+v is no thread", n)
		}
		series := "coarse"
		if n.Pitch < n.Diameter/7.9 {
			series = "fine"
		}
		key := list{n.Kind, series}
		if before, ok := last[key]; ok && n.Diameter > before.Diameter && number(n.Least) < number(before.Least) {
			t.Errorf("%+v grips less than %+v", n, before)
		}
		last[key] = n
	}
	if len(last) < 3 {
		t.Errorf("only %d lists", len(last))
	}
}
