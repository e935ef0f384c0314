package resolve

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// torqueAct reads `torque`: objects, then value, angle, order and passes in any order, once each.
func (r *resolver) torqueAct(a *procedure.Act, raw syntax.Raw) {
	o := &objects{r: r, raw: raw, t: r.tokens(raw), act: a, fits: isPart, kind: "part"}
	i := o.read1(0)
	if a.Broken || i > len(o.t) {
		return
	}
	at := len(raw.Text)
	if i < len(o.t) {
		at = o.t[i].start
	}
	a.Torque.At = a.At
	var detail []string
	for at < len(raw.Text) && !a.Broken {
		n := r.torqueWord(a, raw, at)
		if n == 0 { // a word of detail
			word := raw.Text[at:]
			if end := strings.IndexByte(word, ' '); end >= 0 {
				word = word[:end+1]
			}
			detail = append(detail, strings.TrimSpace(word))
			n = len(word)
		}
		at += n
	}
	a.Detail = strings.TrimSpace(strings.Join(detail, " "))
	if !a.Broken {
		r.passValues(a)
		r.valueSomewhere(a)
	}
}

// torqueWord reads one of the clauses at an offset of the tag; 0 when none stands there.
func (r *resolver) torqueWord(a *procedure.Act, raw syntax.Raw, at int) int {
	s := raw.Text[at:]
	switch {
	case s[0] == ' ' || s[0] == ',':
		return 1
	case hasWord(s, "to") && a.Torque.Value == nil:
		return r.toValue(a, raw, at)
	case hasWord(s, "then") && a.Torque.Angle == nil:
		return r.thenAngle(a, s)
	case hasWord(s, "in passes of"):
		return r.passesOf(a, raw, at)
	case hasWord(s, "in order"), hasWord(s, "crosswise"), hasWord(s, "from the centre"), hasWord(s, "from the center"):
		for _, w := range []string{"in order", "crosswise", "from the centre", "from the center"} {
			if hasWord(s, w) {
				a.Order, a.OrderAt = strings.ReplaceAll(w, "center", "centre"), raw.At(at, at+len(w))
				return len(w)
			}
		}
	case hasWord(s, "in"):
		return passesIn(a, raw, at)
	}
	return 0
}

func hasWord(s, word string) bool {
	return len(s) >= len(word) && strings.EqualFold(s[:len(word)], word) && (len(s) == len(word) || s[len(word)] == ' ' || s[len(word)] == ',')
}

func (r *resolver) toValue(a *procedure.Act, raw syntax.Raw, at int) int {
	rest, skip := trimLeft(raw.Text[at+2:])
	skip += 2
	if ang := strings.HasPrefix(rest, "hand-tight") || strings.HasPrefix(rest, "hand tight"); ang {
		return 0
	}
	v, n, bad := quantity.Prefix(rest)
	if bad != nil {
		r.problem(bad, raw, at+skip)
		a.Broken = true
		return skip
	}
	if n == 0 {
		if num, k := quantity.NumberPrefix(rest); k > 0 { // a figure and no unit, or one that nobody knows
			end := k
			if more, s := trimLeft(rest[k:]); more != "" {
				word, _, _ := strings.Cut(more, " ")
				end = k + s + len(word)
			}
			_ = num
			r.fault("tag/bad-quantity", raw.At(at+skip, at+skip+end), rest[:end], "a torque, such as 22 N·m")
			a.Broken = true
			return skip + end
		}
		return 0
	}
	if v.Unit.Kind == quantity.Angle { // "to 90°" is an angle
		a.Torque.Angle = &v
		return skip + n
	}
	if !r.isTorque(&v, raw.At(at+skip, at+skip+n), rest[:n]) {
		a.Broken = true
	}
	a.Torque.Value, a.Torque.Written = &v, true
	a.Torque.At = raw.At(at+skip, at+skip+n)
	return skip + n
}

func (r *resolver) thenAngle(a *procedure.Act, s string) int {
	rest, skip := trimLeft(s[len("then"):])
	skip += len("then")
	for n := len(rest); n > 0; n = strings.LastIndexAny(rest[:n], " ,") {
		if v := angle(strings.Trim(rest[:n], " ,")); v != nil {
			a.Torque.Angle = v
			return skip + n
		}
	}
	return 0
}

// passesIn reads "in 3 passes".
func passesIn(a *procedure.Act, raw syntax.Raw, at int) int {
	s := raw.Text[at:]
	words := strings.Fields(s)
	if len(words) < 3 || !strings.HasPrefix(strings.ToLower(words[2]), "pass") {
		return 0
	}
	n, ok := countOf(strings.ToLower(words[1]))
	if !ok || n < 1 || n > 20 {
		return 0
	}
	end := strings.Index(s, words[2]) + len(strings.TrimRight(words[2], ",;."))
	a.Passes = procedure.Passes{At: raw.At(at, at+end), Count: n}
	return end
}

// passesOf reads "in passes of 8, 15 and 22 N·m": a comma between figures parts them here.
func (r *resolver) passesOf(a *procedure.Act, raw syntax.Raw, at int) int {
	const head = "in passes of"
	rest, skip := trimLeft(raw.Text[at+len(head):])
	pos := at + len(head) + skip
	var numbers []quantity.Number
	end := 0
	for {
		n, k := quantity.NumberPrefix(rest[end:])
		if k == 0 {
			break
		}
		numbers = append(numbers, n)
		end += k
		next := end
		for _, sep := range []string{", and ", ", ", " and ", ","} {
			if strings.HasPrefix(rest[end:], sep) {
				next = end + len(sep)
				break
			}
		}
		if next == end || next >= len(rest) || !isDigit(rest[next]) {
			break
		}
		end = next
	}
	var unit *quantity.Unit
	last := ""
	if len(numbers) > 0 {
		last = numbers[len(numbers)-1].Typed
	}
	v, n, bad := quantity.Prefix(rest[max(end-len(last), 0):])
	if bad == nil && n > 0 {
		unit = v.Unit
		end = end - len(last) + n
	}
	if len(numbers) == 0 || unit == nil || unit.Kind != quantity.Torque {
		r.fault("tag/bad-quantity", raw.At(at, len(raw.Text)), raw.Text[at:], "figures and a unit, such as in passes of 8, 15, 22 N·m")
		a.Broken = true
		return len(raw.Text) - at
	}
	a.Passes = procedure.Passes{At: raw.At(at, pos+end), Count: len(numbers)}
	for _, num := range numbers {
		a.Passes.Values = append(a.Passes.Values, quantity.Exactly(num, unit))
	}
	return pos + end - at
}

// passValues holds written passes against each other and the value.
func (r *resolver) passValues(a *procedure.Act) {
	values := a.Passes.Values
	for i := 1; i < len(values); i++ {
		if quantity.Cmp(values[i], values[i-1]) <= 0 {
			r.fault("torque/passes", a.Passes.At, a.Passes.At.Text(), "falls", values[i].Running())
			a.Broken = true
			return
		}
	}
	if len(values) == 0 {
		return
	}
	last := values[len(values)-1]
	target := a.Torque.Value
	if target == nil {
		for _, o := range a.Objects {
			if o.Part != nil && o.Part.Torque.Value != nil {
				target = o.Part.Torque.Value
			}
		}
	}
	if target == nil {
		a.Torque.Value, a.Torque.Written, a.Torque.At = &last, true, a.Passes.At
		return
	}
	low, high := target.SI()
	if m := last.Middle(); low != nil && m.Cmp(low) < 0 || high != nil && m.Cmp(high) > 0 {
		r.fault("torque/passes", a.Passes.At, a.Passes.At.Text(), "last", target.Running())
		a.Broken = true
	}
}

// valueSomewhere reports a torque of a part that has none, neither in the tag nor in the table.
func (r *resolver) valueSomewhere(a *procedure.Act) {
	if a.Torque.Value != nil || a.Torque.Angle != nil || a.Verb.Effect != verb.DoTorque {
		return
	}
	for _, o := range a.Objects {
		if p := o.Part; p != nil && p.Torque.Value == nil && p.Torque.Angle == nil && !p.Torque.BySetting {
			f := r.fault("tag/missing-quantity", o.At, a.Verb.Name, o.Typed)
			f.Thing = p.Name.Value
			a.Broken = true
			return
		}
	}
}
