package quantity

import (
	"encoding/csv"
	"math"
	"math/big"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// ours names the units of testdata/units.csv as the language spells them; those that it has no word for are missing.
var ours = map[string]string{
	"lbf*ft": "lbf·ft", "lbf*in": "lbf·in", "ozf*in": "ozf·in", "kgf*m": "kgf·m", "kgf*cm": "kgf·cm", "cN*m": "cN·m", "N*m": "N·m",
	"N": "N", "lbf": "lbf", "kgf": "kgf", "psi": "psi", "ksi": "ksi", "bar": "bar", "kgf/cm2": "kgf/cm²", "inHg": "inHg", "kPa": "kPa", "MPa": "MPa",
	"in": "in", "ft": "ft", "mil": "thou", "um": "µm", "mm": "mm", "gal_us": "gal", "qt_us": "qt", "pt_us": "pt", "floz_us": "fl oz", "L": "L",
	"lb": "lb", "oz": "oz", "kg": "kg", "hp": "hp", "W": "W", "degF": "°F", "degC": "°C", "K": "K",
}

// unsaid are the rows that the language has no unit for; rpm and deg are counted in turns and degrees, the table in radians.
var unsaid = map[string]bool{
	"dN*m": true, "kip": true, "atm": true, "gal_imp": true, "qt_imp": true, "pt_imp": true, "floz_imp": true, "in3": true, "rpm": true, "deg": true, "delta_degF": true,
}

// between gives factor and offset from one unit to another, worked out from the factors to the unit of reference.
func between(t *testing.T, from, to string) (factor, offset float64) {
	t.Helper()
	a, okA := UnitNamed(from)
	b, okB := UnitNamed(to)
	if !okA || !okB || a.Kind != b.Kind {
		t.Fatalf("no way from %q to %q", from, to)
	}
	fa, oa := a.Factor()
	fb, ob := b.Factor()
	factor, _ = new(big.Rat).Quo(fa, fb).Float64()
	offset, _ = new(big.Rat).Quo(new(big.Rat).Sub(oa, ob), fb).Float64()
	return factor, offset
}

// Factors against NIST SP 811, appendix B.8; how far its rows were read stands at the head of the file.
func TestFactorsAgreeWithTheTable(t *testing.T) {
	f, err := os.Open("testdata/units.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	tested := 0
	for _, row := range rows[1:] {
		name, to := row[0], row[3]
		if unsaid[name] {
			continue
		}
		if ours[name] == "" {
			t.Errorf("the row %q is neither tested nor left out", name)
			continue
		}
		tested++
		factor, offset := between(t, ours[name], ours[to])
		for i, got := range map[int]float64{4: factor, 6: offset} {
			want, ok := new(big.Rat).SetString(row[i])
			if !ok {
				t.Fatalf("%s: %q is no number", name, row[i])
			}
			w, _ := want.Float64()
			if math.Abs(got-w) > 1e-14*math.Max(1, math.Abs(w))*10 {
				t.Errorf("%s to %s: %.17g, the table has %s", name, to, got, row[i])
			}
		}
		if printed, ok := new(big.Rat).SetString(row[7]); ok {
			w, _ := printed.Float64()
			_, decimals, _ := strings.Cut(row[7], ".")
			if half := 0.5000001 * math.Pow10(-len(decimals)); math.Abs(factor-w) > half {
				t.Errorf("%s to %s: %.10g, SP 811 prints %s", name, to, factor, row[7])
			}
		}
	}
	if tested < 28 {
		t.Errorf("only %d rows were tested", tested)
	}
}

// gnu names our units in the words of GNU units.
var gnu = [][4]string{
	{"lbf·ft", "N·m", "lbf ft", "N m"},
	{"lbf·in", "N·m", "lbf in", "N m"},
	{"ozf·in", "N·m", "oz force in", "N m"},
	{"kgf·m", "N·m", "kgf m", "N m"},
	{"psi", "bar", "psi", "bar"},
	{"kgf/cm²", "bar", "kgf/cm^2", "bar"},
	{"MPa", "psi", "MPa", "psi"},
	{"in", "mm", "in", "mm"},
	{"thou", "µm", "mil", "micron"},
	{"yd", "m", "yd", "m"},
	{"mile", "km", "mile", "km"},
	{"gal", "L", "usgallon", "L"},
	{"qt", "L", "usquart", "L"},
	{"pt", "mL", "uspint", "mL"},
	{"fl oz", "mL", "usfloz", "mL"},
	{"lb", "kg", "lb", "kg"},
	{"oz", "g", "oz", "g"},
	{"t", "lb", "tonne", "lb"},
	{"lbf", "N", "lbf", "N"},
	{"kgf", "kN", "kgf", "kN"},
	{"hp", "kW", "hp", "kW"},
	{"mph", "m/s", "mph", "m/s"},
	{"ft/min", "m/min", "ft/min", "m/min"},
	{"km/h", "mm/s", "km/hour", "mm/s"},
	{"gpm", "L/min", "usgallon/min", "L/min"},
	{"m³/h", "L/s", "m^3/hour", "L/s"},
	{"in²", "mm²", "in^2", "mm^2"},
	{"days", "min", "day", "min"},
	{"weeks", "h", "week", "hour"},
	{"turn", "°", "turn", "degree"},
	{"kΩ", "MΩ", "kohm", "Mohm"},
	{"cL", "mL", "cL", "mL"},
}

// Factors against GNU units, a program of its own with its own table.
func TestFactorsAgreeWithGNUUnits(t *testing.T) {
	program, err := exec.LookPath("units")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("GNU units is not installed")
		}
		t.Skip("GNU units is not installed, so the factors are checked against the table alone")
	}
	for _, g := range gnu {
		out, err := exec.Command(program, "-t", "-o", "%.15g", g[2], g[3]).Output()
		if err != nil {
			t.Errorf("units %q %q: %v", g[2], g[3], err)
			continue
		}
		want, ok := new(big.Rat).SetString(strings.TrimSpace(string(out)))
		if !ok {
			t.Errorf("units %q %q: %s", g[2], g[3], out)
			continue
		}
		w, _ := want.Float64()
		if got, _ := between(t, g[0], g[1]); math.Abs(got-w) > 1e-12*w {
			t.Errorf("%s to %s: %.15g, GNU units has %.15g", g[0], g[1], got, w)
		}
	}
}
