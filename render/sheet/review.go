package sheet

import (
	"fmt"
	"strings"

	"refitcard/render/document"
)

// A review sheet is read at 450 mm, on plain paper.
const (
	reviewSize  = 10.0 // pt
	reviewHead  = 9.0  // pt, heads of columns, second lines
	reviewRow   = 6.7  // mm
	reviewLead  = reviewSize * 1.25 * millimetre
	smallLead   = reviewHead * 1.25 * millimetre
	standSize   = 12.5 // pt, of the line that says how the procedure stands
	leastReview = 170  // mm between the margins: less would not hold the ledger
)

// reviewer lays out one review sheet.
type reviewer struct {
	*layout
	review *document.Review
	gap    float64 // mm above a section
}

// LayReview lays a review sheet out on pages: how the procedure stands, findings, waivers, ledger, torques, messages, tools,
// changes, and boxes to sign in.
func LayReview(r *document.Review, opt Options) (*Document, error) {
	g, err := gridOf(opt)
	if err != nil {
		return nil, err
	}
	if g.live < leastReview {
		return nil, fmt.Errorf("the ledger of a review sheet does not fit on the paper %q: take a4, letter or a5-landscape", opt.Paper)
	}
	if opt.Sides != 1 {
		opt.Sides = 2
	}
	card := &document.JobCard{Header: r.Header, Foot: r.Foot, Language: "en"}
	p := &reviewer{layout: &layout{card: card, opt: opt, grid: g, set: newSetter(), m: measuresOf(reviewSize)}, review: r}
	if p.code, err = ScanCode(r.Header.Payload); err != nil {
		return nil, fmt.Errorf("number and revision: %w", err)
	}
	p.unmarked = true
	leaves, err := p.tightest()
	if err != nil {
		return nil, err
	}
	return p.document(leaves), nil
}

// tightest lays the body out with the full white above its sections, or with less where that saves a page.
func (p *reviewer) tightest() ([]leaf, error) {
	p.gap = headGap
	leaves, err := paginate(p.body(), p.frame(taste{}))
	if err != nil {
		return nil, err
	}
	for _, gap := range []float64{headGap * 0.8, headGap * 0.65} {
		p.gap = gap
		if fewer, err := paginate(p.body(), p.frame(taste{})); err == nil && len(fewer) < len(leaves) {
			return fewer, nil
		}
	}
	p.gap = headGap
	return paginate(p.body(), p.frame(taste{}))
}

func (p *reviewer) body() []piece {
	ps := []piece{p.standing()}
	for _, part := range [][]piece{
		p.findings(), p.waived(), p.ledgers(), p.torques(), p.messages(), p.tools(), p.changes(),
	} {
		ps = append(ps, part...)
	}
	if n := len(ps); n > 2 {
		ps[n-1].keep, ps[n-2].keep = hard, max(ps[n-2].keep, soft) // no page with the boxes alone
	}
	return append(ps, p.sign())
}

// standing is the one line that says how the procedure stands.
func (p *reviewer) standing() piece {
	s := p.review.Standing
	lines := p.set.mixed(s.Counts, []document.Run{{Text: s.Ledger}}).lines(standSize, p.grid.live)
	lead := standSize * 1.25 * millimetre
	h := capHeight(standSize) + float64(len(lines)-1)*lead + below(standSize)
	return piece{name: "standing", topGap: 4, h: h, draw: func(c *canvas, y float64) {
		c.box("standing", 0, y, p.grid.live, h, s.Counts+" "+s.Ledger)
		c.lines(lines, ink{size: standSize}, 0, y+capHeight(standSize), lead)
	}}
}

func (p *reviewer) findings() []piece {
	live := p.grid.live
	fields := []field{{"Where", 0, 20, false}, {"Weight", 22, 38, false}, {"Check", 40, 79, false}, {"Finding, and what to do", 81, live, false}}
	var rows [][]rowCell
	for _, f := range p.review.Findings {
		where := plainCell(f.Where)
		if f.Line != f.Where {
			where.small = f.Line
		}
		weight := plainCell(f.Severity)
		if f.Severity == "error" {
			weight = boldCell("ERROR")
		}
		rows = append(rows, []rowCell{where, weight, plainCell(f.Rule), {runs: []document.Run{{Text: f.Message}}, small: f.Do}})
	}
	return p.section("Findings", "the heaviest first", fields, rows)
}

func (p *reviewer) waived() []piece {
	fields := []field{{"Where", 0, 20, false}, {"Check", 22, 79, false}, {"Finding, and why it may pass", 81, p.grid.live, false}}
	var rows [][]rowCell
	for _, f := range p.review.Waived {
		rows = append(rows, []rowCell{boldCell(f.Where), plainCell(f.Rule), {runs: []document.Run{{Text: f.Message}}, small: f.Do}})
	}
	return p.section("Waived", "each with its reason", fields, rows)
}

// torques is the table of all torques. Where all rows have the same frictions they stand in the heads.
func (p *reviewer) torques() []piece {
	live := p.grid.live
	heads := [3]string{"least friction", "middle", "most friction"}
	common := commonFrictions(p.review.Torques)
	for i, k := range common {
		heads[i] = "K " + k
	}
	ends := [3]float64{live - 59, live - 29.5, live}
	first, second := "N·m", "lbf·ft"
	if p.review.PoundsFirst {
		first, second = second, first
	}
	fields := []field{{"Step", 0, 10, false}, {"Count and fastener", 12, 66, false}, {first, 80, 0, true}, {second, 99, 0, true}}
	for i, x := range ends {
		fields = append(fields, field{"", x - 11.5, 0, true}, field{heads[i], x, 0, true})
	}
	var rows [][]rowCell
	for _, t := range p.review.Torques {
		rows = append(rows, torqueCells(t, common == nil, p.review.PoundsFirst))
	}
	return p.section("Torques", "preload in kN and share of proof load, by the nut factor K", fields, rows)
}

// torqueCells gives the cells of a torque.
func torqueCells(t document.ReviewTorque, frictions, poundsFirst bool) []rowCell {
	what := rowCell{runs: []document.Run{{Text: t.Count, Bold: true}, {Text: " " + t.What}}}
	if t.Count == "" {
		what.runs = []document.Run{{Text: t.What}}
	}
	if t.Spec != "" {
		what.runs = append(what.runs, document.Run{Text: ", "}, document.Run{Text: t.Spec, Keep: true})
	}
	if t.Friction != "" {
		what.runs = append(what.runs, document.Run{Text: ", " + t.Friction})
	}
	what.small = t.More
	first, second := t.NewtonMetres, t.PoundFeet
	if poundsFirst {
		first, second = second, first
	}
	row := []rowCell{boldCell(t.Step), what, boldCell(first), plainCell(second)}
	if len(t.Loads) == 0 {
		return append(row, rowCell{}, rowCell{}, rowCell{}, rowCell{}, rowCell{}, plainCell(t.None))
	}
	for _, l := range t.Loads {
		preload, share := plainCell(l.Preload), plainCell(l.Share)
		if l.Over {
			preload, share = boldCell(l.Preload), boldCell(l.Share)
		}
		if frictions {
			share.small = "K " + l.K
		}
		row = append(row, preload, share)
	}
	return row
}

// commonFrictions gives the frictions when all rows that have any have the same.
func commonFrictions(all []document.ReviewTorque) []string {
	var common []string
	for _, t := range all {
		for i, l := range t.Loads {
			if len(common) <= i {
				common = append(common, l.K)
			}
			if common[i] != l.K {
				return nil
			}
		}
	}
	return common
}

func (p *reviewer) messages() []piece {
	fields := []field{{"Before", 0, 22, false}, {"Word", 24, 49, false}, {"Hazard, and what to do", 51, p.grid.live, false}}
	var rows [][]rowCell
	for _, m := range p.review.Messages {
		runs := []document.Run{{Text: m.Hazard, Bold: true}}
		if m.Rest != "" {
			runs = append(runs, document.Run{Text: " " + m.Rest})
		}
		rows = append(rows, []rowCell{plainCell(m.Before), boldCell(m.Signal), {runs: runs}})
	}
	if len(rows) == 0 {
		return p.note("Safety messages", "", "None stands in this procedure.")
	}
	return p.section("Safety messages", "all of them", fields, rows)
}

func (p *reviewer) tools() []piece {
	half := (p.grid.live + 6) / 2
	fields := []field{{"Tool", 0, half - 30, false}, {"Steps", half - 28, half - 6, false}, {"Tool", half, half + half - 36, false}, {"Steps", half + half - 34, p.grid.live, false}}
	all := p.review.Tools
	down := (len(all) + 1) / 2 // run down the left column, then the right one
	if len(all) < 2 {
		fields = fields[:2]
	}
	var rows [][]rowCell
	for i := range down {
		row := toolCells(all[i])
		if i+down < len(all) {
			row = append(row, toolCells(all[i+down])...)
		}
		rows = append(rows, row)
	}
	return p.section("Tools", "and the steps that use them", fields, rows)
}

func toolCells(t document.ReviewTool) []rowCell {
	if len(t.Steps) == 0 {
		return []rowCell{plainCell(t.Tool), boldCell("none")}
	}
	return []rowCell{plainCell(t.Tool), plainCell(strings.Join(t.Steps, ", "))}
}

func (p *reviewer) changes() []piece {
	if p.review.Since == "" {
		return nil
	}
	title := "Changed since revision " + p.review.Since
	const help = "in meaning, not in wording"
	half := 16 + (p.grid.live-16)/2
	fields := []field{{"Step", 0, 14, false}, {"Was", 16, half - 3, false}, {"Is now", half, p.grid.live, false}}
	var rows [][]rowCell
	for _, c := range p.review.Changes {
		rows = append(rows, []rowCell{boldCell(c.Step), plainCell(c.Was), boldCell(c.Now)})
	}
	if len(rows) == 0 {
		return p.note(title, help, "Nothing.")
	}
	return p.section(title, help, fields, rows)
}

// sign is the row of boxes to sign in, with the names that are known.
func (p *reviewer) sign() piece {
	return piece{name: "signing boxes", gapA: p.gap + 1.2, topGap: 3, h: signHigh, draw: func(c *canvas, y float64) {
		for i, s := range p.review.Signing {
			col := p.grid.cols[i%len(p.grid.cols)]
			c.frame(col.x, y, col.w, signHigh, 0.75)
			c.box("sign", col.x, y, col.w, signHigh, s.Label)
			base := y + 1.4 + capHeight(signLabel)
			c.words(ink{size: signLabel}, col.x+1.5, base, s.Label)
			if names := p.set.plain(Bold, s.Name).lines(signLabel, col.w-3); s.Name != "" {
				c.lines(names[:min(len(names), 2)], ink{size: signLabel}, col.x+1.5, base+smallLead, smallLead)
			}
		}
	}}
}
