package document

import (
	"fmt"
	"strings"

	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
)

// Record is the sheet that is filled in, signed and filed: a laminated card is no record.
type Record struct {
	Header  Header
	Foot    Foot
	Boxes   []RecordBox // the boxes at the head, to fill in before starting
	Again   []string    // labels of those that stand again on each further page, so that no page can be filed under another job
	Rests   string      // the maker's data that the work rests on; may be empty
	Lines   RecordLines
	Release []Run    // what the last signature says
	Signing []string // labels of the lines to sign on

	PoundsFirst bool // lbf·ft before N·m, as the card of the job has it

	Filled  string   // where what is filled in comes from; empty on a sheet to fill in by hand
	Remarks []string // what was done and found, a paragraph each
}

// RecordBox is one of the boxes at the head.
type RecordBox struct {
	Label string
	Typed string // what is filled in; empty on a sheet to fill in by hand
}

// RecordLines are the lines to fill in, numbered through the sheet from 1 in the order of the fields.
type RecordLines struct {
	Readings  []RecordReading
	Torques   []RecordTorque
	Gauges    []RecordGauge
	Holds     []RecordHold
	Handovers []RecordHold
	Parts     []RecordPart
	Remains   []RecordRemain

	of map[*procedure.Act][]int // the lines of each check and reading
}

// RecordReading is one reading, or one check.
type RecordReading struct {
	Line   int
	Step   string
	What   string
	More   string // "only if the motor half sits low"; may be empty
	Limits string // "12–18 mm"; empty for a check and for what has no limits
	Tick   bool   // a check: it is ticked, and nothing is written

	Found, Left RecordValue // what is filled in; empty on a sheet to fill in by hand
	Ticked      string      // of a check that is filled in: when, "2026-11-25 14:32"
	NotNeeded   bool        // filled in as not needed
}

// RecordValue is a reading that is filled in.
type RecordValue struct {
	Words   string // as typed, with the unit: "12,5 mm"
	Verdict string // "too low", "too high" or "not a figure"; empty when it is within limits, or has none
}

// RecordTorque is one tightening.
type RecordTorque struct {
	Line         int
	Step         string
	Count        string // "12"; empty where the act does not count
	What         string // "cover bolts, M8×30 8.8 socket"
	More         string // "crosswise in 3 passes, then 90°"; may be empty
	NewtonMetres string
	PoundFeet    string // "16"; with its unit where that is another: "84 lbf·in"
	Written
}

// RecordGauge is one tool that measures, with the steps that read it.
type RecordGauge struct {
	Line  int
	Tool  string
	Steps string // "6, 7"
	Written
}

// RecordHold is a place where another person signs: a hold, or a handover with what stands open there.
type RecordHold struct {
	Line int
	Step string
	Who  string   // "supervisor"; empty for a handover
	What string   // "to see both pins"; may be empty
	Open []string // of a handover, a line each: "Off: 1 end cover, 12 cover bolts"
	Written
}

// RecordPart is a part that goes on new.
type RecordPart struct {
	Line   int
	Step   string
	Count  string // "12", "up to 8"
	Name   string
	More   string // "if it was renewed"; may be empty
	Number string // may be empty
	Written
}

// Written is what is filled in on a line, by the names of its columns; nil on a sheet to fill in by hand.
type Written map[string]string

// The columns of a record sheet that a page for a tablet has fields for. Initials and signatures are given by hand.
const (
	WrenchSerial = "Wrench serial"
	GaugeSerial  = "Serial"
	CalibratedTo = "Calibrated to"
	SignerName   = "Name"
	GivenBy      = "Given over by"
	TakenBy      = "Taken over by"
	DateAndTime  = "Date and time"
	Batch        = "Batch or serial"
)

// RecordRemain is what is still to do when the last step is done, or what stays open on purpose.
type RecordRemain struct {
	Line int
	Lead string // "After the job:"
	What string
}

// MakeRecord makes the record sheet of a job.
func MakeRecord(in PickInput) *Record {
	p := in.Proc
	r := &Record{Header: header(p, in.Variant), Foot: recordFoot(in.Settings), Rests: texts(p.References), Lines: linesOf(in)}
	r.Header.Kind, r.Header.Draft = "Record sheet", false
	if in.Settings != nil {
		r.PoundsFirst = prefersUS(p, in.Settings, Options{Units: in.Units})
	}
	place := "Place"
	if p.Each.Count > 1 {
		place = "Place; which " + p.Each.Name
		r.Header.Machine += fmt.Sprintf(", one sheet for each of %s", procedure.CountName(p.Each.Count, p.Each.Name))
	}
	for _, label := range []string{
		"Serial number", "Running hours", "Work order", place,
		"Technician", "Second person", "Started, date and time", "Finished, date and time",
	} {
		r.Boxes = append(r.Boxes, RecordBox{Label: label})
	}
	r.Again = []string{"Serial number", "Work order", "Technician", place}
	r.Release = release(p, r.Header)
	r.Signing = []string{"Name", "Certificate number", "Signature", "Date"}
	return r
}

// release is what the last signature says. A draft is named: what nobody has approved is not filed as if somebody had.
func release(p *procedure.Procedure, h Header) []Run {
	card := h.Number
	if h.Revision != "" {
		card += " revision " + h.Revision
	}
	if h.Variant != "" {
		card += ", " + h.Variant
	}
	runs := []Run{{Text: "Work done to card "}, {Text: card + ", " + h.Digest, Bold: true}}
	if !p.Approved.Set() {
		runs = append(runs, Run{Text: ", a draft that nobody has approved"})
	}
	words := ". All lines above filled or struck out."
	if len(p.Tools) > 0 {
		words = ". Tools counted in." + words[1:]
	}
	return append(runs, Run{Text: words})
}

func recordFoot(s *library.Settings) Foot {
	return Foot{
		Lead:      "File this sheet.",
		Wrong:     "The laminated card is no record.",
		Statement: statement(s, "sheet"),
	}
}

// linesOf lists what is filled in, and numbers it. Card and record sheet both take the numbers from here: the card's hold names
// its line of the record sheet.
func linesOf(in PickInput) RecordLines {
	l := RecordLines{of: map[*procedure.Act][]int{}}
	var read []*procedure.Act // the act of each reading
	eachStep(in.Proc, in.Variant, func(s *procedure.Step) {
		for _, a := range s.Acts {
			for _, r := range readings(s, a) {
				l.Readings, read = append(l.Readings, r), append(read, a)
			}
		}
		l.Holds = append(l.Holds, holdLines(in, s)...)
		l.Parts = append(l.Parts, fitted(in, s)...)
		if s.Handover.Known() {
			l.Handovers = append(l.Handovers, handoverLine(in, s))
		}
	})
	for _, t := range reviewTorques(in.Proc, in.Variant, false) {
		l.Torques = append(l.Torques, recordTorque(t))
	}
	l.Gauges = gauges(in)
	for _, r := range remains(in.Proc, in.Variant) {
		l.Remains = append(l.Remains, RecordRemain{Lead: r.Lead, What: strings.TrimSpace(text(r.Runs))})
	}
	l.number()
	for i, r := range l.Readings {
		l.of[read[i]] = append(l.of[read[i]], r.Line)
	}
	return l
}

// number gives each line its number.
func (l *RecordLines) number() {
	n := 0
	next := func() int { n++; return n }
	for i := range l.Readings {
		l.Readings[i].Line = next()
	}
	for i := range l.Torques {
		l.Torques[i].Line = next()
	}
	for i := range l.Gauges {
		l.Gauges[i].Line = next()
	}
	for i := range l.Holds {
		l.Holds[i].Line = next()
	}
	for i := range l.Handovers {
		l.Handovers[i].Line = next()
	}
	for i := range l.Parts {
		l.Parts[i].Line = next()
	}
	for i := range l.Remains {
		l.Remains[i].Line = next()
	}
}

// hold gives the number of the line on which the hold of a step is signed, 0 when it has none.
func (l *RecordLines) hold(step string) int {
	for _, h := range l.Holds {
		if h.Step == step {
			return h.Line
		}
	}
	return 0
}

// Count is how many lines there are.
func (l *RecordLines) Count() int {
	return len(l.Readings) + len(l.Torques) + len(l.Gauges) + len(l.Holds) + len(l.Handovers) + len(l.Parts) + len(l.Remains)
}
