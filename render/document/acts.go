package document

import (
	"fmt"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// acts turns a step into paragraphs with their boxes, and its hold and handover into blocks at their places.
func (w *writer) acts(s *procedure.Step) []Act {
	all := segments(s)
	out := make([]Act, 0, len(all)+1)
	for _, g := range all {
		a := Act{Runs: opening(trim(closed(boldRuns(g.runs)))), Tick: true, At: g.at(s)}
		if wordless(a.Runs) {
			continue
		}
		if g.act == nil && s.Hold.Set() {
			continue // "to see both pins": the words stand in the hold
		}
		if g.act != nil {
			w.fill(&a, g.act, s)
		}
		if a.Tick {
			w.boxes++
		}
		out = append(out, a)
	}
	if s.Hold.Set() {
		h := holdOf(s)
		h.Line = w.record.Lines.hold(s.Name())
		out = append(out, Act{Hold: &h, At: s.HoldAt})
	}
	if s.Handover.Known() {
		out = append(out, Act{Handover: w.handover(s), At: s.Handover})
	}
	if len(out) == 0 {
		// A step that only says what to wear, or what is to be done later, still says so at its place: a number that is
		// missing looks like a lost page.
		for _, t := range s.Wear {
			out = append(out, Act{Runs: []Run{{Text: "Wear "}, {Text: t.Value, Bold: true}, {Text: "."}}, Tick: true, At: t.At})
			w.boxes++
		}
		for _, f := range s.FollowUp {
			out = append(out, Act{Runs: []Run{{Text: "After the job:", Bold: true}, {Text: " " + f.Name + "."}}, At: f.At})
		}
	}
	if len(out) == 0 {
		return nil
	}
	return out
}

// wordless tells whether runs hold nothing but spaces, stops and commas.
func wordless(runs []Run) bool {
	for i := range runs {
		if strings.Trim(runs[i].Text, " .,") != "" {
			return false
		}
	}
	return true
}

// closed drops the full stop of a sentence of which nothing prints. The runs are changed.
func closed(runs []Run) []Run {
	out := runs[:0]
	last := byte(0) // before a run, white apart
	for _, r := range runs {
		if begun := strings.TrimLeft(r.Text, " "); last == '.' || last == '!' || last == '?' {
			r.Text = r.Text[:len(r.Text)-len(begun)] + strings.TrimLeft(begun, ".,;")
		}
		if r.Text == "" {
			continue
		}
		out = append(out, r)
		if words := strings.TrimRight(r.Text, " "); words != "" {
			last = words[len(words)-1]
		}
	}
	return out
}

// opening takes the punctuation off the start that a tag which does not print has left behind.
func opening(runs []Run) []Run {
	for len(runs) > 0 {
		if runs[0].Text = strings.TrimLeft(runs[0].Text, " .,;:"); runs[0].Text != "" {
			break
		}
		runs = runs[1:]
	}
	return runs
}

// fill adds to a paragraph what stands beside and below it.
func (w *writer) fill(a *Act, act *procedure.Act, s *procedure.Step) {
	switch act.Verb.Effect {
	case verb.DoTorque:
		a.Torque = w.torque(act)
		if a.Passes = w.passes(act, s, a.Torque); a.Passes != nil && len(a.Passes.Rows) > 0 {
			a.Tick = false
			w.boxes += len(a.Passes.Rows)
		}
	case verb.Measured, verb.Recorded:
		a.Boxes = w.measureBoxes(act)
	case verb.Checked:
		if act.Limit != nil {
			a.Boxes = w.measureBoxes(act)
		} else if lines := w.record.Lines.of[act]; len(lines) == 1 {
			a.Check = lines[0]
		}
	case verb.Install, verb.Replace:
		a.Lines = append(a.Lines, ways(act)...)
	}
	if act.Else != "" {
		a.Lines = append(a.Lines, "Else "+strings.TrimRight(act.Else, ".")+".")
	}
}

// ways says which way round the parts of an act go on, a line each; of several parts each line names its own.
func ways(act *procedure.Act) []string {
	parts := 0
	for _, o := range act.Objects {
		if o.Part != nil {
			parts++
		}
	}
	var lines []string
	for _, o := range act.Objects {
		if o.Part == nil {
			continue
		}
		for _, f := range o.Part.Faces {
			words := f.Value
			if parts > 1 {
				words = o.Part.Name.Value + " " + words
			}
			lines = append(lines, procedure.Capital(words)+".")
		}
	}
	return lines
}

// measureBoxes gives the boxes of a reading, one for each place, with their lines of the record sheet: there the places of the
// first time come first, then those of the second.
func (w *writer) measureBoxes(act *procedure.Act) []MeasureBox {
	limits, unit := "", ""
	if act.Limit != nil {
		limits, unit = act.Limit.Boxed()
	}
	places, lines := max(act.Places, 1), w.record.Lines.of[act]
	var all []MeasureBox
	for i := range places {
		b := MeasureBox{Limits: limits, Unit: unit}
		if places > 1 {
			b.Place = fmt.Sprint(i + 1)
		}
		if len(lines)%places == 0 {
			for at := i; at < len(lines); at += places {
				b.Lines = append(b.Lines, lines[at])
			}
		}
		all = append(all, b)
	}
	return all
}
