package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"refitcard/render/document"
)

// A record sheet is filled in and read at 450 mm, on plain paper.
const (
	recordSize   = 10.5 // pt
	recordSmall  = 9.0  // pt, heads of columns and second lines
	recordRow    = 8.6  // mm, the least of a line to write in
	holdRow      = 11.0
	fieldHigh    = 12.0 // boxes at the head
	fieldApart   = 2.3
	ruledApart   = 7.8 // lines to write on
	releaseHigh  = 24.0
	recordLead   = recordSize * 1.25 * millimetre
	recordLead2  = recordSmall * 1.25 * millimetre
	rowPad       = 2.0 // mm above the first line and below the last one of a row that has several
	writeIn      = 1.5 // mm from an upright to what stands behind it
	leastRecord  = 170 // mm between the margins: less would not hold the columns
	recordPen    = 0.5 // pt, of uprights and rows
	releasePen   = 1.1 // pt
	aboveFoot    = 4.3 // mm between the release box and the foot's rule
	releaseInset = 2.8 // mm
)

// recordPlan is the one column plan of all tables of a record sheet: x in mm from the left margin.
type recordPlan struct {
	step             float64 // right edge
	what             float64
	number           float64 // of a part; name of who signs a hold
	signature        float64
	first, last      float64 // right edges of the figures: N·m, and limits or lbf·ft
	write1, write2   float64 // uprights
	write3, straight float64
}

// recordPlanOf gives the places of the picture of the page description; what a paper is wider or narrower than A4 goes to
// the words and to the room to write in.
func recordPlanOf(g grid) recordPlan {
	more := g.live - 186
	p := recordPlan{step: 19, what: 24, straight: g.live}
	p.number = 78.2 + 0.4*more
	p.signature = 114 + 0.6*more
	p.write1 = 104.1 + 0.55*more
	p.write2 = 130.1 + 0.7*more
	p.write3 = 156.1 + 0.85*more
	p.first, p.last = p.write1-20.1, p.write1-4.3
	return p
}

// recorder lays out one record sheet.
type recorder struct {
	*layout
	plan   recordPlan
	record *document.Record
	gap    float64  // mm above a section
	ruled  int      // the least number of lines to write on
	whole  bool     // short tables are not split
	long   []string // what is filled in and does not fit at its place: it stands among the remarks
	extra  float64  // mm that the lines to write on get beyond the least, to fill the last page
}

// LayRecord lays a record sheet out on pages: boxes to fill in, tables of readings, torques, holds and parts, lines to write
// on, and the box for the last signature at the foot of the last page.
func LayRecord(r *document.Record, opt Options) (*Document, error) {
	g, err := gridOf(opt)
	if err != nil {
		return nil, err
	}
	if g.live < leastRecord {
		return nil, fmt.Errorf("the columns of a record sheet do not fit on the paper %q: take a4, letter or a5-landscape", opt.Paper)
	}
	if opt.Sides != 1 {
		opt.Sides = 2
	}
	card := &document.JobCard{Header: r.Header, Foot: r.Foot, Language: "en"}
	p := &recorder{layout: &layout{card: card, opt: opt, grid: g, set: newSetter(), m: measuresOf(recordSize)}, plan: recordPlanOf(g), record: r}
	if p.code, err = ScanCode(r.Header.Payload); err != nil {
		return nil, fmt.Errorf("number and revision: %w", err)
	}
	p.unmarked = true
	leaves, err := p.fewest()
	if err != nil {
		return nil, err
	}
	// The last page has no mark of continuation: the release box stands right above the foot.
	p.extra = p.room() - leaves[len(leaves)-1].used + p.unmarkedRoom()
	d := p.document(leaves)
	d.Title += ", record sheet"
	return d, nil
}

// unmarkedRoom is what the last page has beyond the others: no mark of continuation stands there.
func (p *recorder) unmarkedRoom() float64 { return markGap + p.m.lead + 1.6 - aboveFoot }

// fewest lays the body out with the full white, four lines to write on and no table split; then with tables split, then with less
// white and fewer lines. Among those with the fewest pages it takes the first.
func (p *recorder) fewest() ([]leaf, error) {
	type try struct {
		gap   float64
		ruled int
		whole bool
	}
	var best []leaf
	var taken try
	var wrong error
	for _, t := range []try{
		{headGap, 4, true},
		{headGap, 4, false},
		{headGap * 0.8, 3, true},
		{headGap * 0.8, 3, false},
		{headGap * 0.65, 2, true},
		{headGap * 0.65, 2, false},
		{headGap * 0.5, 2, false},
	} {
		p.gap, p.ruled, p.whole = t.gap, t.ruled, t.whole
		leaves, err := paginate(p.body(), p.frame(taste{}))
		switch {
		case err != nil:
			wrong = err
		case best == nil || len(leaves) < len(best):
			best, taken = leaves, t
		}
	}
	if best == nil {
		return nil, wrong
	}
	p.gap, p.ruled, p.whole = taken.gap, taken.ruled, taken.whole
	return paginate(p.body(), p.frame(taste{}))
}

func (p *recorder) body() []piece {
	p.long = nil
	p.tooLong()
	ps := []piece{p.fields(p.record.Boxes, fieldHigh)}
	for _, said := range []document.Line{{Lead: "Rests on:", Runs: plainRun(p.record.Rests)}, {Lead: "Filled in", Runs: plainRun(p.record.Filled)}} {
		if wordsOf(said.Runs) != "" {
			ps = append(ps, p.said(said))
		}
	}
	l := &p.record.Lines
	for _, part := range [][]piece{
		p.readings(l.Readings), p.torques(l.Torques), p.gauges(l.Gauges),
		p.holds(l.Holds), p.handovers(l.Handovers),
		p.parts(l.Parts), p.remains(l.Remains),
	} {
		ps = append(ps, part...)
	}
	if l.Count() == 0 {
		ps = append(ps, p.nothing())
	}
	ps = append(ps, p.remarks()...)
	return append(ps, p.closing())
}

// fields is the grid of boxes to fill in before starting.
func (p *recorder) fields(boxes []document.RecordBox, high float64) piece {
	n := len(p.grid.cols)
	rows := (len(boxes) + n - 1) / n
	h := float64(rows)*(high+fieldApart) - fieldApart
	return piece{name: "boxes", topGap: 1.1, h: h, draw: func(c *canvas, y float64) {
		for i, box := range boxes {
			col := p.grid.cols[i%n]
			top := y + float64(i/n)*(high+fieldApart)
			c.frame(col.x, top, col.w, high, 0.75)
			c.box("field", col.x, top, col.w, high, strings.TrimRight(box.Label+": "+box.Typed, ": "))
			words := p.set.plain(Regular, box.Label).lines(signLabel, col.w-2*writeIn)
			c.lines(words[:1], ink{size: signLabel}, col.x+writeIn, top+1.4+capHeight(signLabel), recordLead2)
			p.typed(c, box.Typed, col.x+writeIn, col.w-2*writeIn, top+high-2.2)
		}
	}}
}

// again is what opens a further page above a piece: the boxes that tell whose job it is, and the heads of the table.
func (p *recorder) again(heads ...piece) []piece {
	var boxes []document.RecordBox
	for _, label := range p.record.Again {
		box := document.RecordBox{Label: label}
		for _, b := range p.record.Boxes {
			if b.Label == label {
				box = b
			}
		}
		boxes = append(boxes, box)
	}
	return append([]piece{p.fields(boxes, 10)}, heads...)
}

// said is a line of words below the boxes, with its lead in bold.
func (p *recorder) said(l document.Line) piece {
	lines := p.set.mixed(l.Lead, l.Runs).lines(recordSize, p.grid.live)
	h := capHeight(recordSize) + float64(len(lines)-1)*recordLead
	return piece{name: l.Lead, gapA: 4.2, topGap: 3, h: h, draw: func(c *canvas, y float64) {
		c.box("said", 0, y, p.grid.live, h, wordsOf(l.Runs))
		c.lines(lines, ink{size: recordSize}, 0, y+capHeight(recordSize), recordLead)
	}}
}

func plainRun(s string) []document.Run {
	if s == "" {
		return nil
	}
	return []document.Run{{Text: s}}
}

func (p *recorder) nothing() piece {
	return piece{name: "nothing", gapA: p.gap, again: p.again(), h: capHeight(recordSize), draw: func(c *canvas, y float64) {
		c.words(ink{size: recordSize}, 0, y+capHeight(recordSize), "Nothing is measured, torqued or signed on the way.")
	}}
}

func (p *recorder) readings(all []document.RecordReading) []piece {
	t := recordTable{
		title: "Checks and readings", heads: []recordHead{{"What", p.plan.what, false}, {"Limits", p.plan.last, true}},
		write: []recordHead{{"As found", p.plan.write1, false}, {"As left", p.plan.write2, false}, {"Initials", p.plan.write3, false}},
	}
	for _, r := range all {
		row := recordLine{line: r.Line, step: r.Step, what: []document.Run{{Text: r.What}}, small: []string{r.More}, until: p.plan.write1 - 2.5, tick: r.Tick, typed: readingFill(r)}
		if r.Limits != "" {
			row.right = []recordCell{{r.Limits, p.plan.last, true}}
		}
		t.rows = append(t.rows, row)
	}
	return p.table(t)
}

func (p *recorder) torques(all []document.RecordTorque) []piece {
	first := p.plan.first
	heads := [2]string{"N·m", "lbf·ft"}
	figures := func(r document.RecordTorque) [2]string { return [2]string{r.NewtonMetres, r.PoundFeet} }
	if p.record.PoundsFirst {
		heads = [2]string{"lbf·ft", "N·m"}
		figures = func(r document.RecordTorque) [2]string { return [2]string{r.PoundFeet, r.NewtonMetres} }
	}
	for _, r := range all { // two ranges side by side must not be read as one
		first = min(first, p.plan.last-textWidth(Regular, figures(r)[1], recordSize)-4)
	}
	t := recordTable{
		title: "Torques",
		heads: []recordHead{{"Count and fastener", p.plan.what, false}, {heads[0], first, true}, {heads[1], p.plan.last, true}},
		write: []recordHead{{document.WrenchSerial, p.plan.write1, false}, {document.CalibratedTo, p.plan.write2, false}, {"Initials", p.plan.write3, false}},
	}
	for _, r := range all {
		row := recordLine{line: r.Line, step: r.Step, what: countedRuns(r.Count, r.What), small: []string{r.More}, until: p.plan.write1 - 2.5}
		row.right = []recordCell{{figures(r)[0], first, true}, {figures(r)[1], p.plan.last, false}}
		row.typed = writtenFill(r.Written, t.write)
		t.rows = append(t.rows, row)
	}
	return p.table(t)
}

func (p *recorder) gauges(all []document.RecordGauge) []piece {
	t := recordTable{
		title: "Measuring tools", help: "the ones used", heads: []recordHead{{"Tool", p.plan.what, false}, {"Steps", p.plan.last, true}},
		write: []recordHead{{document.GaugeSerial, p.plan.write1, false}, {document.CalibratedTo, p.plan.write2, false}, {"Initials", p.plan.write3, false}},
	}
	for _, r := range all {
		t.rows = append(t.rows, recordLine{
			line: r.Line, what: []document.Run{{Text: r.Tool}}, until: p.plan.write1 - 2.5, right: []recordCell{{r.Steps, p.plan.last, false}}, typed: writtenFill(r.Written, t.write),
		})
	}
	return p.table(t)
}

func (p *recorder) holds(all []document.RecordHold) []piece {
	t := recordTable{
		title: "Hold points", help: "nobody goes past one unsigned", high: holdRow, heads: []recordHead{{"Who and what", p.plan.what, false}},
		write: []recordHead{{document.SignerName, p.plan.number, false}, {"Signature", p.plan.signature, false}, {document.DateAndTime, p.plan.write3, false}},
	}
	for _, r := range all {
		t.rows = append(t.rows, recordLine{line: r.Line, step: r.Step, what: []document.Run{{Text: r.Who}}, small: []string{r.What}, until: p.plan.number - 2.5, typed: writtenFill(r.Written, t.write)})
	}
	return p.table(t)
}

// handovers have their words in the wide column: what stands open may be a long list.
func (p *recorder) handovers(all []document.RecordHold) []piece {
	t := recordTable{
		title: "Handover", help: "only if the job is left there", high: holdRow, heads: []recordHead{{"What stands open", p.plan.what, false}},
		write: []recordHead{{document.GivenBy, p.plan.write1, false}, {document.TakenBy, p.plan.write2, false}, {document.DateAndTime, p.plan.write3, false}},
	}
	for _, r := range all {
		t.rows = append(t.rows, recordLine{
			line: r.Line, step: r.Step, what: []document.Run{{Text: r.What}}, small: r.Open, until: p.plan.write1 - 2.5,
			typed: writtenFill(r.Written, t.write),
		})
	}
	return p.table(t)
}

func (p *recorder) parts(all []document.RecordPart) []piece {
	t := recordTable{
		title: "Parts fitted", heads: []recordHead{{"Count and part", p.plan.what, false}, {"Number", p.plan.number, false}},
		write: []recordHead{{document.Batch, p.plan.write1, false}, {"Initials", p.plan.write3, false}},
	}
	for _, r := range all {
		row := recordLine{line: r.Line, step: r.Step, what: countedRuns(r.Count, r.Name), small: []string{r.More}, until: p.plan.number - 2.5}
		row.left = &recordCell{r.Number, p.plan.number, false}
		row.typed = writtenFill(r.Written, t.write)
		t.rows = append(t.rows, row)
	}
	return p.table(t)
}

func (p *recorder) remains(all []document.RecordRemain) []piece {
	t := recordTable{
		title: "What remains", help: "told to the foreman", heads: []recordHead{{"What", p.plan.what, false}},
		write: []recordHead{{"Initials", p.plan.write3, false}},
	}
	for _, r := range all {
		t.rows = append(t.rows, recordLine{line: r.Line, what: []document.Run{{Text: r.Lead + " ", Bold: true}, {Text: r.What}}, until: p.plan.write3 - 2.5})
	}
	return p.table(t)
}

// countedRuns puts a count in bold before a name.
func countedRuns(count, name string) []document.Run {
	if count == "" {
		return []document.Run{{Text: name}}
	}
	return []document.Run{{Text: count, Bold: true}, {Text: " " + name}}
}

// numbered gives a line's number as it prints.
func numbered(n int) string { return strconv.Itoa(n) }
