package quantity

import (
	"math/big"
	"strings"
)

// Number is a figure as it was typed, with its exact value.
type Number struct {
	Typed    string
	Rat      *big.Rat
	Decimals int // digits behind the point, 0 for whole numbers and fractions
}

// NumberPrefix reads the number at the start of s: "22", "22.5", "1/4", "1 1/2", "-5", "−5". n is 0 when none stands there.
// A point is decimal only before a digit and not beside another point, so "3..5" begins with 3.
func NumberPrefix(s string) (Number, int) {
	i := 0
	negative := false
	switch {
	case strings.HasPrefix(s, "−"):
		negative, i = true, len("−")
	case strings.HasPrefix(s, "-"):
		negative, i = true, 1
	}
	whole := digitsAt(s[i:])
	if whole == 0 {
		return Number{}, 0
	}
	end, decimals := i+whole, 0
	num := s[i:end]
	var value *big.Rat
	switch {
	case fractionAt(s[end:]) > 0: // 1/4
		n := fractionAt(s[end:])
		if value = fraction(num, s[end+1:end+n]); value == nil {
			return Number{}, 0
		}
		end += n
	case mixedAt(s[end:]) > 0: // 1 1/2
		n := mixedAt(s[end:])
		top, bottom, _ := strings.Cut(s[end+1:end+n], "/")
		if value = fraction(top, bottom); value == nil {
			return Number{}, 0
		}
		value = Added(value, rat(num))
		end += n
	default:
		if end+1 < len(s) && s[end] == '.' {
			if d := digitsAt(s[end+1:]); d > 0 {
				decimals = d
				end += 1 + d
			}
		}
		if len(s[i:end]) > 40 {
			return Number{}, 0 // no figure of a workshop
		}
		value = decimal(num, s[end-decimals:end], s[i:end])
	}
	if negative {
		value = negated(value)
	}
	return Number{s[:end], value, decimals}, end
}

func digitsAt(s string) int {
	n := 0
	for n < len(s) && '0' <= s[n] && s[n] <= '9' {
		n++
	}
	return n
}

// fractionAt gives the length of "/4" at the start of s.
func fractionAt(s string) int {
	if len(s) < 2 || s[0] != '/' {
		return 0
	}
	if d := digitsAt(s[1:]); d > 0 {
		return 1 + d
	}
	return 0
}

// mixedAt gives the length of " 1/2" at the start of s.
func mixedAt(s string) int {
	if len(s) < 4 || s[0] != ' ' {
		return 0
	}
	top := digitsAt(s[1:])
	if top == 0 {
		return 0
	}
	if f := fractionAt(s[1+top:]); f > 0 {
		return 1 + top + f
	}
	return 0
}

// fraction is a common fraction, nil for one that no workshop writes.
func fraction(top, bottom string) *big.Rat {
	if len(top) > 9 || len(bottom) > 9 || strings.Trim(bottom, "0") == "" {
		return nil
	}
	return ratio(small(top), small(bottom))
}

// decimal is a figure with its digits before and behind the point; whole is all of it as typed.
func decimal(before, behind, whole string) *big.Rat {
	if len(before)+len(behind) > 18 {
		return rat(whole)
	}
	scale := ten(len(behind))
	return ratio(small(before)*scale+small(behind), scale)
}

// ten is a power of ten, up to 18.
func ten(power int) int64 {
	n := int64(1)
	for range power {
		n *= 10
	}
	return n
}

// small is the value of up to 18 digits.
func small(digits string) (n int64) {
	for i := range len(digits) {
		n = n*10 + int64(digits[i]-'0')
	}
	return n
}

// ulp is one unit of the last place that was typed; for a fraction, one of its denominator.
func (n Number) ulp() *big.Rat {
	if strings.Contains(n.Typed, "/") {
		return new(big.Rat).SetFrac(big.NewInt(1), n.Rat.Denom())
	}
	if n.Decimals <= 18 {
		return ratio(1, ten(n.Decimals))
	}
	return new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(n.Decimals)), nil))
}

// unsigned drops the point and the sign of a figure.
var unsigned = strings.NewReplacer(".", "", "-", "", "−", "")

// figures counts the significant figures as typed: leading zeros do not count, trailing ones do.
func (n Number) figures() int {
	if strings.Contains(n.Typed, "/") {
		return 3
	}
	digits := strings.TrimLeft(unsigned.Replace(n.Typed), "0")
	return max(len(digits), 1)
}

// rounded prints r with the given significant figures, never in exponents, and gives it back as a Number.
func rounded(r *big.Rat, figures int) Number {
	if r.Sign() == 0 {
		return Number{"0", new(big.Rat), 0}
	}
	abs := new(big.Rat).Abs(r)
	magnitude := 0 // digits before the point; 0 and below for values under one
	for one := big.NewRat(1, 1); abs.Cmp(one) >= 0; one.Mul(one, big.NewRat(10, 1)) {
		magnitude++
	}
	if magnitude == 0 {
		for one := big.NewRat(1, 10); abs.Cmp(one) < 0; one.Mul(one, big.NewRat(1, 10)) {
			magnitude--
		}
	}
	decimals := max(figures-magnitude, 0)
	text := r.FloatString(decimals)
	if over := magnitude - figures; over > 0 { // 1234 with two figures is 1200
		scale := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(over)), nil))
		text = rat(new(big.Rat).Quo(r, scale).FloatString(0)).Mul(rat(new(big.Rat).Quo(r, scale).FloatString(0)), scale).FloatString(0)
	}
	// Rounding up may have grown a digit: 9.96 with two figures is 10, not 10.0.
	if n := (Number{Typed: text}); decimals > 0 && n.figures() > figures {
		decimals--
		text = r.FloatString(decimals)
	}
	return Number{text, rat(text), decimals}
}

func add(a, b Number) *big.Rat { return Added(a.Rat, b.Rat) }

func sub(a, b Number) *big.Rat { return Added(a.Rat, negated(b.Rat)) }
