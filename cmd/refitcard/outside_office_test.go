package main

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
	"refitcard/render/faces"
	"refitcard/render/pdf/pdftest"
)

// In this file the sheets of the office are read back: record, labels, review.

func TestNothingIsMissingOnTheRecordSheets(t *testing.T) {
	var lines atomic.Int64
	eachSheet(t, recordSheets, func(t *testing.T, p printedSheet) {
		record := p.record()
		s := &seeker{t: t, r: readBack(t, p.file)}
		h := record.Header
		for page := range s.r.pages {
			s.has("header", h.Number, "Revision", h.Revision)
			s.has("header", fmt.Sprintf("Page %d of %d", page+1, s.r.pages))
		}
		s.say("title", "Record sheet", h.Title)
		s.say("machine", h.Machine)
		for _, b := range record.Boxes {
			s.say("box", b.Label)
		}
		s.say("references", record.Rests)
		l := record.Lines
		for _, x := range l.Readings {
			s.say("reading", fmt.Sprint(x.Line), x.Step, x.What, x.More, x.Limits)
		}
		for _, x := range l.Torques {
			first, second := x.NewtonMetres, x.PoundFeet
			if record.PoundsFirst {
				first, second = second, first
			}
			s.say("torque", fmt.Sprint(x.Line), x.Step, x.Count, x.What, x.More, first, second)
		}
		for _, x := range l.Gauges {
			s.say("measuring tool", fmt.Sprint(x.Line), x.Tool, x.Steps)
		}
		for _, x := range l.Holds {
			s.say("hold", fmt.Sprint(x.Line), x.Step, x.Who, x.What)
		}
		for _, x := range l.Handovers {
			s.say("handover", append([]string{fmt.Sprint(x.Line), x.Step, x.What}, x.Open...)...)
		}
		for _, x := range l.Parts {
			s.say("part", fmt.Sprint(x.Line), x.Step, x.Count, x.Name, x.More, x.Number)
		}
		for _, x := range l.Remains {
			s.say("what remains", fmt.Sprint(x.Line), x.Lead, x.What)
		}
		s.say("release", words(record.Release))
		for _, label := range record.Signing {
			s.say("signing", label)
		}
		lines.Add(int64(l.Count()))
		// What is measured, and every torque in newton metres, by the model itself.
		p.acts(func(step *procedure.Step, act *procedure.Act) {
			if act.Verb.Effect == verb.Measured || act.Verb.Effect == verb.Checked || act.Verb.Effect == verb.Recorded {
				s.has("reading of step "+step.Name(), act.Name)
			}
			if act.Limit != nil {
				figure, unit := act.Limit.Boxed()
				s.has("limits of step "+step.Name(), figure, unit)
			}
			if v := act.Torque.Value; v != nil && act.Verb.Effect == verb.DoTorque && v.Unit.Name == "N·m" {
				figure, _ := v.Boxed()
				s.has("torque of step "+step.Name(), figure)
			}
		})
	})
	t.Cleanup(func() {
		if lines.Load() < 400 {
			t.Errorf("only %d lines were looked for", lines.Load())
		}
	})
}

// acts hands over each act that a variant does.
func (p printedSheet) acts(use func(*procedure.Step, *procedure.Act)) {
	var walk func([]*procedure.Step)
	walk = func(steps []*procedure.Step) {
		for _, step := range steps {
			if len(step.For) > 0 && p.variant != "" && !slices.ContainsFunc(step.For, func(t procedure.Text) bool { return t.Value == p.variant }) {
				continue
			}
			for _, act := range step.Acts {
				if !act.Broken && act.Verb != nil {
					use(step, act)
				}
			}
			walk(step.Steps)
		}
	}
	for _, stage := range p.job.Proc.Stages {
		walk(stage.Steps)
	}
}

func TestNothingIsMissingOnTheLabels(t *testing.T) {
	var labels atomic.Int64
	eachSheet(t, labelSheets, func(t *testing.T, p printedSheet) {
		made := p.labels()
		s := &seeker{t: t, r: readBack(t, p.file)}
		foot := made.Header.Number + made.Header.Revision
		for _, l := range made.Labels {
			what := "label of " + l.Name
			s.say(what, fmt.Sprint(l.Count))
			s.say(what, l.Letter)
			s.say(what, l.Name)
			s.say(what, l.Each)
			s.say(what, "off step", l.Off)
			switch {
			case l.Scrap:
				s.say(what, "SCRAP")
			case l.Back == "":
				s.say(what, "stays off")
			default:
				s.say(what, "back on step", l.Back)
				s.say(what, l.Torque)
			}
			labels.Add(1)
		}
		if n := strings.Count(strings.ToLower(s.r.flat), strings.ToLower(squeeze(foot))); n < len(made.Labels) {
			t.Errorf("%q stands %d times on %d labels", foot, n, len(made.Labels))
		}
		if n := strings.Count(s.r.flat, squeeze(made.Header.Digest)); n < len(made.Labels) {
			t.Errorf("the digest stands %d times on %d labels", n, len(made.Labels))
		}
	})
	t.Cleanup(func() {
		if labels.Load() < 200 {
			t.Errorf("only %d labels were looked for", labels.Load())
		}
	})
}

func TestNothingIsMissingOnTheReviewSheets(t *testing.T) {
	var torques, messages atomic.Int64
	eachSheet(t, reviewSheets, func(t *testing.T, p printedSheet) {
		review := p.review()
		s := &seeker{t: t, r: readBack(t, p.file)}
		s.has("header", review.Header.Number, "Revision", review.Header.Revision)
		s.say("title", review.Header.Kind, review.Header.Title)
		s.say("standing", review.Standing.Counts, review.Standing.Ledger)
		for _, f := range review.Findings {
			s.say("finding", f.Rule)
			s.say("finding", f.Message, f.Do)
		}
		for _, f := range review.Waived {
			s.say("waived", f.Where, f.Rule, f.Message, f.Do)
		}
		for _, l := range review.Ledgers {
			for _, r := range l.Rows {
				s.has("ledger", r.Thing)
				s.has("ledger", r.End)
			}
		}
		for _, x := range review.Torques {
			what := x.What
			for _, more := range []string{x.Spec, x.Friction} {
				if more != "" {
					what += ", " + more
				}
			}
			first, second := x.NewtonMetres, x.PoundFeet
			if review.PoundsFirst {
				first, second = second, first
			}
			s.say("torque", x.Step, x.Count, what, x.More, first, second)
			for _, load := range x.Loads {
				s.say("preload", load.Preload, load.Share)
			}
		}
		for _, m := range review.Messages {
			s.say("message", m.Before, m.Signal, m.Hazard, m.Rest)
		}
		for _, x := range review.Tools {
			s.has("tool", x.Tool)
		}
		for _, box := range review.Signing {
			s.say("signing", box.Label)
			if box.Name != "" {
				s.has("signing", box.Name)
			}
		}
		torques.Add(int64(len(review.Torques)))
		messages.Add(int64(len(review.Messages)))
	})
	t.Cleanup(func() {
		if torques.Load() < 60 || messages.Load() < 40 {
			t.Errorf("only %d torques and %d messages were looked for", torques.Load(), messages.Load())
		}
	})
}

// These sheets are read at 450 mm.
func TestTypeOfTheOfficeIsLargeEnough(t *testing.T) {
	least := faces.SizeFor(450, 15)
	for _, choose := range []func(*printedPaper) []printedSheet{recordSheets, labelSheets, reviewSheets} {
		eachSheet(t, choose, func(t *testing.T, p printedSheet) {
			for _, w := range readBack(t, p.file).words {
				if w.size < least-hairPt {
					t.Errorf("page %d: %q is set in %.2f pt, and %.2f is 15 minutes of arc at 450 mm", w.page+1, w.text, w.size, least)
				}
			}
		})
	}
}

// A sheet of labels already begun: the first ones are left out, and the rest stand where a whole sheet has them.
func TestLabelsGoOnWhereASheetWasBegun(t *testing.T) {
	dir := t.TempDir()
	file := samples + "/rake-winch-end-cover.md"
	run(t, done, "labels", file, "-o", dir+"/whole.pdf", "--quiet")
	run(t, done, "labels", file, "--first", "4", "-o", dir+"/begun.pdf", "--quiet")
	whole, begun := readBack(t, dir+"/whole.pdf"), readBack(t, dir+"/begun.pdf")
	count := func(r *readSheet, what string) (n int, first readWord) {
		for _, w := range r.words {
			if w.text == what {
				if n == 0 {
					first = w
				}
				n++
			}
		}
		return n, first
	}
	labels := (printedSheet{job: jobOf(t, "SD-114")}).labels().Labels
	n, first := count(whole, "off")
	m, later := count(begun, "off")
	if n < len(labels) || m < len(labels) {
		t.Fatalf("%d and %d labels of %d", n, m, len(labels))
	}
	// Two by five of 95 × 55 mm: the fourth place is the right one of the second row.
	if dx, dy := later.left-first.left, later.base-first.base; dx < 94.5 || dx > 95.5 || dy < 54.5 || dy > 55.5 {
		t.Errorf("the first label stands %.1f mm to the right and %.1f mm lower", dx, dy)
	}
}

// jobOf finds a procedure of the library by its number.
func jobOf(t *testing.T, number string) compiled {
	t.Helper()
	for _, job := range compiledLibrary(t) {
		if job.Proc.Number.Value == number {
			return job
		}
	}
	t.Fatalf("there is no %s", number)
	return compiled{}
}

// The heads of an office sheet are spoken in the order in which they stand, each once on the page where its part begins.
// few takes every third sheet of a choice, and all of them with REFITCARD_LONG set: pdfinfo takes seconds for the tables of one.
func few(choose func(*printedPaper) []printedSheet) func(*printedPaper) []printedSheet {
	return func(p *printedPaper) (some []printedSheet) {
		for i, s := range choose(p) {
			if i%3 == 0 || os.Getenv("REFITCARD_LONG") != "" {
				some = append(some, s)
			}
		}
		return some
	}
}

func TestOfficeSheetsAreSpokenInOrder(t *testing.T) {
	pdfinfo := pdftest.Need(t, "pdfinfo", "that the structure of the office's sheets is in reading order")
	heads := func(spoken []spoken, kind string) []string {
		var all []string
		for _, e := range spoken {
			if e.kind == kind && !slices.Contains(all, e.words) {
				all = append(all, e.words)
			}
		}
		return all
	}
	eachSheetOn(t, []string{"a4"}, few(recordSheets), func(t *testing.T, p printedSheet) {
		record, told := p.record(), structureOf(t, pdfinfo, p.file)
		if got, want := heads(told, "H1"), []string{"Record sheet " + record.Header.Title}; !slices.Equal(got, want) {
			t.Errorf("title %q, want %q", got, want)
		}
		l := record.Lines
		var want []string
		for _, part := range []struct {
			head string
			n    int
		}{
			{"Checks and readings", len(l.Readings)},
			{"Torques", len(l.Torques)},
			{"Measuring tools", len(l.Gauges)},
			{"Hold points", len(l.Holds)},
			{"Handover", len(l.Handovers)},
			{"Parts fitted", len(l.Parts)},
			{"What remains", len(l.Remains)},
			{"Work done, and anything found", 1},
		} {
			if part.n > 0 {
				want = append(want, part.head)
			}
		}
		if got := heads(told, "H2"); !slices.Equal(got, want) {
			t.Errorf("heads %q, want %q", got, want)
		}
	})
	eachSheetOn(t, []string{"a4"}, few(reviewSheets), func(t *testing.T, p printedSheet) {
		review, told := p.review(), structureOf(t, pdfinfo, p.file)
		if got, want := heads(told, "H1"), []string{strings.TrimSpace(review.Header.Kind + " " + review.Header.Title)}; !slices.Equal(got, want) {
			t.Errorf("title %q, want %q", got, want)
		}
		got := strings.Join(heads(told, "H2"), ", ")
		at := 0
		for _, want := range []string{"Ledger", "Torques", "Safety messages", "Tools"} {
			if want == "Torques" && len(review.Torques) == 0 || want == "Tools" && len(review.Tools) == 0 {
				continue
			}
			i := strings.Index(got[at:], want)
			if i < 0 {
				t.Errorf("%q is not spoken, or too early, among %q", want, got)
				continue
			}
			at += i
		}
	})
}
