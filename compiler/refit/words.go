package refit

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/procedure"
)

// object is a part with its count as a tag takes it: "the end cover", "12 cover bolts", "a new cover gasket", "all ring screws".
func (x *op) object() string {
	p, fresh := x.Part, ""
	if x.New {
		fresh = "new "
	}
	switch {
	case x.mixed:
		return "all " + fresh + procedure.Plural(p.Name.Value)
	case p.Qty == 1 && x.New:
		return "a new " + p.Name.Value
	case p.Qty == 1:
		return "the " + p.Name.Value
	case x.N == 1:
		return "1 " + fresh + p.Name.Value
	}
	return fmt.Sprintf("%d %s%s", x.N, fresh, procedure.Plural(p.Name.Value))
}

// objects joins the parts of several acts of one kind.
func objects(list []*op) string {
	var words []string
	for _, x := range list {
		words = append(words, x.object())
	}
	return joinAnd(words)
}

func joinAnd(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// thing is what goes by name, with its count where it goes by count.
func (x *op) thing() string {
	if x.N > 1 {
		return fmt.Sprintf("%d %s", x.N, x.Typed)
	}
	return "the " + x.Typed
}

// count is how many units some acts turn.
func count(list []*op) (n int) {
	for _, x := range list {
		n += x.Part.Qty
	}
	return n
}

// pattern is the order in which four fasteners or more are tightened: that of the drawing where its figures fix one, else
// crosswise, in three passes (common practice, no source).
func pattern(p *procedure.Procedure, list []*op) string {
	if count(list) < 4 {
		return ""
	}
	for _, l := range p.Layouts {
		fixed := len(l.Places) > 0 && !slices.ContainsFunc(l.Places, func(q procedure.LayoutPlace) bool { return q.Order == 0 })
		if fixed && slices.Contains(l.Parts, list[0].Part) {
			return " in order in 3 passes"
		}
	}
	return " crosswise in 3 passes"
}

// value is the table's torque as a tag has it; empty where the variants have unequal ones, and for an angle alone.
func value(x *op) string {
	t := x.Part.Torque
	if t.Value == nil || slices.ContainsFunc(x.Part.Twins, func(q *procedure.Part) bool { return !sameTorque(x.Part, q) }) {
		return ""
	}
	return " to " + t.Value.Text
}

func sameTorque(p, q *procedure.Part) bool { return p.Torque.At.Text() == q.Torque.At.Text() }
