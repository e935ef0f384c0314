package quantity

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// TestSmallRationalsAreReckonedAsLargeOnes holds what is reckoned in machine words against math/big, about the bounds too.
func TestSmallRationalsAreReckonedAsLargeOnes(t *testing.T) {
	edges := []int64{0, 1, 2, 3, 10, shared - 1, shared, 1 << 31, 1<<53 - 1, 1 << 53, 1<<53 + 1, 1<<62 - 1, 1 << 62, math.MaxInt64, math.MinInt64, -1, -7, -shared}
	r := rand.New(rand.NewPCG(1, 2))
	pick := func() int64 {
		n := edges[r.IntN(len(edges))]
		if r.IntN(2) == 0 {
			n = r.Int64N(1000) - 500
		}
		return n
	}
	for range 100_000 {
		n, m := pick(), pick()
		d, e := max(pick(), 1), max(pick(), 1)
		a, b := big.NewRat(n, d), big.NewRat(m, e)
		if n != math.MinInt64 {
			if got := ratio(n, d); got.Cmp(a) != 0 || got.String() != a.String() || got.Sign() != a.Sign() {
				t.Fatalf("%d/%d is %s", n, d, got)
			}
		}
		if got, want := multiplied(a, b), new(big.Rat).Mul(a, b); got.Cmp(want) != 0 || got.String() != want.String() {
			t.Fatalf("%s × %s is %s, want %s", a, b, got, want)
		}
		if got, want := Added(a, b), new(big.Rat).Add(a, b); got.Cmp(want) != 0 || got.String() != want.String() {
			t.Fatalf("%s + %s is %s, want %s", a, b, got, want)
		}
		if got, want := negated(a), new(big.Rat).Neg(a); got.Cmp(want) != 0 || got.String() != want.String() {
			t.Fatalf("less %s is %s", a, got)
		}
		if got, want := Compare(a, b), a.Cmp(b); got != want {
			t.Fatalf("%s against %s is %d, want %d", a, b, got, want)
		}
		want, _ := a.Float64()
		if got := Float(a); got != want {
			t.Fatalf("%s is %v, want %v", a, got, want)
		}
	}
	for i := range wholes {
		if wholes[i].Cmp(big.NewRat(int64(i), 1)) != 0 {
			t.Errorf("the whole number %d has become %s", i, &wholes[i])
		}
	}
	if half.Cmp(big.NewRat(1, 2)) != 0 {
		t.Errorf("the half has become %s", &half)
	}
}
