package compare

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/procedure"
)

// objectTraits are the count and the age of an object. All that are declared is one count, however it is written.
func objectTraits(o *procedure.Object) []trait {
	count := field{"all", "all"}
	if o.Part != nil {
		count.shown = fmt.Sprint(o.Part.Qty)
	}
	switch {
	case o.Count == procedure.Remaining:
		count = field{"remaining", "the remaining ones"}
	case o.Count == procedure.Numbered && (o.Part == nil || o.N != o.Part.Qty):
		count = field{fmt.Sprint(o.N), fmt.Sprint(o.N)}
		if o.Part != nil {
			count.shown += fmt.Sprintf(" of %d", o.Part.Qty)
		}
	}
	age := field{"", "the one that came off"}
	switch {
	case o.New:
		age = field{"new", "new"}
	case o.Old:
		age = field{"old", "the old one"}
	}
	return []trait{{count, "count"}, {age, "age"}}
}

// torqueTraits are the value that an object gets, from the tag or else from the table, and the passes.
func torqueTraits(a *procedure.Act, o *procedure.Object) []trait {
	t := a.Torque
	if o.Part != nil && t.Value == nil && t.Angle == nil {
		t = o.Part.Torque
	}
	passes := field{"1", "in one pass"}
	if a.Passes.Count > 1 {
		passes = field{fmt.Sprint(a.Passes.Count), fmt.Sprintf("in %d passes", a.Passes.Count)}
		var figures []string
		unit := ""
		for i := range a.Passes.Values {
			passes.meaning += "\x00" + value(&a.Passes.Values[i], "").meaning
			var figure string
			figure, unit = a.Passes.Values[i].Boxed()
			figures = append(figures, figure)
		}
		if len(figures) > 0 {
			passes.shown = "in passes of " + strings.Join(figures, ", ") + " " + unit
		}
	}
	order := a.Order
	if order == "" {
		order = "in no given order"
	}
	return []trait{{torque(t), "torque"}, {passes, "passes"}, {field{a.Order, order}, "order"}}
}

// traits are what an act of any kind may say beside its objects.
func (r *reader) traits(a *procedure.Act) []trait {
	var all []trait
	add := func(label string, f field) {
		if f.meaning != "" {
			all = append(all, trait{f, label})
		}
	}
	add("amount", value(a.Amount, "no amount"))
	if a.Pieces > 0 {
		add("pieces", field{fmt.Sprint(a.Pieces), fmt.Sprint(a.Pieces)})
	}
	add("limit", value(a.Limit, "no limit"))
	if a.Places > 1 {
		add("places", field{fmt.Sprint(a.Places), fmt.Sprintf("at %d places", a.Places)})
	}
	bare, _ := unnumbered(a.Else)
	add("else", field{gist(bare), "else " + cut(a.Else)})
	add("detail", field{r.detail(a.Detail), cut(a.Detail)})
	return all
}

// detail is the gist of the words behind the objects, without the names of parts.
func (r *reader) detail(s string) string {
	return strings.Join(slices.DeleteFunc(strings.Fields(gist(s)), func(w string) bool { return r.known[w] }), " ")
}
