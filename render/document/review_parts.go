package document

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/assembly"
	"refitcard/compiler/procedure"
)

// parts adds the rows of the declared parts. A part that is renewed has two: the old one and the new one.
func (w *ledgerWriter) parts() {
	for _, p := range w.in.Proc.Parts {
		if !p.In(w.play.Variant) {
			continue
		}
		var moves []assembly.Move
		for _, m := range w.play.Moves {
			if m.Part == p {
				moves = append(moves, m)
			}
		}
		name := procedure.Fold(p.Name.Value)
		byName := slices.ContainsFunc(w.rows, func(r orderedRow) bool {
			thing, _, _ := strings.Cut(r.Thing, ", ")
			return procedure.Fold(thing) == name
		})
		switch {
		case len(moves) == 0 && byName:
			// It is opened, raised or disconnected by name: that row tells of it.
		case p.Use == procedure.ReplaceUse:
			w.renewed(p, moves)
		default:
			w.kept(p, moves)
		}
	}
}

func countOf(p *procedure.Part) string {
	if p.UpTo {
		return fmt.Sprintf("up to %d", p.Qty)
	}
	return fmt.Sprint(p.Qty)
}

func (w *ledgerWriter) firstAt(moves []assembly.Move) int {
	if len(moves) == 0 {
		return untouched
	}
	return w.seq[moves[0].Act]
}

// find gives what a state says of a part in one of its lists.
func find(list []assembly.Counted, p *procedure.Part) *assembly.Counted {
	for i := range list {
		if list[i].Part == p {
			return &list[i]
		}
	}
	return nil
}

// partCondition is how a part stands in a state.
func partCondition(p *procedure.Part) func(assembly.State) condition {
	return func(s assembly.State) condition {
		switch {
		case find(s.Off, p) != nil:
			return away
		case find(s.Loose, p) != nil:
			return loose
		}
		return whole
	}
}

// marks turns the moves of a part into marks. A turn is marked only where nothing else happens to the part in the step.
func (w *ledgerWriter) marks(moves []assembly.Move) []Mark {
	var marks []Mark
	for _, m := range moves {
		col, ok := w.columnOf(m.Step)
		if !ok {
			continue
		}
		switch m.To {
		case "off":
			marks = append(marks, Mark{col, ComesOff})
		case "on":
			marks = append(marks, Mark{col, GoesBack})
		case "scrap":
			marks = append(marks, Mark{col, Scrapped})
		default:
			marks = append(marks, Mark{col, Turned})
		}
	}
	var kept []Mark
	for _, m := range marks {
		covered := m.Kind == Turned && slices.ContainsFunc(marks, func(o Mark) bool { return o.Column == m.Column && o.Kind != Turned })
		again := len(kept) > 0 && kept[len(kept)-1] == m // another unit of it in the same step
		if !covered && !again {
			kept = append(kept, m)
		}
	}
	return kept
}

// kept adds the row of a part that has one: all but those that are renewed.
func (w *ledgerWriter) kept(p *procedure.Part, moves []assembly.Move) {
	row := LedgerRow{Thing: p.Name.Value, Count: countOf(p), Marks: w.marks(moves), Bars: w.bars(partCondition(p))}
	w.closePart(&row, p, len(moves) > 0)
	w.rows = append(w.rows, orderedRow{row, w.firstAt(moves)})
}

// closePart works out how a part stands at the end, and whether that is a fault.
func (w *ledgerWriter) closePart(row *LedgerRow, p *procedure.Part, moved bool) {
	name := p.Name.Value
	off, slack := find(w.play.End.Off, p), find(w.play.End.Loose, p)
	f := w.finding(name, "refit/left-loose", "refit/not-torqued", "torque/differs-from-table")
	wrong := w.finding(name, "part/use-differs", "refit/old-part-back")
	switch {
	case p.Use == procedure.Omit && off != nil && off.N >= off.Of:
		row.End, row.Bars = "off, as meant", w.keep(row.Bars)
	case p.Use == procedure.Omit:
		row.End, row.Fault, row.Bars = "still on", true, []Bar{{-1, len(w.after), false}}
		if off != nil {
			row.End = portion(off, "off")
		}
	case wrong != nil && p.Use == procedure.Add:
		row.End, row.Fault, row.Bars = "never fitted", true, []Bar{{-1, len(w.after), false}}
	case off != nil && w.meant(name):
		row.End, row.Bars = portion(off, "off")+", on purpose", w.keep(row.Bars)
	case off != nil:
		row.End, row.Fault = portion(off, "off"), true
	case slack != nil && (w.meant(name) || f != nil && f.Waived != ""):
		row.End, row.Bars = portion(slack, looseWord(slack.Why))+", on purpose", w.keep(row.Bars)
	case slack != nil && f == nil:
		row.End, row.Bars = "on, held otherwise", w.keep(row.Bars)
	case slack != nil:
		row.End, row.Fault = portion(slack, looseWord(slack.Why)), true
	case p.UpTo:
		row.End = "as needed"
	case !moved:
		row.End = "not touched"
	default:
		row.End = onWords(w, p)
	}
}

// portion says how many of how many, where it is not all of them.
func portion(c *assembly.Counted, word string) string {
	if c.N >= c.Of {
		return word
	}
	return fmt.Sprintf("%d of %d %s", c.N, c.Of, word)
}

func looseWord(grip string) string {
	switch grip {
	case "in":
		return "in, not tight"
	case "stage":
		return "short of its torque"
	case "tight":
		return "tight, no torque"
	}
	return grip // slack, hand-tight
}

// onWords says how a part that is back on is tightened.
func onWords(w *ledgerWriter, p *procedure.Part) string {
	a := w.play.Last[p]
	switch t := p.Torque; {
	case a != nil && a.Torque.Value != nil:
		return "on, " + bare(a, p)
	case a != nil && t.Value != nil:
		return "on, " + bare(nil, p)
	case t.HandTight:
		return "on, hand-tight"
	}
	return "on"
}

// bare is the torque without its second unit, from the act or else from the table.
func bare(a *procedure.Act, p *procedure.Part) string {
	v := p.Torque.Value
	if a != nil {
		v = a.Torque.Value
	}
	figure, unit := v.Boxed()
	return figure + " " + unit
}

// renewed adds the rows of a part that is scrapped and renewed. The old one is scrapped where it comes off, unless it goes back.
func (w *ledgerWriter) renewed(p *procedure.Part, moves []assembly.Move) {
	old := LedgerRow{Thing: "old " + p.Name.Value, Count: countOf(p), End: "scrapped"}
	fresh := LedgerRow{Thing: "new " + p.Name.Value, Count: countOf(p)}
	oldAt, newAt := untouched, untouched
	olds, news := p.Qty, 0
	var oldMoves, newMoves []assembly.Move
	note := func(list *[]assembly.Move, at *int, m assembly.Move) {
		*list = append(*list, m)
		*at = min(*at, w.seq[m.Act])
	}
	for _, m := range moves {
		switch {
		case m.To == "off" && olds > 0:
			olds -= min(m.N, olds)
			note(&oldMoves, &oldAt, m)
		case m.To == "on" && m.New:
			if m.Act.Verb.Name == "replace" {
				out := m
				out.To = "off"
				note(&oldMoves, &oldAt, out)
				olds = max(olds-m.N, 0)
			}
			news += m.N
			note(&newMoves, &newAt, m)
		case m.To == "on":
			olds += m.N
			note(&oldMoves, &oldAt, m)
		case m.To == "scrap":
			note(&oldMoves, &oldAt, m)
		case news > 0:
			note(&newMoves, &newAt, m)
		default:
			note(&oldMoves, &oldAt, m)
		}
	}
	old.Marks = crossed(w.marks(oldMoves))
	fresh.Marks = w.marks(newMoves)
	w.endRenewed(p, &old, &fresh, olds, news)
	w.rows = append(w.rows, orderedRow{old, oldAt}, orderedRow{fresh, newAt})
}

// crossed puts a cross behind each old one that comes off and does not go back; an act that discards it later adds nothing.
func crossed(marks []Mark) []Mark {
	var out []Mark
	for i, m := range marks {
		if m.Kind == Scrapped {
			continue
		}
		out = append(out, m)
		back := slices.ContainsFunc(marks[i+1:], func(o Mark) bool { return o.Kind == GoesBack })
		if m.Kind == ComesOff && !back {
			out = append(out, Mark{m.Column, Scrapped})
		}
	}
	return out
}

// endRenewed works out the ends of both rows.
func (w *ledgerWriter) endRenewed(p *procedure.Part, old, fresh *LedgerRow, olds, news int) {
	for _, b := range w.bars(partCondition(p)) {
		if b.Hollow {
			fresh.Bars = append(fresh.Bars, b)
		}
	}
	off := find(w.play.End.Off, p)
	switch {
	case w.finding(p.Name.Value, "refit/old-part-back") != nil && len(old.Marks) > 0:
		old.End, old.Fault = "old one back on", true
		fresh.End = "never fitted"
		if n := len(old.Marks); n > 0 {
			old.Bars = []Bar{{old.Marks[n-1].Column, len(w.after), false}}
		}
	case olds >= p.Qty && news == 0 && !w.meant(p.Name.Value):
		old.End, fresh.End = "still on", "never fitted"
		old.Fault, old.Bars = true, []Bar{{-1, len(w.after), false}}
	case off != nil && w.meant(p.Name.Value):
		fresh.End = portion(off, "off") + ", on purpose"
	case off != nil:
		fresh.End, fresh.Fault = portion(off, "off"), true
		from := -1
		if n := len(old.Marks); n > 0 {
			from = old.Marks[0].Column
		}
		fresh.Bars = []Bar{{from, len(w.after), false}}
	default:
		w.closePart(fresh, p, true)
	}
}
