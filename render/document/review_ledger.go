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

// Ledger is what is off, loose, drained, open or locked after each step: a row a thing, a column a step.
type Ledger struct {
	Variant string   // empty when the procedure has none
	Steps   []string // names of the columns
	Rows    []LedgerRow
}

// LedgerRow is one thing through the job.
type LedgerRow struct {
	Thing string
	Count string // "12", "1.4 L"
	Marks []Mark // in order
	Bars  []Bar
	End   string // in words: "on, 22 N·m", "2 of 12 off"
	Fault bool   // it is not as it should be at the end
}

// MarkKind is what happens to a thing in a step.
type MarkKind int

// The marks.
const (
	ComesOff MarkKind = iota // comes off, is opened, drained or locked
	GoesBack                 // goes on, is closed, filled or unlocked
	Scrapped
	Turned // loosened or tightened, and in all the time
)

// Mark is one event. Column counts from 0.
type Mark struct {
	Column int
	Kind   MarkKind
}

// Bar is a stretch of steps after which a thing is not as in a whole machine: from the middle of column From to that of
// column To. From -1: since before the first step. To beyond the last column: it runs off the right edge.
type Bar struct {
	From, To int
	Hollow   bool // in, but not tight
}

// ledgerWriter makes one ledger.
type ledgerWriter struct {
	in     ReviewInput
	play   assembly.Play
	verbs  *verb.Table
	column map[int]int // number of a step → column
	after  []assembly.State
	seq    map[*procedure.Act]int
	rows   []orderedRow
	leaves map[string]bool // folded names of what is left so on purpose
}

type orderedRow struct {
	LedgerRow
	at int // when it was first handled
}

// untouched comes behind all that is handled.
const untouched = 1 << 30

func newLedger(in ReviewInput, play assembly.Play) Ledger {
	w := &ledgerWriter{
		in: in, play: play, verbs: verbsOf(in.Settings), column: map[int]int{}, seq: map[*procedure.Act]int{}, leaves: map[string]bool{},
	}
	l := Ledger{Variant: play.Variant}
	eachStep(in.Proc, play.Variant, func(s *procedure.Step) {
		if s.Parent == nil {
			w.column[s.Number] = len(l.Steps)
			l.Steps = append(l.Steps, s.Name())
		}
		for _, a := range s.Acts {
			w.seq[a] = len(w.seq)
		}
	})
	w.left()
	w.states(len(l.Steps))
	w.things()
	w.parts()
	slices.SortStableFunc(w.rows, func(a, b orderedRow) int { return a.at - b.at })
	for _, r := range w.rows {
		l.Rows = append(l.Rows, r.LedgerRow)
	}
	return l
}

// left gathers the names of what the front matter leaves so. A part that is left off takes along what holds and clamps it.
func (w *ledgerWriter) left() {
	for _, a := range w.in.Proc.Leaves {
		for _, o := range a.Objects {
			w.leaves[o.Name] = true
			if o.Part == nil {
				continue
			}
			w.leaves[procedure.Fold(o.Part.Name.Value)] = true
			for _, f := range w.in.Proc.Parts {
				holds := func(r procedure.Relation) bool {
					return r.Part == o.Part && (r.Kind == procedure.Holds || r.Kind == procedure.Clamps)
				}
				if a.Verb.Effect == verb.Remove && slices.ContainsFunc(f.Places, holds) {
					w.leaves[procedure.Fold(f.Name.Value)] = true
				}
			}
		}
	}
}

// states lists the state after each column; a step that was not played on this way leaves it as it was.
func (w *ledgerWriter) states(n int) {
	w.after = make([]assembly.State, n)
	known := make([]bool, n)
	for _, s := range w.play.After {
		if i, ok := w.columnOf(s.Step); ok && s.Step.Parent == nil {
			w.after[i], known[i] = s, true
		}
	}
	last := w.play.Start
	for i := range w.after {
		if !known[i] {
			w.after[i] = last
		}
		last = w.after[i]
	}
}

func (w *ledgerWriter) columnOf(s *procedure.Step) (int, bool) {
	if s == nil {
		return 0, false
	}
	i, ok := w.column[s.Number]
	return i, ok
}

// condition is how a thing stands after a step.
type condition int

const (
	whole condition = iota
	away            // off, open, drained, locked
	loose           // in, and not tight
)

// bars turns conditions after each column into stretches. start is the condition before the first.
func (w *ledgerWriter) bars(is func(assembly.State) condition) []Bar {
	var bars []Bar
	now, from := is(w.play.Start), -1
	for i, s := range w.after {
		next := is(s)
		if next == now {
			continue
		}
		if now != whole {
			bars = append(bars, Bar{from, i, now == loose})
		}
		now, from = next, i
	}
	if now != whole {
		bars = append(bars, Bar{from, len(w.after), now == loose})
	}
	return bars
}

// keep ends a bar at the last step: what is left so on purpose does not run off the edge.
func (w *ledgerWriter) keep(bars []Bar) []Bar {
	for i := range bars {
		bars[i].To = min(bars[i].To, len(w.after)-1)
	}
	return bars
}

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
