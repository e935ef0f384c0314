package safety

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"refitcard/compiler/reference"
)

// The published examples of the lifting equation come out, row by row of lifting.csv, whose rows name the source of each:
// the Canadian Centre for Occupational Health and Safety, and DHHS (NIOSH) 94-110 for those in pounds (read from memory, as
// their status says). The sources round each multiplier, or take it from a coarser table; what that does to the result is
// checked apart: the product of the printed multipliers within half a unit of the last figure printed, and the exact
// equation within 2.5 %.
func TestPublishedLiftsComeOut(t *testing.T) {
	examples := reference.LiftingExamples()
	if len(examples) < 9 {
		t.Fatalf("only %d examples", len(examples))
	}
	for _, e := range examples {
		t.Run(e.Name, func(t *testing.T) {
			l := reference.MetricLifting()
			if e.Unit == "lb" {
				l = reference.USLifting()
			}
			if e.Source == "" || len(e.Multipliers) != 6 {
				t.Fatalf("the row has the source %q and %d multipliers", e.Source, len(e.Multipliers))
			}
			want := number(t, e.Limit)
			product := l.LC
			for _, m := range e.Multipliers {
				product *= number(t, m)
			}
			if math.Abs(product-want) > 0.0501+0.0025*want { // one row is printed 0.06 above its own product
				t.Errorf("the printed multipliers make %.2f, printed is %s", product, e.Limit)
			}
			height := number(t, e.V)
			x := lift{reach: number(t, strings.TrimPrefix(e.H, "about ")), from: height, to: height + number(t, e.D), turn: number(t, e.A), grip: e.Coupling, hours: 1}
			switch e.PerMinute {
			case "5/h":
				x.minutely = 5.0 / 60
			case "<0.2":
				x.minutely = 0.1
			default:
				x.minutely = number(t, e.PerMinute)
			}
			if got := atHeight(l, x, height); math.Abs(got-want)/want > 0.025 {
				t.Errorf("the equation gives %.2f %s, published is %s", got, e.Unit, e.Limit)
			}
			exact := []float64{reachShare(l, x.reach), heightShare(l, height), wayShare(l, number(t, e.D)), turnShare(l, x.turn), l.Frequency(x.minutely, 1, height), l.Coupling(e.Coupling, height)}
			for i, m := range e.Multipliers {
				if math.Abs(exact[i]-number(t, m)) > 0.034 {
					t.Errorf("multiplier %d is %.3f, printed is %s", i+1, exact[i], m)
				}
			}
		})
	}
}

// The figures that the program uses are those of the formulas as printed.
func TestParametersAreThoseOfTheFormulas(t *testing.T) {
	formulas := reference.LiftingFormulas()
	for system, l := range map[string]reference.Lifting{"metric": reference.MetricLifting(), "US": reference.USLifting()} {
		for _, x := range []struct {
			formula string
			figures []float64
		}{
			{"HM", []float64{l.HLeast, l.HLeast, l.HMost}}, {"VM", []float64{l.VSlope, l.VBest, l.VMost}}, {"DM", []float64{l.DFloor, l.DShare, l.DLeast, l.DMost}},
		} {
			text := formulas[x.formula+" "+system]
			found := regexp.MustCompile(`\d+(\.\d+)?`).FindAllString(text, -1)
			for _, want := range x.figures {
				ok := false
				for _, f := range found {
					ok = ok || number(t, f) == want
				}
				if !ok || want == 0 {
					t.Errorf("%s %s: %g is not in %q", x.formula, system, want, text)
				}
			}
		}
	}
	if am := formulas["AM metric"]; !strings.Contains(am, "0.0032") || !strings.Contains(am, "135") || reference.MetricLifting().ASlope != 0.0032 || reference.USLifting().AMost != 135 {
		t.Errorf("AM: %q", am)
	}
}

// Beyond the ends of the tables nothing may be lifted; between two rows the multiplier lies between theirs.
func TestFrequencyBetweenAndBeyondTheRows(t *testing.T) {
	l := reference.MetricLifting()
	for _, x := range []struct{ perMinute, hours, height, want float64 }{
		{0.1, 1, 50, 1}, {0.2, 8, 50, 0.85}, {0.75, 1, 50, 0.955}, {9, 8, 50, 0}, {9, 8, 100, 0.15}, {20, 1, 100, 0},
	} {
		if got := l.Frequency(x.perMinute, x.hours, x.height); math.Abs(got-x.want) > 1e-9 {
			t.Errorf("%g a minute for %g h at %g cm: %g, want %g", x.perMinute, x.hours, x.height, got, x.want)
		}
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatalf("%q is no number", s)
	}
	return f
}
