package stack

import (
	"math"
	"math/big"
	"strconv"
	"testing"

	"refitcard/compiler/reference"
)

// The published sums come out: worst case and root sum of squares, row by row of the table (its head names the sources).
func TestPublishedSumsComeOut(t *testing.T) {
	examples := reference.StackExamples()
	if len(examples) < 3 {
		t.Fatalf("only %d examples", len(examples))
	}
	for _, e := range examples {
		t.Run(e.Name, func(t *testing.T) {
			if e.Source == "" || len(e.Nominals) != len(e.Tolerances) {
				t.Fatalf("the row has no source, or %d sizes and %d tolerances", len(e.Nominals), len(e.Tolerances))
			}
			var pieces []piece
			for i := range e.Nominals {
				pieces = append(pieces, piece{number(t, e.Nominals[i]), number(t, e.Tolerances[i]), 1})
			}
			got := add(pieces)
			nominal, _ := got.nominal.Float64()
			worst, _ := got.worst.Float64()
			for _, x := range []struct {
				what, want string
				got        float64
			}{
				{"nominal", e.Nominal, nominal},
				{"worst case", e.Worst, worst},
				{"root sum of squares", e.RSS, got.root},
				{"published nominal", e.PublishedNominal, nominal},
				{"published worst case", e.PublishedWorst, worst},
				{"published root", e.PublishedRSS, got.root},
			} {
				if x.want != "" && !printsAs(x.got, x.want) {
					t.Errorf("%s is %g, the table has %s", x.what, x.got, x.want)
				}
			}
		})
	}
}

// printsAs tells whether a figure is what was printed, within half a unit of the last place that was printed.
func printsAs(got float64, printed string) bool {
	want, err := strconv.ParseFloat(printed, 64)
	decimals := 0
	for i := range printed {
		if printed[i] == '.' {
			decimals = len(printed) - i - 1
		}
	}
	return err == nil && math.Abs(got-want) <= 0.5*math.Pow10(-decimals)+1e-12
}

func number(t *testing.T, s string) *big.Rat {
	t.Helper()
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		t.Fatalf("%q is no number", s)
	}
	return r
}
