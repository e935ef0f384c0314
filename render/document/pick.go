package document

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/assembly"
	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
)

// PickList is what a technician draws before starting: of one job, or of several taken together.
type PickList struct {
	Header     Header
	Foot       Foot
	Jobs       []PickedJob
	Parts      []PickRow // to draw always
	AsRequired []PickRow // to draw only if the step finds the old one worn
	Supplies   []PickRow
	Tools      []PickRow
	Bags       []Bag
	ToolsInAll int
}

// PickedJob is one job of a list.
type PickedJob struct {
	Number, Revision, Date, Title, Machine, Variant string
	Times                                           string // "2 × wheel" when the job is done once for each
	Digest                                          string
}

// PickRow is one line: what to draw and where it lies.
type PickRow struct {
	Bin    string // bin of the store or place of the crib; empty when the lists do not give it
	Draw   string // "12", "up to 3", "2 × 1 L"
	Count  int    // the same as a number where it is one: pieces, packs, tools
	Item   string
	Detail string // spec or details, printed after the name
	Number string // of a part
	Needs  string // of a supply: what the job needs
	Serial string // of a tool: serial and calibration date, where the crib list gives them
	Signed bool   // of a tool: its serial is written down
	First  string // the first step of use, with the job's number where there are several jobs
	Remark string // what stands against drawing it: "2 held, 1 short", "calibration ran out on 2026-11-01"
}

// Bag is hardware that comes off and goes back: one bag and one label each.
type Bag struct {
	Letter  string
	Count   int
	Item    string
	Detail  string
	Off, On string // step names
	Where   string // what it goes back on
	Job     string // number of the job, where there are several
}

// PickInput is one job with its plays and the variant that is to be done.
type PickInput struct {
	Proc     *procedure.Procedure
	Plays    []assembly.Play
	Settings *library.Settings
	Variant  string
	Digest   string
	Units    string // metric or us, which prints first; empty: what the procedure or the library says
	On       string // the day of the work, 2026-12-01, that calibration is held against; empty: against none
}

// Pick makes the pick list of jobs that are drawn together. Parts and supplies add up, a tool is drawn once for all.
// Rows stand in the order of the bins, those without a bin behind them in the order of the steps.
func Pick(jobs []PickInput) *PickList {
	g := &gatherer{several: len(jobs) > 1, list: &PickList{}, rows: map[string]*gathered{}}
	for _, j := range jobs {
		g.job(j)
	}
	list := g.finish()
	list.Header, list.Foot = pickHeader(jobs), pickFoot(jobs)
	return list
}

// pickHeader is the header of the one job, or names all jobs that are drawn together; then there is no scan code, because a
// code leads to one source.
func pickHeader(jobs []PickInput) Header {
	if len(jobs) == 0 {
		return Header{Kind: "Pick list"}
	}
	h := header(jobs[0].Proc, jobs[0].Variant)
	h.Kind, h.Draft = "Pick list", false
	if n := jobs[0].Proc.Each.Count; n > 1 {
		h.Machine += fmt.Sprintf(", for all %s", procedure.CountName(n, jobs[0].Proc.Each.Name))
	}
	if len(jobs) == 1 {
		return h
	}
	var numbers []string
	for _, j := range jobs {
		numbers = append(numbers, j.Proc.Number.Value)
	}
	return Header{Kind: h.Kind, Number: strings.Join(numbers, ", "), Title: fmt.Sprintf("%d jobs drawn together", len(jobs))}
}

func pickFoot(jobs []PickInput) Foot {
	var s *library.Settings
	if len(jobs) > 0 {
		s = jobs[0].Settings
	}
	return Foot{
		Lead:      "A box still empty in the In column at the end of the job:",
		Wrong:     "stop and find the tool before the machine turns.",
		Statement: statement(s, "list"),
	}
}

// gatherer adds up the rows of several jobs.
type gatherer struct {
	several bool
	list    *PickList
	rows    map[string]*gathered
	order   []*gathered
}

// gathered is one row while it is being added up.
type gathered struct {
	row   PickRow
	kind  rowKind
	upTo  bool
	need  amount
	pack  string
	held  int // pieces or packs in stock, -1 where the list does not say
	stood int
}

type rowKind int

const (
	drawn rowKind = iota
	required
	supplied
	lent
)

func (g *gatherer) job(in PickInput) {
	p := in.Proc
	picked := PickedJob{
		Number: p.Number.Value, Revision: p.Revision.Value, Date: p.Date.Value, Title: p.Title.Value,
		Machine: p.Machine.Value, Variant: in.Variant, Digest: in.Digest,
	}
	if p.Each.Count > 1 {
		picked.Times = fmt.Sprintf("%d × %s", p.Each.Count, p.Each.Name)
	}
	g.list.Jobs = append(g.list.Jobs, picked)
	first := firstUses(in)
	for _, part := range p.Parts {
		if part.In(in.Variant) {
			g.part(in, part, first)
		}
	}
	others := othersOnly(in)
	for _, s := range p.Supplies {
		if !others(s) {
			g.supply(in, s, first)
		}
	}
	for _, t := range p.Tools {
		if !others(t) {
			g.tool(in, t, first)
		}
	}
	g.bags(in)
}

// times is how often the job is done.
func times(p *procedure.Procedure) int { return max(p.Each.Count, 1) }

func (g *gatherer) add(kind rowKind, key string, row PickRow) *gathered {
	key = fmt.Sprint(int(kind), "\x00", key)
	if old, ok := g.rows[key]; ok {
		return old
	}
	made := &gathered{row: row, kind: kind, stood: len(g.order), held: -1}
	g.rows[key] = made
	g.order = append(g.order, made)
	return made
}

func (g *gatherer) part(in PickInput, part *procedure.Part, first map[any]string) {
	kind := drawn
	switch part.Use {
	case procedure.ReplaceUse:
	case procedure.Add:
		if part.UpTo {
			kind = required
		}
	case procedure.IfWorn:
		kind = required
	default:
		return
	}
	row := PickRow{
		Bin: in.Settings.BinOf(part), Item: part.Name.Value, Detail: part.Spec.Value, Number: part.Number.Value,
		First: g.step(in, first[part]),
	}
	made := g.add(kind, procedure.Fold(part.Name.Value)+"\x00"+part.Number.Value+"\x00"+part.Spec.Value, row)
	made.row.Count += part.Qty * times(in.Proc)
	made.held = in.Settings.StockOf(part).Held
	made.upTo = made.upTo || part.UpTo
}

func (g *gatherer) supply(in PickInput, s *procedure.Supply, first map[any]string) {
	if s.FromMachine {
		return
	}
	row := PickRow{Bin: in.Settings.SupplyBin(s), Item: s.Name.Value, Detail: s.Detail, First: g.step(in, first[s])}
	made := g.add(supplied, procedure.Fold(s.Name.Value)+"\x00"+s.Detail, row)
	made.need.add(s, times(in.Proc))
	made.pack = in.Settings.PackOf(s)
	made.held = in.Settings.SupplyOf(s).Held
}

func (g *gatherer) tool(in PickInput, t *procedure.Tool, first map[any]string) {
	row := PickRow{Count: 1, Draw: "1", First: g.step(in, first[t])}
	var names []string
	for i, c := range t.Choices {
		names = append(names, c.Name)
		line := in.Settings.CribOf(c)
		if row.Bin == "" {
			row.Bin = line.Crib
		}
		if i == len(t.Choices)-1 {
			row.Detail = c.Detail
		}
		row.Signed = row.Signed || c.Kind.Calibrated()
		if in.On != "" && line.CalibratedTo != "" && line.CalibratedTo < in.On { // days of this form sort as they follow
			row.Remark = "calibration ran out on " + line.CalibratedTo
		}
		if line.Serial != "" {
			row.Serial = line.Serial
			if line.CalibratedTo != "" {
				row.Serial += ", " + line.CalibratedTo
			}
		}
	}
	row.Item = strings.Join(names, " or ")
	g.add(lent, procedure.Fold(t.Whole), row)
}

// step names a step of a job: with the job's number where there are several.
func (g *gatherer) step(in PickInput, name string) string {
	if name == "" || !g.several {
		return name
	}
	return in.Proc.Number.Value + ": " + name
}

// firstUses finds, for every part, supply and tool, the step that first needs it.
func firstUses(in PickInput) map[any]string {
	first := map[any]string{}
	note := func(thing any, step *procedure.Step) {
		if _, ok := first[thing]; !ok {
			first[thing] = step.Name()
		}
	}
	eachStep(in.Proc, in.Variant, func(s *procedure.Step) {
		for _, a := range s.Acts {
			if a.Tool != nil {
				note(a.Tool, s)
			}
			for _, o := range slices.Concat(a.Objects, a.Mentions) { // what is only named in an act has to be at hand too
				switch {
				case o.Supply != nil:
					note(o.Supply, s)
				case o.Tool != nil:
					note(o.Tool, s)
				}
			}
			if !putsOn(a) {
				continue
			}
			for _, o := range a.Objects {
				if o.Part != nil {
					note(o.Part, s)
				}
			}
		}
	})
	return first
}

// othersOnly tells of a tool or a supply whether only steps of other variants use it: then it is not drawn for this one. What no
// step uses at all is drawn: the writer has listed it for a reason.
func othersOnly(in PickInput) func(thing any) bool {
	if in.Variant == "" {
		return func(any) bool { return false }
	}
	own := firstUses(in)
	in.Variant = ""
	all := firstUses(in)
	return func(thing any) bool { return own[thing] == "" && all[thing] != "" }
}

// putsOn tells whether an act puts a part on the machine: that is when it has to be at hand.
func putsOn(a *procedure.Act) bool {
	return slices.Contains([]string{"install", "replace", "snug"}, a.Verb.Name)
}

// eachStep visits the steps that a variant has, sub-steps behind their parents.
func eachStep(p *procedure.Procedure, variant string, visit func(*procedure.Step)) {
	var walk func([]*procedure.Step)
	walk = func(steps []*procedure.Step) {
		for _, s := range steps {
			if len(s.For) > 0 && variant != "" && !slices.ContainsFunc(s.For, func(t procedure.Text) bool { return t.Value == variant }) {
				continue
			}
			visit(s)
			walk(s.Steps)
		}
	}
	for _, stage := range p.Stages {
		walk(stage.Steps)
	}
}

// finish puts the rows in order and works out what to draw.
func (g *gatherer) finish() *PickList {
	slices.SortStableFunc(g.order, func(a, b *gathered) int {
		if (a.row.Bin == "") != (b.row.Bin == "") {
			if a.row.Bin == "" {
				return 1
			}
			return -1
		}
		return natural(a.row.Bin, b.row.Bin)
	})
	for _, r := range g.order {
		switch r.kind {
		case drawn:
			r.row.Draw = fmt.Sprint(r.row.Count)
			r.short(r.row.Count)
			g.list.Parts = append(g.list.Parts, r.row)
		case required:
			r.row.Draw = fmt.Sprint(r.row.Count)
			if r.upTo {
				r.row.Draw = "up to " + r.row.Draw
			}
			r.short(r.row.Count)
			g.list.AsRequired = append(g.list.AsRequired, r.row)
		case supplied:
			r.row.Draw, r.row.Needs, r.row.Count = r.need.draw(r.pack)
			r.short(r.row.Count)
			g.list.Supplies = append(g.list.Supplies, r.row)
		case lent:
			g.list.ToolsInAll += r.row.Count
			g.list.Tools = append(g.list.Tools, r.row)
		}
	}
	return g.list
}

// short says that the stock does not hold what is to be drawn, where both are known.
func (r *gathered) short(wanted int) {
	if r.held >= 0 && wanted > r.held {
		r.row.Remark = fmt.Sprintf("%d held, %d short", r.held, wanted-r.held)
	}
}

// natural compares bins so that P2-7 stands before P2-11: digits as numbers, the rest as bytes.
func natural(a, b string) int {
	for a != "" && b != "" {
		da, db := digits(a), digits(b)
		if da > 0 && db > 0 {
			x, y := strings.TrimLeft(a[:da], "0"), strings.TrimLeft(b[:db], "0")
			if len(x) != len(y) {
				return len(x) - len(y)
			}
			if c := strings.Compare(x, y); c != 0 {
				return c
			}
			a, b = a[da:], b[db:]
			continue
		}
		if a[0] != b[0] {
			return int(a[0]) - int(b[0])
		}
		a, b = a[1:], b[1:]
	}
	return len(a) - len(b)
}

func digits(s string) int {
	n := 0
	for n < len(s) && '0' <= s[n] && s[n] <= '9' {
		n++
	}
	return n
}
