package hardware

import (
	"math/big"
	"strconv"
	"strings"

	"refitcard/compiler/quantity"
)

// recessPrefix reads the number of a driver, T30 or PH2, and gives its length.
func recessPrefix(s string) (Size, int) {
	if s == "" || s[0] != 'P' && s[0] != 'T' {
		return Size{}, 0
	}
	for _, p := range []struct {
		letters string
		system  System
	}{{"PH", CrossRecess}, {"PZ", CrossRecess}, {"T", Hexalobular}} {
		rest, ok := strings.CutPrefix(s, p.letters)
		n := 0
		for ok && n < len(rest) && isDigit(rest[n]) && n < 3 {
			n++
		}
		if ok && n > 0 && ends(rest[n:]) {
			number, _ := strconv.Atoi(rest[:n])
			return Size{System: p.system, Number: number, Typed: s[:len(p.letters)+n]}, len(p.letters) + n
		}
	}
	return Size{}, 0
}

// dual reads a pair of sizes as on a double-ended wrench, "16/17 mm", "10 × 13 mm", and gives the length. Sizes in mm have no
// fractions, so a stroke between them parts two ends.
func dual(s string) (sizes [2]float64, typed [2]string, unit *quantity.Unit, n int) {
	behind := behindFigure(s)
	if !strings.Contains(s[:len(s)-len(behind)], "/") && !strings.HasPrefix(behind, "×") && !strings.HasPrefix(behind, "x") && !strings.HasPrefix(behind, "and ") {
		return sizes, typed, nil, 0
	}
	a, i := quantity.NumberPrefix(s)
	if i == 0 {
		return sizes, typed, nil, 0
	}
	if first, second, ok := strings.Cut(a.Typed, "/"); ok {
		u, length := unitAfter(s[i:])
		f, isFirst := new(big.Rat).SetString(first)
		g, isSecond := new(big.Rat).SetString(second)
		if u != nil && u.Name == "mm" && isFirst && isSecond {
			sizes[0], _ = f.Float64()
			sizes[1], _ = g.Float64()
			return sizes, [2]string{first + " mm", second + " mm"}, u, i + length
		}
	}
	rest := strings.TrimLeft(s[i:], " ")
	for _, mark := range []string{"×", "x", "/", "and "} {
		tail, ok := strings.CutPrefix(rest, mark)
		tail = strings.TrimLeft(tail, " ")
		b, j := quantity.NumberPrefix(tail)
		if !ok || j == 0 {
			continue
		}
		if u, length := unitAfter(tail[j:]); u != nil && u.Kind == quantity.Length {
			sizes[0], _ = a.Rat.Float64()
			sizes[1], _ = b.Rat.Float64()
			return sizes, [2]string{a.Typed + " " + u.Name, b.Typed + " " + u.Name}, u, len(s) - len(tail) + j + length
		}
	}
	return sizes, typed, nil, 0
}

// lengthPrefix reads one exact length, also in the shop's way of writing inches, "1-1/8 in", and gives how long it is.
func lengthPrefix(s string) (Size, int) {
	v, n, p := quantity.Prefix(s)
	return asLength(s, v, n, p)
}

// asLength is lengthPrefix for what quantity.Prefix has read.
func asLength(s string, v quantity.Value, n int, p *quantity.Problem) (Size, int) {
	if s[0] == '-' || strings.HasPrefix(behindFigure(s), "-") {
		if size, n := inchSize(s); n > 0 && strings.Contains(s[:n], "-") {
			if u, length := unitAfter(s[n:]); u != nil && u.System == quantity.US && u.Kind == quantity.Length {
				factor, _ := u.Factor()
				f, _ := factor.Float64()
				return Size{MM: size * f * 1000, Typed: s[:n+length], Inch: true}, n + length
			}
		}
	}
	if n == 0 || p != nil || v.Unit.Kind != quantity.Length || v.Form != quantity.Exact {
		return Size{}, 0
	}
	return Size{MM: v.Float() * 1000, Typed: s[:n], Inch: v.Unit.System == quantity.US}, n
}

func unitAfter(s string) (*quantity.Unit, int) {
	gap := len(s) - len(strings.TrimLeft(s, " "))
	end := gap
	for end < len(s) && s[end] >= 'a' && s[end] <= 'z' {
		end++
	}
	u, ok := quantity.UnitNamed(s[gap:end])
	if !ok {
		return nil, 0
	}
	return u, end
}
