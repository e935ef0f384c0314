package tightening

import (
	"math/big"

	"refitcard/compiler/quantity"
)

// Passes gives the value of each of n passes up to a torque, in its unit: two are 70 and 100 per cent, three 30, 60 and 100
// (ASME PCC-1 and US Army TM 5-3805-298-23-2 WP 0176, alternative B), more are equal parts. All but the last are rounded to what a wrench can be set
// to; the last is the torque as it was written.
func Passes(n int, torque quantity.Value) []quantity.Value {
	if n < 1 {
		return nil
	}
	middle := torque.Middle()
	var out []quantity.Value
	for k := 1; k < n; k++ {
		part := new(big.Rat).Mul(middle, share(k, n))
		out = append(out, rounded(part, torque.Unit))
	}
	return append(out, torque)
}

// share is what part of the torque pass k of n is.
func share(k, n int) *big.Rat {
	switch {
	case n == 2:
		return big.NewRat(70, 100)
	case n == 3:
		return big.NewRat(int64(30*k), 100)
	}
	return big.NewRat(int64(k), int64(n))
}

// rounded gives a value to the nearest whole unit; under ten units to the nearest half.
func rounded(si *big.Rat, u *quantity.Unit) quantity.Value {
	factor, _ := u.Factor()
	value := new(big.Rat).Quo(si, factor)
	steps := int64(1)
	if value.Cmp(big.NewRat(10, 1)) < 0 {
		steps = 2
	}
	whole, _ := new(big.Rat).Mul(value, big.NewRat(steps, 1)).Float64()
	n := int64(whole + 0.5)
	r := big.NewRat(max(n, 1), steps)
	text := r.FloatString(0)
	if !r.IsInt() {
		text = r.FloatString(1)
	}
	number, _ := quantity.NumberPrefix(text)
	return quantity.Exactly(number, u)
}
