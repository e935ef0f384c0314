package quantity

import "testing"

func TestReadAndPrint(t *testing.T) {
	for _, c := range []struct{ in, running, figure, unit string }{
		{"22 N·m", "22 N·m", "22", "N·m"},
		{"22Nm", "22 N·m", "22", "N·m"},
		{"20..24 N·m", "20 to 24 N·m", "20–24", "N·m"},
		{"22 ±2 N·m", "22 ±2 N·m", "22 ±2", "N·m"},
		{"12..18 mm", "12 to 18 mm", "12–18", "mm"},
		{"5–50 N·m", "5 to 50 N·m", "5–50", "N·m"},
		{"0.05–1 mm", "0.05 to 1 mm", "0.05–1", "mm"},
		{"1/2 in", "1/2 in", "1/2", "in"},
		{"1 1/2 in", "1 1/2 in", "1 1/2", "in"},
		{"16 ft-lb", "16 lbf·ft", "16", "lbf·ft"},
		{"22 N·m (16 lbf·ft)", "22 N·m (16 lbf·ft)", "22", "N·m"},
		{"90°", "90°", "90", "°"},
		{"10 min", "10 min", "10", "min"},
		{"3.0 ±0.05 mm", "3.0 ±0.05 mm", "3.0 ±0.05", "mm"},
		{"900 mm to 1.20 m", "0.900 to 1.20 m", "0.900–1.20", "m"},
		{"at least 3 bar", "at least 3 bar", "≥ 3", "bar"},
		{"-5 to 20 °C", "-5 to 20 °C", "-5–20", "°C"},
	} {
		v, p := ParseLimit(c.in)
		if p != nil {
			t.Errorf("%q: %+v", c.in, *p)
			continue
		}
		figure, unit := v.Boxed()
		if v.Running() != c.running || figure != c.figure || unit != c.unit {
			t.Errorf("%q: %q %q %q", c.in, v.Running(), figure, unit)
		}
	}
}

func TestPrefixStops(t *testing.T) {
	for in, n := range map[string]int{
		"3..5 mm.": 7, "12 cover bolts": 0, "22 N·m crosswise": len("22 N·m"), "4 places": 0, "3 to the left": 0,
		"10 minutes later": 10, "22 N·m (see note)": len("22 N·m"), "12 in the housing": 5, "5-7 mm": 6, "3.5 bar, else": 7,
	} {
		if _, got, p := Prefix(in); got != n || p != nil {
			t.Errorf("%q: %d bytes, want %d (%v)", in, got, n, p)
		}
	}
}

func TestProblems(t *testing.T) {
	for in, want := range map[string][3]string{
		"2,5 mm":             {"tag/decimal-comma", "2,5", "2.5"},
		"5..3 mm":            {"tag/reversed-range", "5..3 mm", "3..5 mm"},
		"22 ft/lb":           {"torque/bad-unit", "22 ft/lb", "lbf·ft"},
		"22 N·m (25 lbf·ft)": {"tag/dual-mismatch", "22 N·m", "25 lbf·ft"},
		"22":                 {"tag/bad-quantity", "22", "a number and a unit, such as 22 N·m"},
	} {
		_, p := Parse(in)
		if p == nil || p.Fault != want[0] || p.Words[0] != want[1] || p.Words[1] != want[2] {
			t.Errorf("%q: %+v", in, p)
		}
	}
}

func TestSecondUnitKeepsTheFigures(t *testing.T) {
	for _, c := range [][3]string{
		{"22 N·m", "lbf·ft", "16"},
		{"25 N·m", "lbf·ft", "18"},
		{"7 N·m", "lbf·ft", "5.2"},
		{"1.4 L", "qt", "1.5"},
		{"150 N·m", "lbf·ft", "111"},
		{"16 lbf·ft", "N·m", "22"},
		{"1/2 in", "mm", "12.7"},
		{"1234 N·m", "lbf·ft", "910.2"},
		{"1820 lbf·ft", "N·m", "2468"},
		{"0.05 mm", "in", "0.0020"},
		{"99.9 °C", "°F", "212"},
		{"13.6 N·m", "lbf·ft", "10.0"},
		{"10 bar", "psi", "150"},
	} {
		v, p := Parse(c[0])
		if p != nil {
			t.Fatal(c[0], *p)
		}
		u, ok := UnitNamed(c[1])
		if got, _ := v.In(u).Boxed(); !ok || got != c[2] {
			t.Errorf("%s in %s: %s, want %s", c[0], c[1], got, c[2])
		}
	}
}
