package document

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// mostLines is how many lines one reading may take: a line for each place and each time. Beyond it one line asks for all.
const mostLines = 24

// readings gives the lines of an act that measures, records or checks: one for each place, and for each time that the step is
// done; none for another act.
func readings(s *procedure.Step, a *procedure.Act) []RecordReading {
	if a.Broken || a.Verb == nil {
		return nil
	}
	r := RecordReading{Step: s.Name(), What: a.Name, More: onlyIf(s)}
	switch a.Verb.Effect {
	case verb.Measured, verb.Recorded:
	case verb.Checked:
		r.Tick = a.Limit == nil
	default:
		return nil
	}
	if a.Limit != nil {
		figure, unit := a.Limit.Boxed()
		r.Limits = strings.TrimSpace(figure + " " + unit)
	}
	return spread(r, max(a.Places, 1), timesOf(s))
}

// onlyIf says on what condition a step is done; then the line may be struck out.
func onlyIf(s *procedure.Step) string {
	for ; s != nil; s = s.Parent {
		if s.If.Set() {
			return "only if " + s.If.Value
		}
	}
	return ""
}

// timesOf is how often a step is done, where the procedure says.
func timesOf(s *procedure.Step) int {
	n := 1
	for ; s != nil; s = s.Parent {
		n *= min(max(s.Repeat.Times, 1), mostLines+1)
	}
	return n
}

// spread gives a reading a line for each place and each time. A check that is ticked has one box for all its times, as a
// step on the card has.
func spread(r RecordReading, places, times int) []RecordReading {
	switch {
	case r.Tick && times > 1:
		r.What += fmt.Sprintf(", %d times", times)
		return []RecordReading{r}
	case places*times > mostLines:
		r.What += fmt.Sprintf(", %d readings: write all of them on the lines below", places*times)
		return []RecordReading{r}
	}
	var all []RecordReading
	for t := range times {
		for p := range places {
			one := r
			if places > 1 {
				one.What += fmt.Sprintf(", place %d of %d", p+1, places)
			}
			if times > 1 {
				one.What += fmt.Sprintf(", time %d of %d", t+1, times)
			}
			all = append(all, one)
		}
	}
	return all
}

func recordTorque(t ReviewTorque) RecordTorque {
	r := RecordTorque{
		Step: t.Step, Count: t.Count, What: t.What, More: t.More, NewtonMetres: t.NewtonMetres, PoundFeet: t.PoundFeet,
	}
	if t.Spec != "" {
		r.What += ", " + t.Spec
	}
	return r
}

// gauges lists the tools that take the readings. Those that apply a torque are written down at their torque.
func gauges(in PickInput) []RecordGauge {
	var all []RecordGauge
	at := map[*procedure.Tool]int{}
	note := func(t *procedure.Tool, s *procedure.Step) {
		i, known := at[t]
		if !known {
			i = len(all)
			at[t] = i
			all = append(all, RecordGauge{Tool: t.Whole})
		}
		steps := strings.Split(all[i].Steps, ", ")
		if all[i].Steps == "" {
			steps = nil
		}
		if !slices.Contains(steps, s.Name()) {
			all[i].Steps = strings.Join(append(steps, s.Name()), ", ")
		}
	}
	eachStep(in.Proc, in.Variant, func(s *procedure.Step) {
		for _, a := range s.Acts {
			if a.Tool != nil && a.Tool.Choices[min(a.Choice, len(a.Tool.Choices)-1)].Kind.Kind == hardware.Measures {
				note(a.Tool, s)
			}
		}
	})
	return all
}

// holdOf is the hold of a step: for whom, and why as far as words stand beside it.
func holdOf(s *procedure.Step) Hold {
	h := Hold{For: strings.TrimPrefix(s.Hold.Value, "for ")}
	for _, g := range segments(s) {
		if g.act == nil {
			h.Why = text(opening(trim(closed(boldRuns(g.runs)))))
		}
	}
	return h
}

func holdLines(in PickInput, s *procedure.Step) []RecordHold {
	if !s.Hold.Set() {
		return nil
	}
	h := holdOf(s)
	r := RecordHold{Step: s.Name(), Who: strings.TrimPrefix(h.For, "the "), What: strings.TrimRight(h.Why, " .")}
	if r.What == "" {
		for _, a := range s.Acts {
			if a.Verb != nil && a.Verb.Ticks {
				r.What = "after: " + a.Words
			}
		}
	}
	if r.What == "" {
		if next := after(in, s); next != "" {
			r.What = "before step " + next
		}
	}
	return []RecordHold{r}
}

// after names the step behind a step; empty for the last.
func after(in PickInput, s *procedure.Step) string {
	name, seen := "", false
	eachStep(in.Proc, in.Variant, func(x *procedure.Step) {
		if seen && name == "" {
			name = x.Name()
		}
		seen = seen || x == s
	})
	return name
}

// handoverLine says what stands open where the job may be left.
func handoverLine(in PickInput, s *procedure.Step) RecordHold {
	r := RecordHold{Step: s.Name()}
	for _, after := range playOf(in.Plays, in.Variant).After {
		if after.Step != s {
			continue
		}
		r.Open = nil
		for _, l := range stateLines(after) {
			if l.Words != "none" {
				r.Open = append(r.Open, l.Label+": "+l.Words)
			}
		}
	}
	if len(r.Open) == 0 {
		r.What = "nothing is off, open or locked"
	}
	return r
}

// fitted lists the new parts that a step puts on, and those that it may: a part that is renewed if worn.
func fitted(in PickInput, s *procedure.Step) []RecordPart {
	type row struct {
		part *procedure.Part
		n    int
	}
	var rows []row
	for _, a := range s.Acts {
		if a.Broken || a.Verb == nil || a.Verb.Effect != verb.Install && a.Verb.Effect != verb.Replace {
			continue
		}
		for i := range a.Objects {
			o := &a.Objects[i]
			if o.Part == nil || o.Old {
				continue
			}
			part := o.Part
			if own := part.For(in.Variant); own != nil {
				part = own
			}
			if part.Use == procedure.Reuse && !o.New || part.Use == procedure.Omit {
				continue
			}
			n := part.Qty
			if o.Count == procedure.Numbered {
				n = o.N
			}
			if k := slices.IndexFunc(rows, func(r row) bool { return r.part == part }); k >= 0 {
				rows[k].n = min(rows[k].n+n, part.Qty)
				continue
			}
			rows = append(rows, row{part, n})
		}
	}
	var all []RecordPart
	for _, r := range rows {
		line := RecordPart{Step: s.Name(), Count: fmt.Sprint(r.n), Name: r.part.Name.Value, Number: r.part.Number.Value, More: onlyIf(s)}
		count, name, _ := strings.Cut(procedure.CountName(r.n, line.Name), " ")
		line.Count, line.Name = count, name
		switch {
		case r.part.UpTo:
			line.Count, line.Name = fmt.Sprintf("up to %d", r.part.Qty), procedure.Plural(r.part.Name.Value)
		case r.part.Use == procedure.IfWorn && line.More == "":
			line.More = "if renewed"
		}
		all = append(all, line)
	}
	return all
}
