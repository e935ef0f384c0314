package document

import (
	"slices"

	"refitcard/compiler/assembly"
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
