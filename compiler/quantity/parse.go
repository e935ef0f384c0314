package quantity

import (
	"strings"
	"unicode/utf8"
)

// Problem is a quantity that can't be taken as written. Fault is the name of its finding; Start and End are bytes of the
// string that was read. Words are what the finding's sentence needs: what was typed first, then what to type.
type Problem struct {
	Fault      string
	Start, End int
	Words      []string
}

// Parse reads s as one quantity, all of it; a second one in brackets may follow.
func Parse(s string) (Value, *Problem) { return whole(s, Prefix) }

// ParseLimit is Parse, and takes "at least" and "at most" before the quantity too.
func ParseLimit(s string) (Value, *Problem) { return whole(s, LimitPrefix) }

func whole(s string, prefix func(string) (Value, int, *Problem)) (Value, *Problem) {
	start := len(s) - len(strings.TrimLeft(s, " \u00a0"))
	body := strings.TrimRight(s[start:], " \u00a0")
	v, n, p := prefix(body)
	if p != nil {
		p.Start, p.End = p.Start+start, p.End+start
		return Value{}, p
	}
	if n == 0 || n < len(body) {
		return Value{}, &Problem{"tag/bad-quantity", start, start + len(body), []string{body, "a number and a unit, such as 22 N·m"}}
	}
	return v, nil
}

// LimitPrefix is Prefix, and takes "at least" and "at most" too.
func LimitPrefix(s string) (Value, int, *Problem) {
	for _, w := range []struct {
		words string
		form  Form
	}{{"at least", AtLeast}, {"at most", AtMost}} {
		if len(s) <= len(w.words) || !strings.EqualFold(s[:len(w.words)], w.words) || !spaceAt(s[len(w.words):]) {
			continue
		}
		skip := len(w.words) + spaces(s[len(w.words):])
		v, n, p := Prefix(s[skip:])
		if p != nil {
			p.Start, p.End = p.Start+skip, p.End+skip
			return Value{}, 0, p
		}
		if n == 0 || v.Form != Exact {
			return Value{}, 0, nil
		}
		v.Form, v.Text = w.form, s[:skip+n]
		if w.form == AtLeast {
			v.High = Number{}
		} else {
			v.Low = Number{}
		}
		if v.Second != nil {
			v.Second.Form, v.Second.Low, v.Second.High = v.Form, second(v.Low, v.Second.Low), second(v.High, v.Second.High)
		}
		return v, skip + n, nil
	}
	return Prefix(s)
}

// second opens the side of the second value that is open in the first.
func second(first, n Number) Number {
	if first.Rat == nil {
		return Number{}
	}
	return n
}

// Prefix reads the longest quantity at the start of s: number and unit, range or tolerance, and a second quantity in
// brackets. n is its length in bytes; with n 0 and no problem none stands there.
func Prefix(s string) (v Value, n int, p *Problem) {
	v, n, p = single(s)
	if n == 0 || p != nil {
		return v, n, p
	}
	rest := s[n:]
	open := spaces(rest)
	if open >= len(rest) || rest[open] != '(' {
		return v, n, nil
	}
	inner := open + 1 + spaces(rest[open+1:])
	w, m, bad := single(rest[inner:])
	if bad != nil {
		bad.Start, bad.End = bad.Start+n+inner, bad.End+n+inner
		return Value{}, 0, bad
	}
	end := inner + m + spaces(rest[inner+m:])
	if m == 0 || end >= len(rest) || rest[end] != ')' {
		return v, n, nil // brackets about something else
	}
	if !v.Agrees(w) {
		right := w.Text
		if w.Unit.Kind == v.Unit.Kind {
			right = v.In(w.Unit).Running()
		}
		return Value{}, 0, &Problem{"tag/dual-mismatch", n + inner, n + inner + m, []string{v.Text, w.Text, right}}
	}
	n += end + 1
	v.Second, v.Text = &w, s[:n]
	return v, n, nil
}

// single reads one quantity without a second one.
func single(s string) (Value, int, *Problem) {
	first, n := NumberPrefix(s)
	if n == 0 {
		return Value{}, 0, nil
	}
	if p := comma(s, 0, n); p != nil {
		return Value{}, 0, p
	}
	unit, un, p := unitAt(s, n)
	if p != nil {
		return Value{}, 0, p
	}
	if m, w := spread(s[n+un:]); m > 0 {
		return bounded(s, first, unit, n+un, m, w, Tolerance)
	}
	if m, w := rangeMark(s[n+un:]); m > 0 {
		v, k, p := bounded(s, first, unit, n+un, m, w, Range)
		if k > 0 || p != nil {
			return v, k, p
		}
	}
	if unit == nil {
		return Value{}, 0, nil
	}
	return Value{Form: Exact, Nominal: first, Low: first, High: first, Unit: unit, Text: s[:n+un]}, n + un, nil
}

// bounded reads the second figure of a range or a tolerance: at is where its mark begins, mark how long that is with its spaces.
func bounded(s string, first Number, unit *Unit, at, mark int, _ string, form Form) (Value, int, *Problem) {
	start := at + mark
	other, n := NumberPrefix(s[start:])
	if n == 0 {
		return Value{}, 0, nil
	}
	if p := comma(s, start, n); p != nil {
		return Value{}, 0, p
	}
	last, un, p := unitAt(s, start+n)
	if p != nil {
		return Value{}, 0, p
	}
	if last == nil {
		if unit == nil || form == Range {
			return Value{}, 0, nil
		}
		last, un = unit, 0
	}
	if unit == nil {
		unit = last
	}
	end := start + n + un
	if unit.Kind != last.Kind {
		return Value{}, 0, &Problem{"tag/bad-quantity", 0, end, []string{s[:end], "one unit for both figures"}}
	}
	v := Value{Form: form, Unit: last, Text: s[:end]}
	if unit != last { // 900 mm to 1 m: both in the last unit
		first = rounded(last.from(unit.to(first.Rat)), max(first.figures(), 2))
	}
	if form == Tolerance {
		v.Nominal, v.Spread = first, other
		v.Low = Number{Typed: "", Rat: sub(first, other), Decimals: max(first.Decimals, other.Decimals)}
		v.High = Number{Typed: "", Rat: add(first, other), Decimals: v.Low.Decimals}
		v.Low.Typed, v.High.Typed = v.Low.Rat.FloatString(v.Low.Decimals), v.High.Rat.FloatString(v.High.Decimals)
		return v, end, nil
	}
	v.Low, v.High = first, other
	if Compare(first.Rat, other.Rat) > 0 {
		return Value{}, 0, &Problem{"tag/reversed-range", 0, end, []string{s[:end], join(other.Typed+".."+first.Typed, last)}}
	}
	return v, end, nil
}

// comma finds a decimal comma behind the number that ends at start+n, and offers the spelling with a point.
func comma(s string, start, n int) *Problem {
	end := start + n
	if end+1 >= len(s) || s[end] != ',' || digitsAt(s[end+1:]) == 0 {
		return nil
	}
	stop := end + 1 + digitsAt(s[end+1:])
	return &Problem{"tag/decimal-comma", start, stop, []string{s[start:stop], s[start:end] + "." + s[end+1:stop]}}
}

// unitAt finds the unit behind a number that ends at n; the length takes in the space before it.
func unitAt(s string, n int) (*Unit, int, *Problem) {
	gap := spaces(s[n:])
	rest := s[n+gap:]
	if bad, likely, other := badTorque(rest); bad > 0 {
		return nil, 0, &Problem{"torque/bad-unit", n + gap, n + gap + bad, []string{s[:n] + " " + rest[:bad], likely, other}}
	}
	u, un := unitPrefix(rest)
	if u == nil {
		return nil, 0, nil
	}
	return u, gap + un, nil
}

// badTorque knows the spellings that are no unit of torque and are written for one.
func badTorque(s string) (n int, likely, other string) {
	if i := strings.IndexByte(s[:min(len(s), 4)], '/'); i < 1 {
		return 0, "", "" // each has its stroke behind one to three letters
	}
	for _, b := range []struct{ typed, likely, other string }{
		{"ft/lbs", "lbf·ft", "lbf·in"},
		{"ft/lb", "lbf·ft", "lbf·in"},
		{"in/lbs", "lbf·in", "lbf·ft"},
		{"in/lb", "lbf·in", "lbf·ft"},
		{"lbs/ft", "lbf·ft", "lbf·in"},
		{"lb/ft", "lbf·ft", "lbf·in"},
		{"lb/in", "lbf·in", "lbf·ft"},
		{"N/m", "N·m", "cN·m"},
		{"Nm/m", "N·m", "cN·m"},
		{"kg/m", "kgf·m", "N·m"},
		{"kg/cm", "kgf·cm", "N·m"},
	} {
		if len(s) >= len(b.typed) && strings.EqualFold(s[:len(b.typed)], b.typed) && !runsOn(s[len(b.typed):]) {
			return len(b.typed), b.likely, b.other
		}
	}
	return 0, "", ""
}

// TorqueUnit says whether a unit is one of torque; for a mass or a force written for one it gives the two units that it may stand for.
func TorqueUnit(u *Unit) (ok bool, likely, other string) {
	switch {
	case u == nil:
		return false, "N·m", "lbf·ft"
	case u.Kind == Torque:
		return true, "", ""
	case u.Name == "lb" || u.Name == "lbf":
		return false, "lbf·ft", "lbf·in"
	case u.Name == "kg" || u.Name == "kgf":
		return false, "kgf·m", "N·m"
	}
	return false, "N·m", "lbf·ft"
}

// spread gives the length of "±" at the start of s with the spaces about it.
func spread(s string) (int, string) { return markAt(s, "±", "+/-", "+-") }

// rangeMark gives the length of the mark of a range with its spaces: "..", "–", "to", "-" before a number.
func rangeMark(s string) (int, string) {
	if n, w := markAt(s, "...", "..", "…", "–", "—"); n > 0 {
		return n, w
	}
	gap := spaces(s)
	if gap > 0 && strings.HasPrefix(s[gap:], "to") && spaceAt(s[gap+2:]) {
		if n := gap + 2 + spaces(s[gap+2:]); n < len(s) && startsNumber(s[n:]) {
			return n, "to"
		}
	}
	if n, w := markAt(s, "-"); n > 0 {
		return n, w
	}
	return 0, ""
}

func markAt(s string, marks ...string) (int, string) {
	gap := spaces(s)
	for _, m := range marks {
		if rest, ok := strings.CutPrefix(s[gap:], m); ok {
			n := gap + len(m) + spaces(rest)
			if n < len(s) && startsNumber(s[n:]) {
				return n, m
			}
		}
	}
	return 0, ""
}

func startsNumber(s string) bool {
	return digitsAt(s) > 0 || (strings.HasPrefix(s, "-") && digitsAt(s[1:]) > 0) || (strings.HasPrefix(s, "−") && digitsAt(s[len("−"):]) > 0)
}

// spaces counts the bytes of spaces and no-break spaces at the start of s.
func spaces(s string) int {
	n := 0
	for n < len(s) {
		r, size := utf8.DecodeRuneInString(s[n:])
		if r != ' ' && r != '\t' && r != '\u00a0' && r != '\u202f' && r != '\u2009' {
			break
		}
		n += size
	}
	return n
}

func spaceAt(s string) bool { return spaces(s) > 0 }
