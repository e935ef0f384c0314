package rules

import "math/big"

// Float gives a number as the nearest float. Figures of an ordinary size cost no memory.
func Float(r *big.Rat) float64 {
	const exact = 1 << 53 // whole numbers up to here are floats
	if n := r.Num(); n.IsInt64() && -exact <= n.Int64() && n.Int64() <= exact {
		if r.IsInt() {
			return float64(n.Int64())
		}
		if d := r.Denom(); d.IsInt64() && d.Int64() <= exact {
			return float64(n.Int64()) / float64(d.Int64())
		}
	}
	f, _ := r.Float64()
	return f
}

// Within tells whether numbers from least to most lie between two limits for certain; nil is a limit that is open. Where that is
// a near thing it says no: then exact figures have to tell.
func Within(least, most float64, low, high *big.Rat) bool {
	near := 1e-9 * (max(least, -least) + max(most, -most))
	return (low == nil || least > Float(low)+near) && (high == nil || most < Float(high)-near)
}
