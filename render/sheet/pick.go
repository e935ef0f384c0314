package sheet

import (
	"fmt"

	"refitcard/render/document"
)

// A pick list is read at 450 mm, on plain paper.
const (
	pickSize  = 11.0 // pt
	pickRow   = 8.4  // mm
	pickTick  = 5.5
	signHigh  = 13.0
	listHead  = 13.5 // pt, of a section
	helpSize  = 11.0
	headGap   = 5.4 // mm above a section head
	columnPt  = 9.5 // heads of columns
	signLabel = 9.0
)

// plan is the one column plan of all tables of a pick list: x in mm from the left margin.
type plan struct {
	out, in    float64 // ticks
	place      float64 // bin, crib or bag
	count      float64 // right edge
	item       float64
	number     float64
	off, first float64 // right edges
	narrow     bool    // the number stands below the item
}

func planOf(g grid) plan {
	switch {
	case g.live < 100:
		return plan{out: 0, in: 9, place: 18.5, count: 33, item: 36, number: g.live, off: g.live - 16, first: g.live, narrow: true}
	case g.live < 170:
		return plan{out: 0, in: 9, place: 18.5, count: 47, item: 50, number: g.live, off: g.live - 22, first: g.live, narrow: true}
	}
	return plan{out: 0, in: 11, place: 24, count: 61, item: 65, number: 130, off: 148, first: g.live}
}

// picker lays out one pick list.
type picker struct {
	*layout
	plan plan
	list *document.PickList
}

// LayPick lays a pick list out on pages: parts, supplies, tools and hardware bags as tables with boxes to tick.
func LayPick(list *document.PickList, opt Options) (*Document, error) {
	g, err := gridOf(opt)
	if err != nil {
		return nil, err
	}
	if opt.Sides != 1 {
		opt.Sides = 2
	}
	card := &document.JobCard{Header: list.Header, Foot: list.Foot, Language: "en"}
	p := &picker{layout: &layout{card: card, opt: opt, grid: g, set: newSetter(), m: measuresOf(pickSize)}, plan: planOf(g), list: list}
	if list.Header.Payload != "" {
		if p.code, err = ScanCode(list.Header.Payload); err != nil {
			return nil, fmt.Errorf("number and revision: %w", err)
		}
	}
	p.unmarked = true
	leaves, err := paginate(p.tables(), p.frame(taste{}))
	if err != nil {
		return nil, err
	}
	return p.document(leaves), nil
}

// entry is one row of a table.
type entry struct {
	ticks              int
	place, count       string
	item, detail       string
	number, off, first string
	remark             string // what stands against drawing it
	write              bool   // a line to write on stands in the number's place
	boldPlace          bool
}

// table is one section.
type table struct {
	title, help          string
	heads                [2]string // over the ticks
	place, count, number string
	off, first           string
	rows                 []entry
	total                int // printed below both ticks; 0: none
	totalWords           string
}

func (p *picker) tables() []piece {
	var ps []piece
	for _, t := range p.sections() {
		if len(t.rows) > 0 {
			ps = append(ps, p.table(t)...)
		}
	}
	if len(ps) == 0 {
		words := p.set.plain(Regular, "Nothing has to be drawn for this job.").lines(pickSize, p.grid.live)
		ps = append(ps, piece{name: "nothing", h: capHeight(pickSize) + 2, gapA: headGap, topGap: 3, draw: func(c *canvas, y float64) {
			c.lines(words, ink{size: pickSize}, 0, y+capHeight(pickSize), p.m.lead)
		}})
	}
	return append(ps, p.signing()...)
}

func (p *picker) sections() []table {
	parts := table{title: "Parts", help: "draw these", heads: [2]string{"Out"}, place: "Bin", count: "Count", number: "Number", first: "First step", rows: rowsOf(p.list.Parts, 1)}
	required := parts
	required.title, required.help, required.rows = "Parts as required", "draw only if the step finds the old one worn", rowsOf(p.list.AsRequired, 1)
	supplies := table{title: "Supplies", help: "rounded up to whole packs", heads: [2]string{"Out"}, place: "Bin", count: "Draw", number: "The job needs", first: "First step"}
	for _, r := range p.list.Supplies {
		if p.plan.narrow && r.Needs != "" { // there is no column whose head would say it
			r.Needs = "the job needs " + r.Needs
		}
		supplies.rows = append(supplies.rows, entry{ticks: 1, place: r.Bin, count: r.Draw, item: r.Item, detail: r.Detail, number: r.Needs, first: r.First, remark: r.Remark})
	}
	tools := table{title: "Tools", help: "count them out, count them in", heads: [2]string{"Out", "In"}, place: "Crib", count: "Count", number: serialWords, first: "First step", rows: rowsOf(p.list.Tools, 2), total: p.list.ToolsInAll, totalWords: "tools in all"}
	if tools.total == 1 {
		tools.totalWords = "tool in all"
	}
	for i, r := range p.list.Tools {
		tools.rows[i].number, tools.rows[i].write = r.Serial, r.Signed && r.Serial == ""
		if p.plan.narrow && r.Serial != "" {
			tools.rows[i].number = "serial " + r.Serial
		}
	}
	bags := table{title: "Hardware bags", help: "one bag and one label each; nothing loose on the bench", heads: [2]string{"Full", "Empty"}, place: "Bag", count: "Count", off: "Off", first: "Back on"}
	for _, b := range p.list.Bags {
		bags.rows = append(bags.rows, entry{
			ticks: 2, place: b.Letter, count: fmt.Sprint(b.Count), item: b.Item, detail: b.Detail, boldPlace: true,
			off: stepNamed(b.Job, b.Off), first: stepNamed(b.Job, b.On),
		})
	}
	if p.grid.live < smallList {
		bags.off, bags.first = "", ""
		for i := range bags.rows {
			bags.rows[i].inWords()
		}
	}
	return append(p.jobs(), parts, required, supplies, tools, bags)
}

// inWords says where a thing comes off and goes back on behind its name, where paper has no columns for it.
func (e *entry) inWords() {
	for _, s := range []struct{ lead, step string }{{"off ", e.off}, {"back on ", e.first}} {
		if s.step == "" {
			continue
		}
		if e.detail != "" {
			e.detail += ", "
		}
		e.detail += s.lead + s.step
	}
	e.off, e.first = "", ""
}

// jobs lists the jobs that are drawn together.
func (p *picker) jobs() []table {
	if len(p.list.Jobs) < 2 {
		return nil
	}
	t := table{title: "Jobs", help: "this list is for all of them together", place: "Number", number: "Machine", first: "Source"}
	for _, j := range p.list.Jobs {
		more := "revision " + j.Revision
		for _, s := range []string{j.Variant, j.Times} {
			if s != "" {
				more += ", " + s
			}
		}
		t.rows = append(t.rows, entry{place: j.Number, item: j.Title, detail: more, number: j.Machine, first: j.Digest[:4] + "-" + j.Digest[4:]})
	}
	return []table{t}
}

func rowsOf(rows []document.PickRow, ticks int) []entry {
	var es []entry
	for _, r := range rows {
		es = append(es, entry{ticks: ticks, place: r.Bin, count: r.Draw, item: r.Item, detail: r.Detail, number: r.Number, first: r.First, remark: r.Remark})
	}
	return es
}

func stepNamed(job, step string) string {
	switch {
	case step == "":
		return "stays off"
	case job != "":
		return job + ": " + step
	}
	return "step " + step
}

// table gives the pieces of a section: its head with the heads of the columns, then a piece a row.
func (p *picker) table(t table) []piece {
	head := p.tableHead(t)
	ps := []piece{head}
	again := p.columnHeads(t)
	for _, e := range t.rows {
		row := p.row(e)
		row.again = []piece{again}
		ps = append(ps, row)
	}
	if t.total > 0 {
		ps[len(ps)-1].keep = hard
		ps = append(ps, piece{name: "total", h: pickRow, draw: func(c *canvas, y float64) {
			base := y + (pickRow+capHeight(pickSize))/2
			n := fmt.Sprint(t.total)
			c.box("total", 0, y, p.grid.live, pickRow, n)
			c.wordsMiddle(ink{face: Bold, size: pickSize}, p.plan.out+pickTick/2, base, n)
			c.wordsMiddle(ink{face: Bold, size: pickSize}, p.plan.in+pickTick/2, base, n)
			c.words(ink{size: pickSize}, p.plan.place, base, t.totalWords)
			c.rule(0, p.grid.live, y+pickRow, 0.5, Colour{})
		}})
	}
	return ps
}

// columnsDown is from the baseline of a section's head to the baseline of the heads of its columns, rulesDown from there to
// the rule, in mm.
const (
	columnsDown = 5.9
	rulesDown   = 1.8
)

// smallList is the width in mm between the margins below which section heads stand without the words that explain them, and steps
// without columns of their own.
const smallList = 100

func (p *picker) tableHead(t table) piece {
	cap := capHeight(listHead)
	helpX, lead := textWidth(Bold, t.title, listHead)+4, helpSize*1.25*millimetre
	var help []line
	if p.grid.live >= smallList {
		help = p.set.plain(Regular, t.help).lines(helpSize, p.grid.live-helpX)
	}
	more := float64(max(len(help), 1)-1) * lead
	return piece{name: t.title, gapA: headGap, topGap: 3, h: cap + more + columnsDown + rulesDown, keep: hard, draw: func(c *canvas, y float64) {
		base := y + cap
		c.box("section", 0, y, p.grid.live, cap+more, t.title)
		c.words(ink{face: Bold, size: listHead, role: Heading2}, 0, base, t.title)
		if len(help) > 0 {
			c.lines(help, ink{size: helpSize}, helpX, base, lead)
		}
		p.heads(c, t, base+more+columnsDown)
	}}
}

func (p *picker) columnHeads(t table) piece {
	cap := capHeight(columnPt)
	return piece{name: t.title, topGap: 3, h: cap + rulesDown, draw: func(c *canvas, y float64) { p.heads(c, t, y+cap) }}
}

func (p *picker) heads(c *canvas, t table, base float64) {
	i := ink{size: columnPt}
	for n, x := range []float64{p.plan.out, p.plan.in} {
		c.wordsMiddle(i, max(x+pickTick/2, textWidth(Regular, t.heads[n], columnPt)/2), base, t.heads[n])
	}
	placeX := p.plan.place
	if t.heads[0] == "" {
		placeX = 0
	}
	c.words(i, placeX, base, t.place)
	count := t.count
	if placeX+textWidth(Regular, t.place, columnPt)+1 > p.plan.count-textWidth(Regular, count, columnPt) {
		count = "No." // on A6
	}
	c.wordsRight(i, p.plan.count, base, count)
	c.words(i, p.plan.item, base, "Item")
	if !p.plan.narrow {
		c.words(i, p.plan.number, base, t.number)
	}
	if t.off != "" {
		c.wordsRight(i, p.plan.off, base, t.off)
	}
	c.wordsRight(i, p.plan.first, base, t.first)
	c.rule(0, p.grid.live, base+rulesDown-0.5*millimetre, 1, Colour{})
}

// writeLead is how far below a tool's name the line for its serial stands on narrow paper, in mm: room for a pen.
const writeLead = 7.0

// serialWords say what is written down of a tool that is calibrated.
const serialWords = "Serial, calibrated to"

// row is one line of a table; words too long for their column take more lines.
func (p *picker) row(e entry) piece {
	until := p.plan.number - 3
	switch {
	case e.off != "":
		until = p.plan.off - textWidth(Regular, e.off, pickSize) - 3
	case p.plan.narrow:
		until = p.plan.first - textWidth(Regular, e.first, pickSize) - 3
	}
	detail := e.detail
	if p.plan.narrow && e.number != "" {
		if detail != "" {
			detail += ", "
		}
		detail += e.number
	}
	runs := []document.Run{{Text: e.item, Bold: true}}
	if detail != "" {
		runs = append(runs, document.Run{Text: ", " + detail})
	}
	if e.remark != "" {
		runs = append(runs, document.Run{Text: ": "}, document.Run{Text: e.remark, Bold: true})
	}
	item := p.set.of(runs).lines(pickSize, until-p.plan.item)
	var number []line
	if !p.plan.narrow && e.number != "" {
		number = p.set.plain(Regular, e.number).lines(pickSize, p.plan.first-textWidth(Regular, e.first, pickSize)-3-p.plan.number)
	}
	place := p.set.plain(Regular, e.place)
	if e.boldPlace {
		place = p.set.plain(Bold, e.place)
	}
	placeX := p.plan.place
	if e.ticks == 0 {
		placeX = 0
	}
	places := place.lines(pickSize, max(p.plan.count-textWidth(Bold, e.count, pickSize)-2, placeX+10)-placeX)
	lead := pickSize * 1.25 * millimetre
	drop := 0 // the place stands a line lower where a long count needs its room
	if len(places) > 0 && placeX+places[0].width+1 > p.plan.count-textWidth(Bold, e.count, pickSize) {
		drop = 1
	}
	below := p.plan.narrow && e.write // the serial has a line of its own
	h := pickRow + float64(max(len(item), len(number), len(places)+drop)-1)*lead
	if below {
		h = max(h, pickRow+float64(len(item)-1)*lead) + writeLead
	}
	return piece{name: e.item, h: h, draw: func(c *canvas, y float64) {
		base := y + (pickRow+capHeight(pickSize))/2
		c.box("row", 0, y, p.grid.live, h, e.item)
		for _, x := range []float64{p.plan.out, p.plan.in}[:e.ticks] {
			c.tick(x, y+(pickRow-pickTick)/2, pickTick)
		}
		i := ink{size: pickSize}
		c.lines(places, i, placeX, base+float64(drop)*lead, lead)
		c.wordsRight(ink{face: Bold, size: pickSize}, p.plan.count, base, e.count)
		c.lines(item, i, p.plan.item, base, lead)
		c.lines(number, i, p.plan.number, base, lead)
		switch {
		case below:
			low := base + float64(len(item)-1)*lead + writeLead
			w := c.words(i, p.plan.item, low, serialWords)
			c.rule(p.plan.item+w+1.5, p.grid.live, low+1, 0.5, Colour{})
		case e.write:
			c.rule(p.plan.number, p.plan.number+34, base+1, 0.5, Colour{})
		}
		if e.off != "" {
			c.wordsRight(i, p.plan.off, base, e.off)
		}
		c.wordsRight(i, p.plan.first, base, e.first)
		c.rule(0, p.grid.live, y+h, 0.5, Colour{})
	}}
}

// signing are the boxes for who drew and who returned, a piece a row.
func (p *picker) signing() []piece {
	labels := []string{"Drawn by", "Date, time", "Returned by", "Date, time"}
	n := len(p.grid.cols)
	var ps []piece
	for from := 0; from < len(labels); from += n {
		gap, hold := 2.0, free
		if from == 0 {
			gap = 6.6
		}
		if n == 1 && from%2 == 0 {
			hold = hard // a name and its date
		}
		ps = append(ps, piece{name: "signing boxes", keep: hold, gapA: gap, topGap: 3, h: signHigh, draw: func(c *canvas, y float64) {
			for i, label := range labels[from:min(from+n, len(labels))] {
				col := p.grid.cols[i]
				c.frame(col.x, y, col.w, signHigh, 0.75)
				c.box("sign", col.x, y, col.w, signHigh, label)
				c.words(ink{size: signLabel}, col.x+1.5, y+1.4+capHeight(signLabel), label)
			}
		}})
	}
	return ps
}
