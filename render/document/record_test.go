package document_test

import (
	"slices"
	"strings"
	"testing"

	"refitcard/compiler"
	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
	"refitcard/render/document"
)

// eachJob gives every procedure of the sample library, once a variant.
func eachJob(t *testing.T, visit func(name string, r compiler.Result, in document.PickInput)) {
	t.Helper()
	for name, r := range libraryReviews(t) {
		variants := []string{""}
		if len(r.Proc.Variants) > 0 {
			variants = nil
			for _, v := range r.Proc.Variants {
				variants = append(variants, v.Value)
			}
		}
		for _, v := range variants {
			visit(name+" "+v, r.Result, document.PickInput{Proc: r.Proc, Plays: r.Plays, Settings: r.Settings, Variant: v})
		}
	}
}

// acts gives all acts of a job that a variant does, in order.
func acts(p *procedure.Procedure, variant string) (all []*procedure.Act) {
	var walk func([]*procedure.Step)
	walk = func(steps []*procedure.Step) {
		for _, s := range steps {
			if len(s.For) == 0 || slices.ContainsFunc(s.For, func(t procedure.Text) bool { return t.Value == variant }) {
				all = append(all, s.Acts...)
				walk(s.Steps)
			}
		}
	}
	for _, stage := range p.Stages {
		walk(stage.Steps)
	}
	return all
}

// Every check, reading and torque of the library has its line, and the lines are numbered from 1 without a gap.
func TestRecordHasEveryReadingAndTorque(t *testing.T) {
	readings := 0
	eachJob(t, func(name string, r compiler.Result, in document.PickInput) {
		rec := document.MakeRecord(in)
		l := rec.Lines
		want, torques := 0, 0
		for _, a := range acts(in.Proc, in.Variant) {
			switch a.Verb.Effect {
			case verb.Checked, verb.Measured, verb.Recorded:
				times := max(a.Step.Repeat.Times, 1)
				if a.Verb.Effect == verb.Checked && a.Limit == nil {
					times = 1
				}
				want += max(a.Places, 1) * times
			case verb.DoTorque:
				torques += len(a.Objects)
			}
		}
		readings += want
		if len(l.Readings) != want || len(l.Torques) != torques {
			t.Errorf("%s: %d readings of %d, %d torques of %d", name, len(l.Readings), want, len(l.Torques), torques)
		}
		for _, x := range l.Torques {
			if x.NewtonMetres == "" && x.More == "" || x.NewtonMetres != "" && x.PoundFeet == "" {
				t.Errorf("%s: line %d has no torque in both units: %+v", name, x.Line, x)
			}
		}
		if got := numbers(l); len(got) != l.Count() || len(got) > 0 && (got[0] != 1 || got[len(got)-1] != len(got)) || !slices.IsSorted(got) {
			t.Errorf("%s: lines %v", name, got)
		}
	})
	if readings < 100 {
		t.Errorf("only %d readings were seen", readings)
	}
}

func numbers(l document.RecordLines) (all []int) {
	for _, x := range l.Readings {
		all = append(all, x.Line)
	}
	for _, x := range l.Torques {
		all = append(all, x.Line)
	}
	for _, x := range l.Gauges {
		all = append(all, x.Line)
	}
	for _, x := range slices.Concat(l.Holds, l.Handovers) {
		all = append(all, x.Line)
	}
	for _, x := range l.Parts {
		all = append(all, x.Line)
	}
	for _, x := range l.Remains {
		all = append(all, x.Line)
	}
	return all
}

// The hold on the card and the line on the record sheet have the same number.
func TestHoldOnTheCardNamesItsLine(t *testing.T) {
	holds := 0
	eachJob(t, func(name string, r compiler.Result, in document.PickInput) {
		lines := map[string]int{}
		for _, h := range document.MakeRecord(in).Lines.Holds {
			lines[h.Step] = h.Line
			if h.Who == "" || strings.HasPrefix(h.Who, "the ") || h.What == "" {
				t.Errorf("%s: hold %+v", name, h)
			}
		}
		card := document.Card(in.Proc, in.Plays, in.Settings, document.Options{Variant: in.Variant})
		seen := 0
		for _, b := range card.Blocks {
			step, ok := b.(document.Step)
			if !ok {
				continue
			}
			for _, a := range step.Acts {
				if a.Hold == nil {
					continue
				}
				seen++
				if a.Hold.Line == 0 || a.Hold.Line != lines[step.Name] {
					t.Errorf("%s: the card says line %d, the record sheet has step %s on line %d", name, a.Hold.Line, step.Name, lines[step.Name])
				}
			}
		}
		if seen != len(lines) {
			t.Errorf("%s: %d holds on the card, %d on the record sheet", name, seen, len(lines))
		}
		holds += seen
	})
	if holds < 5 {
		t.Errorf("only %d holds were seen", holds)
	}
}

// Every part that is renewed stands among the parts fitted, with its number; nothing that only goes back on does.
func TestRecordHasEveryNewPart(t *testing.T) {
	renewed := 0
	eachJob(t, func(name string, r compiler.Result, in document.PickInput) {
		var fitted []string
		for _, x := range document.MakeRecord(in).Lines.Parts {
			fitted = append(fitted, x.Name+"\x00"+x.Number)
		}
		for _, p := range in.Proc.Parts {
			if !p.In(in.Variant) {
				continue
			}
			one, many := p.Name.Value+"\x00"+p.Number.Value, procedure.Plural(p.Name.Value)+"\x00"+p.Number.Value
			has := slices.Contains(fitted, one) || slices.Contains(fitted, many)
			switch p.Use {
			case procedure.ReplaceUse, procedure.Add:
				renewed++
				if !has {
					t.Errorf("%s: %q is not among the parts fitted: %q", name, p.Name.Value, fitted)
				}
			case procedure.Reuse, procedure.Omit:
				if has && !slices.ContainsFunc(in.Proc.Parts, func(o *procedure.Part) bool {
					return o != p && o.Name.Value == p.Name.Value && o.Use != procedure.Reuse
				}) {
					t.Errorf("%s: %q only goes back on, and stands among the parts fitted", name, p.Name.Value)
				}
			}
		}
	})
	if renewed < 20 {
		t.Errorf("only %d renewed parts were seen", renewed)
	}
}

// A draft is told in the release, and the sheet has no outline letters; a job for each of several says which one.
func TestRecordNamesDraftAndWhich(t *testing.T) {
	drafts, each := 0, 0
	eachJob(t, func(name string, r compiler.Result, in document.PickInput) {
		rec := document.MakeRecord(in)
		said := ""
		for _, run := range rec.Release {
			said += run.Text
		}
		draft := !in.Proc.Approved.Set()
		if strings.Contains(said, "a draft that nobody has approved") != draft || rec.Header.Draft {
			t.Errorf("%s: %q", name, said)
		}
		for _, part := range []string{in.Proc.Number.Value, "revision " + in.Proc.Revision.Value, rec.Header.Digest, in.Variant} {
			if !strings.Contains(said, part) {
				t.Errorf("%s: the release %q does not name %q", name, said, part)
			}
		}
		if in.Proc.Each.Count > 1 {
			each++
			if which := "Place; which " + in.Proc.Each.Name; !slices.Contains(rec.Boxes, document.RecordBox{Label: which}) || !slices.Contains(rec.Again, which) {
				t.Errorf("%s: no box for which %s", name, in.Proc.Each.Name)
			}
		}
		if draft {
			drafts++
		}
	})
	if drafts == 0 || each < 2 {
		t.Errorf("%d drafts, %d jobs for each of several", drafts, each)
	}
}

// Labels: the bags have the letters and counts of the pick list, what is renewed is scrapped and has no way back.
func TestLabelsAgreeWithThePickList(t *testing.T) {
	bags, scrapped := 0, 0
	eachJob(t, func(name string, r compiler.Result, in document.PickInput) {
		labels := document.MakeLabels(in, document.Options{Variant: in.Variant}).Labels
		n := max(in.Proc.Each.Count, 1)
		if len(labels)%n != 0 {
			t.Fatalf("%s: %d labels for %d times", name, len(labels), n)
		}
		for i, bag := range document.Pick([]document.PickInput{in}).Bags {
			bags++
			l := labels[i]
			if l.Letter != bag.Letter || l.Count != bag.Count || l.Name != bag.Item || l.Off != bag.Off || l.Back != bag.On {
				t.Errorf("%s: bag %+v, label %+v", name, bag, l)
			}
		}
		for _, l := range labels {
			if l.Scrap {
				scrapped++
			}
			if l.Scrap != strings.HasPrefix(l.Name, "old ") || l.Scrap && (l.Back != "" || l.Letter != "" || l.Torque != "") || l.Off == "" || l.Count < 1 {
				t.Errorf("%s: label %+v", name, l)
			}
			if (l.Each != "") != (n > 1) {
				t.Errorf("%s: label %+v of a job done %d times", name, l, n)
			}
		}
	})
	if bags < 30 || scrapped < 20 {
		t.Errorf("only %d bags and %d scrapped parts were seen", bags, scrapped)
	}
}

// What was typed in the plural does not get a second one where the job may be left: "2 gate pins", not "2 gate pinses".
func TestHandoverNamesAreNotMadeManyTwice(t *testing.T) {
	open := 0
	eachJob(t, func(name string, r compiler.Result, in document.PickInput) {
		for _, h := range document.MakeRecord(in).Lines.Handovers {
			for _, line := range h.Open {
				open++
				if strings.Contains(line, "ses ") || strings.Contains(line, "ses,") {
					t.Errorf("%s: %q", name, line)
				}
			}
		}
	})
	if open < 4 {
		t.Errorf("only %d lines of handovers were seen", open)
	}
}
