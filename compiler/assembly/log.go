package assembly

import (
	"slices"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// event is a change of a part, for what has to be known of later acts.
type event struct {
	at   int
	part *procedure.Part
	what verb.Effect
	deed deed
}

// later tells whether an event of a kind for a part comes behind a moment, with none of the others between.
func (l *ledger) later(at int, part *procedure.Part, what []verb.Effect, unless ...verb.Effect) (event, bool) {
	for _, list := range [...][]event{l.past, l.log} {
		for _, e := range list {
			if e.at <= at || e.part != part {
				continue
			}
			if slices.Contains(unless, e.what) {
				return event{}, false
			}
			if slices.Contains(what, e.what) {
				return e, true
			}
		}
	}
	return event{}, false
}

func (l *ledger) note(g *group, what verb.Effect, o *procedure.Object) {
	g.touched, g.last = true, deed{l.act, o}
	l.log = append(l.log, event{l.clock, g.part, what, g.last})
}

// backward gives the events from the last to the first.
func (l *ledger) backward(yield func(event) bool) {
	for _, list := range [...][]event{l.log, l.past} {
		for _, e := range slices.Backward(list) {
			if !yield(e) {
				return
			}
		}
	}
}

func (l *ledger) moved(g *group, n int, to string, fresh bool) {
	if n > 0 && !l.silent { // of the other way of a branch nobody asks for the moves
		l.play.Moves = append(l.play.Moves, Move{Act: l.act, Step: l.step, Part: g.part, N: n, To: to, New: fresh})
	}
}
