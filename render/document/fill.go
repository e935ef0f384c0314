package document

import (
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"refitcard/compiler/letters"
	"refitcard/compiler/quantity"
)

// Fill writes into a record sheet what was filled in on a tablet. It gives the reasons for which that can't be done, each a
// sentence; there are none when the record was filled in on the card that this sheet belongs to. Nothing is guessed: what was
// not typed stays empty, to be written or struck out by hand, and so does every place for initials and signatures.
func (r *Record) Fill(f *Filled) (wrong []string) {
	if w := r.otherCard(f.Card); w != "" {
		return []string{w}
	}
	filler := &filler{record: r, f: f}
	filler.boxes()
	filler.readings()
	filler.holds()
	filler.written()
	filler.ticks()
	if len(filler.wrong) > 0 {
		return filler.wrong
	}
	done := 0
	for _, t := range f.Ticks {
		if t.Settled {
			done++
		}
	}
	r.Filled = fmt.Sprintf("on a tablet, saved %s; %d of %d boxes done. Names that were typed are no signatures.", f.Saved, done, len(f.Ticks))
	for line := range strings.Lines(f.Remarks) {
		if line = typedWords(line); line != "" {
			r.Remarks = append(r.Remarks, line)
		}
	}
	r.Remarks = append(r.Remarks, filler.more...)
	return nil
}

// otherCard tells in which way a record was filled in on another card; "" when it is the same.
func (r *Record) otherCard(c FilledCard) string {
	h := r.Header
	for _, x := range []struct{ what, filled, here string }{
		{"card", c.Number, h.Number},
		{"revision", c.Revision, h.Revision},
		{"variant", c.Variant, h.Variant},
		{"digest", c.Digest, h.Digest},
	} {
		if x.filled != x.here {
			return fmt.Sprintf("it was filled in on %s %q, and the source makes %q", x.what, x.filled, x.here)
		}
	}
	return ""
}

// OutOfLimits lists the lines whose last reading is out of limits, or no figure.
func (r *Record) OutOfLimits() (lines []int) {
	for _, x := range r.Lines.Readings {
		last := x.Found
		if x.Left.Words != "" {
			last = x.Left
		}
		if last.Verdict != "" {
			lines = append(lines, x.Line)
		}
	}
	return lines
}

// Unread lists the checks and readings of which nothing is filled in.
func (r *Record) Unread() (lines []int) {
	for _, x := range r.Lines.Readings {
		if x.Found.Words == "" && x.Left.Words == "" && x.Ticked == "" && !x.NotNeeded {
			lines = append(lines, x.Line)
		}
	}
	return lines
}

// filler puts one filled record into one record sheet.
type filler struct {
	record *Record
	f      *Filled
	wrong  []string
	more   []string // what has no place of its own on the sheet
}

func (x *filler) no(format string, args ...any) {
	x.wrong = append(x.wrong, fmt.Sprintf(format, args...))
}

func (x *filler) boxes() {
	for _, b := range x.f.Boxes {
		i := slices.IndexFunc(x.record.Boxes, func(own RecordBox) bool { return own.Label == b.Label })
		if i < 0 {
			x.no("the record sheet has no box %q", b.Label)
			continue
		}
		x.record.Boxes[i].Typed = typedWords(b.Typed)
	}
}

func (x *filler) readings() {
	lines := x.record.Lines.Readings
	used := map[int]bool{}
	for _, f := range x.f.Readings {
		limits := strings.TrimSpace(f.Limits + " " + f.Unit)
		i := slices.IndexFunc(lines, func(own RecordReading) bool { return own.Line == f.Line })
		if i < 0 || lines[i].Tick || lines[i].Step != f.Step || lines[i].Limits != limits {
			x.no("line %d of the record sheet is no reading of step %q with the limits %q", f.Line, f.Step, limits)
			continue
		}
		found, left := x.value(f, f.Found), x.value(f, f.Left)
		if used[f.Line] { // the readings of many places share a line
			x.more = append(x.more, fmt.Sprintf("Line %d, place %s: %s", f.Line, f.Place, strings.TrimRight(found.Words+", "+found.Verdict, ", ")))
			continue
		}
		used[f.Line] = true
		lines[i].Found, lines[i].Left, lines[i].NotNeeded = found, left, f.NotNeeded
	}
}

// value judges a reading again, by the limits of the card. The page and this program must agree.
func (x *filler) value(f FilledReading, v FilledValue) RecordValue {
	if got := Judge(v.Typed, f.Limits, f.Unit); got != v.Verdict {
		x.no("line %d: the file calls the reading %q %q, and by the limits %q it is %q", f.Line, v.Typed, v.Verdict, strings.TrimSpace(f.Limits+" "+f.Unit), got)
	}
	out := RecordValue{Words: typedWords(v.Typed)}
	if out.Words != "" && f.Unit != "" {
		out.Words += " " + f.Unit
	}
	if v.Verdict == TooLow || v.Verdict == TooHigh || v.Verdict == NoFigure {
		out.Verdict = v.Verdict
	}
	return out
}

func (x *filler) holds() {
	lines := x.record.Lines.Holds
	for _, f := range x.f.Holds {
		i := slices.IndexFunc(lines, func(own RecordHold) bool { return own.Line == f.Line && own.Step == f.Step })
		if i < 0 {
			x.no("line %d of the record sheet is no hold of step %q", f.Line, f.Step)
			continue
		}
		lines[i].Written = Written{SignerName: typedWords(f.Name), DateAndTime: typedWords(f.Time)}
	}
}

// written fills the columns of the other lines.
func (x *filler) written() {
	l := &x.record.Lines
	lines := map[int]*Written{}
	columns := map[int][]string{}
	add := func(line int, w *Written, names ...string) {
		lines[line], columns[line] = w, names
	}
	for i := range l.Torques {
		add(l.Torques[i].Line, &l.Torques[i].Written, WrenchSerial, CalibratedTo)
	}
	for i := range l.Gauges {
		add(l.Gauges[i].Line, &l.Gauges[i].Written, GaugeSerial, CalibratedTo)
	}
	for i := range l.Handovers {
		add(l.Handovers[i].Line, &l.Handovers[i].Written, GivenBy, TakenBy, DateAndTime)
	}
	for i := range l.Parts {
		add(l.Parts[i].Line, &l.Parts[i].Written, Batch)
	}
	for _, f := range x.f.Written {
		w := lines[f.Line]
		if w == nil || !slices.Contains(columns[f.Line], f.Column) {
			x.no("line %d of the record sheet has no column %q", f.Line, f.Column)
			continue
		}
		if *w == nil {
			*w = Written{}
		}
		(*w)[f.Column] = typedWords(f.Typed)
	}
}

// ticks fills the lines of the checks.
func (x *filler) ticks() {
	lines := x.record.Lines.Readings
	for _, f := range x.f.Ticks {
		if f.Line == 0 {
			continue
		}
		i := slices.IndexFunc(lines, func(own RecordReading) bool { return own.Line == f.Line })
		if i < 0 || !lines[i].Tick || lines[i].Step != f.Step {
			x.no("line %d of the record sheet is no check of step %q", f.Line, f.Step)
			continue
		}
		if f.Ticked != nil {
			lines[i].Ticked = typedWords(*f.Ticked)
		} else {
			lines[i].NotNeeded = f.Settled
		}
	}
}

// typedWords is what was typed, on one line. A character that no face has is named, "[U+1F44D]": whatever was typed, the record
// comes onto paper, and whole.
func typedWords(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	for {
		_, missing := letters.Encode(s)
		if len(missing) == 0 {
			return s
		}
		var b strings.Builder
		from := 0
		for _, m := range missing {
			fmt.Fprintf(&b, "%s[U+%04X]", s[from:m.Offset], m.Rune)
			from = m.Offset + utf8.RuneLen(m.Rune)
		}
		s = b.String() + s[from:] // an accent that stood on one of them may be left
	}
}

var (
	decimalFigure  = regexp.MustCompile(`^[+-]?(\d+([.,]\d+)?|[.,]\d+)$`)
	fractionFigure = regexp.MustCompile(`^([+-]?)(?:(\d+) )?(\d+)/(\d+)$`)
)

// mostFigures is how many characters a figure may have.
const mostFigures = 40

// figureOf reads what was typed as a reading: a point or a comma before the decimals, a sign, a fraction; nil for no figure.
func figureOf(typed string) *big.Rat {
	t := strings.Join(strings.Fields(strings.ReplaceAll(typed, "\ufeff", " ")), " ") // which is a blank to a browser
	for _, minus := range []string{"−", "–"} {
		if rest, ok := strings.CutPrefix(t, minus); ok {
			t = "-" + rest
		}
	}
	if len(t) > mostFigures {
		return nil
	}
	if decimalFigure.MatchString(t) {
		r, _ := new(big.Rat).SetString(strings.Replace(t, ",", ".", 1))
		return r
	}
	m := fractionFigure.FindStringSubmatch(t)
	if m == nil {
		return nil
	}
	part, ok := new(big.Rat).SetString(m[3] + "/" + m[4])
	if !ok {
		return nil // a division by nothing
	}
	if m[2] != "" {
		whole, _ := new(big.Rat).SetString(m[2])
		part.Add(part, whole)
	}
	if m[1] == "-" {
		part.Neg(part)
	}
	return part
}

// Judge holds what was typed as a reading against the limits of its box, "12–18", "3.0 ±0.1", "≥ 3", "≤ 0.05": one of Verdicts.
func Judge(typed, limits, unit string) string {
	switch typed = strings.TrimSpace(typed); {
	case typed == "":
		return NoReading
	case limits == "" && unit == "":
		return NotJudged
	}
	figure := figureOf(typed)
	if figure == nil {
		return NoFigure
	}
	low, high, ok := Bounds(limits, unit)
	near := func(r *big.Rat) float64 { f, _ := r.Float64(); return f } // as fine as the page reckons
	switch {
	case !ok:
		return NotJudged
	case low != nil && near(figure) < near(low):
		return TooLow
	case high != nil && near(figure) > near(high):
		return TooHigh
	}
	return Within
}

// Bounds reads back what a box says of its limits; a side that is open is nil, and ok is false where there are none that a
// figure can be held against.
func Bounds(limits, unit string) (low, high *big.Rat, ok bool) {
	if limits == "" {
		return nil, nil, false
	}
	limits = strings.Replace(strings.Replace(limits, "≥ ", "at least ", 1), "≤ ", "at most ", 1)
	v, problem := quantity.ParseLimit(limits + " " + unit)
	if problem != nil {
		return nil, nil, false
	}
	return v.Low.Rat, v.High.Rat, true
}
