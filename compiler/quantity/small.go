package quantity

import (
	"cmp"
	"math"
	"math/big"
	"math/bits"
)

// Nearly every figure of a workshop is a whole number of a few digits, or a short decimal. Rationals of such are reckoned here in
// machine words; what does not fit is left to math/big, which takes several pieces of memory for each step.

// shared is how many whole numbers, from 0, have one Rat for all: what a value holds is only read.
const shared = 256

var wholes = func() (all [shared]big.Rat) {
	for i := range all {
		all[i].SetInt64(int64(i))
	}
	return all
}()

// parts gives a rational in machine words; ok is false when it does not fit.
func parts(r *big.Rat) (num, den int64, ok bool) {
	if !r.Num().IsInt64() {
		return 0, 0, false
	}
	if r.IsInt() {
		return r.Num().Int64(), 1, true
	}
	return r.Num().Int64(), r.Denom().Int64(), r.Denom().IsInt64()
}

// half is what ratio begins from: the denominator of a whole number could not be set.
var half = *big.NewRat(1, 2)

// ratio makes num/den, with den above 0. It may be one that others have too.
func ratio(num, den int64) *big.Rat {
	common := den
	for n := num % den; n != 0; {
		common, n = n, common%n
	}
	if common = max(common, -common); common > 1 {
		num, den = num/common, den/common
	}
	switch {
	case den == 1 && 0 <= num && num < shared:
		return &wholes[num]
	case bits.UintSize < 64:
		return big.NewRat(num, den)
	case den == 1:
		made := &struct { // in one piece of memory
			rat  big.Rat
			word [1]big.Word
		}{word: [1]big.Word{big.Word(size(num))}}
		made.rat.Num().SetBits(made.word[:])
		if num < 0 {
			made.rat.Num().Neg(made.rat.Num())
		}
		return &made.rat
	}
	made := &struct { // in one piece of memory
		rat   big.Rat
		words [2]big.Word
	}{half, [2]big.Word{big.Word(size(num)), big.Word(den)}}
	made.rat.Num().SetBits(made.words[0:1:1])
	made.rat.Denom().SetBits(made.words[1:2:2])
	if num < 0 {
		made.rat.Num().Neg(made.rat.Num())
	}
	return &made.rat
}

// size is a number without its sign.
func size(n int64) uint64 { return uint64(max(n, -n)) }

// times multiplies; ok is false when the product does not fit.
func times(a, b int64) (c int64, ok bool) {
	high, low := bits.Mul64(size(a), size(b))
	return a * b, high == 0 && low < 1<<62
}

// multiplied is a × b.
func multiplied(a, b *big.Rat) *big.Rat {
	n, d, ok := parts(a)
	m, e, fine := parts(b)
	if ok && fine {
		num, ok := times(n, m)
		den, fine := times(d, e)
		if ok && fine {
			return ratio(num, den)
		}
	}
	return new(big.Rat).Mul(a, b)
}

// Added is a + b, and takes no memory beside the sum for figures of an ordinary size. It may be one that others have too.
func Added(a, b *big.Rat) *big.Rat {
	n, d, ok := parts(a)
	m, e, fine := parts(b)
	if ok && fine {
		left, ok := times(n, e)
		right, fine := times(m, d)
		den, fits := times(d, e)
		if ok && fine && fits { // each below 2⁶², so that the sum fits
			return ratio(left+right, den)
		}
	}
	return new(big.Rat).Add(a, b)
}

// negated is -r.
func negated(r *big.Rat) *big.Rat {
	if n, d, ok := parts(r); ok && n > math.MinInt64 {
		return ratio(-n, d)
	}
	return new(big.Rat).Neg(r)
}

// Compare is a.Cmp(b), and takes no memory for figures of an ordinary size.
func Compare(a, b *big.Rat) int {
	n, d, ok := parts(a)
	m, e, fine := parts(b)
	switch {
	case !ok || !fine:
		return a.Cmp(b)
	case (n < 0) != (m < 0):
		return cmp.Compare(n, m)
	}
	high, low := bits.Mul64(size(n), size(e))
	above, below := bits.Mul64(size(m), size(d))
	order := cmp.Compare(high, above)
	if order == 0 {
		order = cmp.Compare(low, below)
	}
	if n < 0 {
		return -order
	}
	return order
}

// Float is the float that is nearest to r, and takes no memory for figures of an ordinary size.
func Float(r *big.Rat) float64 {
	const exact = 1 << 53 // floats hold each whole number up to it; their quotient is rounded once
	if num, den, ok := parts(r); ok && size(num) <= exact && den <= exact {
		return float64(num) / float64(den)
	}
	f, _ := r.Float64()
	return f
}
