package document

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/assembly"
	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// thing is what verbs open, isolate or drain by name.
type thing struct {
	row   LedgerRow
	at    int
	key   string
	typed []string
	opens *verb.Verb
	fluid bool
	power bool
	first bool // closed before it was opened
	last  *verb.Verb
	most  int // of them that are open at once, as the ledger counts
}

// things adds the rows of what is opened, isolated and drained.
func (w *ledgerWriter) things() {
	var order []*thing
	known := map[string]*thing{}
	eachStep(w.in.Proc, w.play.Variant, func(s *procedure.Step) {
		col, _ := w.columnOf(s)
		for _, a := range s.Acts {
			if a.Broken || a.Verb == nil {
				continue
			}
			for i := range a.Objects {
				t := w.thing(a, &a.Objects[i])
				if t == nil {
					continue
				}
				if old, ok := known[t.key]; ok {
					t = old
				} else {
					known[t.key] = t
					order = append(order, t)
					t.typed = []string{a.Objects[i].Typed}
					t.first = a.Verb.Effect == verb.Close && t.opens.Pair != verb.Lift && t.stands(w.play.Start) == whole
				}
				t.act(a, &a.Objects[i], col)
			}
		}
	})
	for _, t := range order {
		for _, o := range order {
			if o != t && t.opens != nil && strings.EqualFold(o.typed[0], t.typed[0]) { // raised, and supported
				t.row.Thing = t.typed[0] + ", " + done(t.opens.Name)
			}
		}
		w.addThing(t)
	}
}

// thing gives the thing that an act opens, isolates or drains, nil for any other act.
func (w *ledgerWriter) thing(a *procedure.Act, o *procedure.Object) *thing {
	t := &thing{at: w.seq[a], row: LedgerRow{Thing: o.Typed, Count: "1"}}
	if o.Part != nil {
		t.row.Thing = o.Part.Name.Value
	}
	switch a.Verb.Effect {
	case verb.Open:
		t.opens = a.Verb
	case verb.Close:
		if t.opens = w.verbs.Opens(a.Verb); t.opens == nil {
			return nil
		}
	case verb.Isolate, verb.Restore:
		t.key, t.power = "power\x00"+o.Name, true
		return t
	case verb.Drain, verb.Fill:
		if o.Supply == nil {
			return nil
		}
		t.key, t.fluid = "fluid\x00"+procedure.Fold(o.Supply.Name.Value), true
		t.row.Thing, t.row.Count = o.Supply.Name.Value, ""
		if q := o.Supply.Quantity; q != nil {
			t.row.Count = q.Running()
		}
		return t
	default:
		return nil
	}
	t.key = t.opens.Name + "\x00" + o.Name
	return t
}

// act books one act upon a thing.
func (t *thing) act(a *procedure.Act, o *procedure.Object, col int) {
	if !slices.Contains(t.typed, o.Typed) {
		t.typed = append(t.typed, o.Typed)
	}
	away := a.Verb.Effect == verb.Open || a.Verb.Effect == verb.Isolate || a.Verb.Effect == verb.Drain
	if t.opens != nil && t.first {
		away = !away
	}
	kind := GoesBack
	if away {
		kind = ComesOff
	}
	t.last = a.Verb
	t.row.Marks = append(t.row.Marks, Mark{col, kind})
}

// stands tells whether a state holds the thing in another condition than it began in.
func (t *thing) stands(s assembly.State) condition {
	in := func(list []string) bool {
		return slices.ContainsFunc(list, func(n string) bool {
			return slices.Contains(t.typed, n) || t.fluid && strings.EqualFold(n, t.row.Thing)
		})
	}
	found := false
	switch {
	case t.power:
		found = in(s.Isolated)
	case t.fluid:
		found = in(s.Drained)
	default:
		for _, c := range s.Open {
			if slices.Contains(t.typed, c.Name) && (c.Why == t.opens.Name || slices.Contains(t.opens.UndoneBy, c.Why)) {
				found, t.most = true, max(t.most, c.Of)
			}
		}
	}
	if found {
		return away
	}
	return whole
}

func (w *ledgerWriter) addThing(t *thing) {
	t.row.Bars = w.bars(t.stands)
	open := t.stands(w.play.End) == away
	t.row.End = t.end(open)
	if open {
		if w.meant(t.key[strings.IndexByte(t.key, 0)+1:]) {
			t.row.Bars = w.keep(t.row.Bars)
			t.row.End += ", on purpose"
		} else {
			t.row.Fault = true
		}
	}
	if t.most > 1 {
		t.row.Count = fmt.Sprint(t.most)
	}
	w.rows = append(w.rows, orderedRow{t.row, t.at})
}

// end is the condition at the end in words.
func (t *thing) end(open bool) string {
	switch {
	case t.power && open:
		return "locked off"
	case t.power:
		return "restored"
	case t.fluid && open:
		return "drained"
	case t.fluid:
		return "filled"
	case open && t.first:
		return done(t.opens.UndoneBy[0])
	case open:
		return done(t.opens.Name)
	case t.opens.Pair == verb.Support && t.last != nil && t.last.Effect == verb.Open:
		return "taken away"
	case t.last != nil:
		return done(t.last.Name)
	}
	return "as it was"
}

// done gives the participle of a verb of one word: "closed", "withdrawn". Verbs of a shop's own follow the rule.
func done(v string) string {
	switch {
	case v == "withdraw":
		return "withdrawn"
	case v == "shut", v == "put", v == "set":
		return v
	case strings.HasSuffix(v, "e"):
		return v + "d"
	case strings.HasSuffix(v, "p") && len(v) < 6: // cap, uncap
		return v + "ped"
	}
	return v + "ed"
}

// meant tells whether the procedure leaves a thing so on purpose.
func (w *ledgerWriter) meant(name string) bool { return w.leaves[procedure.Fold(name)] }

// finding finds what a check of the ledger's end said of a thing.
func (w *ledgerWriter) finding(name string, rules ...string) *diag.Finding {
	for i := range w.in.Findings {
		f := &w.in.Findings[i]
		if slices.Contains(rules, f.Rule) && procedure.Fold(f.Thing) == procedure.Fold(name) &&
			(len(f.Variants) == 0 || slices.Contains(f.Variants, w.play.Variant)) {
			return f
		}
	}
	return nil
}
