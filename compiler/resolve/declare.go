package resolve

import (
	"cmp"
	"iter"
	"slices"
	"strconv"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// declarations reads the sections Parts, Tools and Supplies of the main file and of what it includes.
func (r *resolver) declarations() {
	r.declare(r.in.Main)
	r.silent()
	r.included = true
	for i, x := range r.in.Includes {
		if !slices.ContainsFunc(r.in.Includes[:i], func(o Included) bool { return o.Tree.File == x.Tree.File }) {
			r.declare(x.Tree)
		}
	}
	r.included = false
}

func (r *resolver) declare(t *syntax.Tree) {
	var seen [len(sections)]*syntax.Section
	for _, s := range t.Sections {
		kind := declares(t, s)
		if kind == "" {
			continue
		}
		if kind != strings.ToLower(s.Title) && !r.included {
			r.fault("section/silent", s.TitleAt, strings.ToUpper(kind[:1])+kind[1:])
		}
		if first := &seen[slices.Index(sections[:], kind)]; *first != nil {
			r.fault("section/repeated", s.TitleAt, s.Title).Related = related((*first).TitleAt, "first here")
		} else {
			*first = s
		}
		section := r.section(kind)
		if !r.included {
			section.At = s.TitleAt
		}
		for _, b := range s.Blocks {
			if r.none(b) {
				section.None = section.None || !r.included
				continue
			}
			r.declaration(kind, b)
		}
	}
}

// declares tells which section of declarations a heading begins: "parts", "tools", "supplies", or none. A heading that nearly
// says so, over what such a section holds, is read as it when the file has no other.
func declares(t *syntax.Tree, s *syntax.Section) string {
	if low := strings.ToLower(s.Title); slices.Contains(sections[:], low) {
		return low
	}
	if len(s.Blocks) == 0 {
		return ""
	}
	_, table := s.Blocks[0].(*syntax.Table)
	list, ok := s.Blocks[0].(*syntax.List)
	bullets := ok && !list.Ordered && len(s.Blocks) == 1
	if !table && !bullets {
		return ""
	}
	kind := verb.Near(s.Title, sections[:])
	if kind == "" || table && kind != "parts" || slices.ContainsFunc(t.Sections, func(o *syntax.Section) bool { return strings.EqualFold(o.Title, kind) }) {
		return ""
	}
	return kind
}

// sections are the headings of what is declared, small.
var sections = [...]string{"parts", "tools", "supplies"}

func (r *resolver) section(kind string) *procedure.Section {
	switch kind {
	case "parts":
		return &r.p.PartsSection
	case "tools":
		return &r.p.ToolsSection
	}
	return &r.p.SuppliesSection
}

// none tells whether a block is "- none".
func (r *resolver) none(b syntax.Block) bool {
	l, ok := b.(*syntax.List)
	if !ok || len(l.Items) != 1 || len(l.Items[0].Blocks) != 1 {
		return false
	}
	p, ok := l.Items[0].Blocks[0].(*syntax.Paragraph)
	return ok && strings.EqualFold(strings.TrimRight(syntax.Plain(p.Text), "."), "none")
}

// silent reports, in one finding, the sections that are neither there nor said to be empty.
func (r *resolver) silent() {
	var missing []string
	for _, kind := range []string{"Parts", "Tools", "Supplies"} {
		if !r.section(strings.ToLower(kind)).At.Known() {
			missing = append(missing, kind)
		}
	}
	if len(missing) == 0 || len(r.in.Main.Sections) == 0 {
		return
	}
	r.fault("section/silent", r.in.Main.Sections[0].TitleAt, missing...)
}

func (r *resolver) declaration(kind string, b syntax.Block) {
	switch b := b.(type) {
	case *syntax.Table:
		if kind == "parts" {
			r.parts(b)
			return
		}
		r.fault("part/bad-row", b.At, kind, "a table", "bullets: - 13 mm socket")
	case *syntax.List:
		for _, item := range b.Items {
			if kind == "parts" {
				r.fault("part/bad-row", item.At, "Parts", firstLine(item.At), "a table with the columns Part and Qty")
				return
			}
			r.bullet(kind, item)
		}
	case *syntax.Layout:
		r.drawn = append(r.drawn, func() { r.layout(b, nil) })
	case *syntax.Stack:
		r.drawn = append(r.drawn, func() { r.stack(b, nil) })
	case *syntax.Quote:
		// A message under the lists is meant for the whole job: it must never be lost.
		if m := r.message(b); m != nil {
			r.p.Messages = append(r.p.Messages, m)
		}
	case *syntax.Paragraph:
		r.prose(b.Text, "the declarations", nil)
	}
}

func firstLine(at source.Span) string {
	line, _, _ := strings.Cut(at.Text(), "\n")
	return strings.TrimSpace(line)
}

// partColumns lists the columns of the parts table.
var partColumns = []string{"Part", "Qty", "Spec", "Number", "Use", "Place", "Torque", "Layout", "Variant"}

// PartColumns lists the columns of the parts table.
func PartColumns() []string { return slices.Clone(partColumns) }

// parts reads the parts table; its columns are known by their headings.
func (r *resolver) parts(t *syntax.Table) {
	columns := make([]string, len(t.Head))
	have := map[string]bool{}
	for i, h := range t.Head {
		for _, c := range partColumns {
			if strings.EqualFold(h.Text, c) || c == "Variant" && strings.EqualFold(h.Text, "Variants") {
				columns[i] = c
			}
		}
		if columns[i] == "" {
			near := verb.Near(h.Text, partColumns)
			r.fault("part/unknown-column", h.At, h.Text, near)
			if near == "" || slices.ContainsFunc(t.Head, func(o syntax.Cell) bool { return strings.EqualFold(o.Text, near) }) {
				continue
			}
			columns[i] = near // read as what it was meant to be, so that nothing else is missed for it
		}
		if have[columns[i]] {
			r.fault("part/unknown-column", h.At, h.Text, "")
			columns[i] = ""
			continue
		}
		have[columns[i]] = true
	}
	for _, c := range []string{"Part", "Qty"} {
		if !have[c] {
			r.fault("part/bad-row", t.At, c, "", "a column headed "+c)
		}
	}
	if !have["Part"] {
		return
	}
	made := make([]procedure.Part, len(t.Rows))
	r.p.Parts = slices.Grow(r.p.Parts, len(t.Rows))
	for i := range t.Rows {
		r.row(&made[i], &t.Rows[i], columns, have["Qty"])
	}
}

// row reads one row into a part that is empty.
func (r *resolver) row(p *procedure.Part, row *syntax.Row, columns []string, counted bool) {
	p.At, p.Stands, p.Included, p.Qty = row.At, len(r.p.Parts), r.included, 1
	place := ""
	for i := range row.Cells {
		c := &row.Cells[i]
		if i >= len(columns) || c.Text == "" {
			continue
		}
		text := procedure.Text{Value: c.Text, At: c.At}
		switch columns[i] {
		case "Part":
			p.Name = text
		case "Spec":
			p.Spec, p.Hardware = text, r.in.Memory.spec(c.Text)
		case "Number":
			p.Number = text
		case "Layout":
			p.Layout = text
		case "Place":
			p.PlaceAt, place = c.At, typed(c.At, c.Text)
		case "Variant":
			p.Variants = r.variantsOf(text)
		}
	}
	if p.Name.Value == "" {
		r.fault("part/bad-row", row.At, "Part", "", "the name of the part, singular")
		return
	}
	for i := range row.Cells {
		c := &row.Cells[i]
		if i >= len(columns) {
			break
		}
		switch columns[i] {
		case "Qty":
			r.quantity(p, c)
		case "Use":
			r.use(p, c)
		case "Torque":
			r.torqueCell(p, c)
		}
	}
	if !counted {
		p.Qty = 1
	}
	if r.addPart(p) {
		r.places = append(r.places, place)
	}
}

func (r *resolver) quantity(p *procedure.Part, c *syntax.Cell) {
	p.QtyAt = c.At
	text := strings.ToLower(c.Text)
	if rest, ok := strings.CutPrefix(text, "up to "); ok {
		p.UpTo, text = true, strings.TrimSpace(rest)
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 10000 {
		r.fault("part/bad-row", nonEmpty(c.At, p.At), "Qty", c.Text, "a whole number from 1, or up to 3 for an add part").Thing = p.Name.Value
		p.Qty = 1
		if r.spoilt == nil {
			r.spoilt = map[*procedure.Part]bool{}
		}
		r.spoilt[p] = true
		return
	}
	p.Qty = n
}

// nonEmpty gives the first place that has any text.
func nonEmpty(a, b source.Span) source.Span {
	if a.Known() && a.End > a.Start {
		return a
	}
	return b
}

// uses are the words of the Use column.
var uses = []string{"reuse", "replace", "add", "omit", "if worn"}

func (r *resolver) use(p *procedure.Part, c *syntax.Cell) {
	p.UseAt = c.At
	word := c.Text
	if !slices.Contains(uses, word) {
		word = strings.Join(strings.Fields(strings.ToLower(strings.ReplaceAll(c.Text, "-", " "))), " ")
	}
	if word == "" {
		return
	}
	use := slices.Index(uses, word)
	if use < 0 {
		r.fault("part/unknown-use", c.At, c.Text, verb.Near(word, uses)).Thing = p.Name.Value
		return
	}
	p.Use = procedure.Use(use)
	if p.UpTo && p.Use != procedure.Add {
		r.fault("part/bad-row", p.QtyAt, "Qty", p.QtyAt.Text(), "a whole number: only an add part is fitted as needed").Thing = p.Name.Value
	}
}

// torqueCell reads the Torque cell, or knows it.
func (r *resolver) torqueCell(p *procedure.Part, c *syntax.Cell) {
	if c.Text == "" || c.Text == "—" || c.Text == "-" || c.Text == "–" {
		return
	}
	if t, ok := r.in.Memory.torque(c.Text); ok {
		p.Torque, p.Torque.At = t, c.At
		return
	}
	faults, cell := len(r.faults), *c
	cell.Text = strings.Clone(c.Text) // what is kept must not keep a whole file
	r.tableTorque(p, &cell)
	if len(r.faults) == faults {
		r.in.Memory.keepTorque(cell.Text, procedure.Torque{
			Written: p.Torque.Written, Value: p.Torque.Value, Angle: p.Torque.Angle, HandTight: p.Torque.HandTight, BySetting: p.Torque.BySetting,
		})
	}
}

func (r *resolver) tableTorque(p *procedure.Part, c *syntax.Cell) {
	t := procedure.Torque{At: c.At, Written: true}
	switch strings.ToLower(strings.ReplaceAll(c.Text, "-", " ")) {
	case "hand tight", "finger tight":
		t.HandTight = true
		p.Torque = t
		return
	case "by setting":
		t.BySetting = true
		p.Torque = t
		return
	}
	v, n, bad := quantity.Prefix(c.Text)
	at := c.Part
	if bad != nil {
		r.fault(bad.Fault, at(bad.Start, bad.End), bad.Words...).Thing = p.Name.Value
		p.Torque = procedure.Torque{At: c.At, Written: true, BySetting: true}
		return
	}
	rest := strings.TrimSpace(c.Text[n:])
	if n > 0 && r.isTorque(&v, at(0, n), c.Text[:n]) {
		t.Value = &v
	} else if n > 0 {
		r.faults[len(r.faults)-1].Thing = p.Name.Value // the row says nothing of its torque: the play is silent about it
		p.Torque = procedure.Torque{At: c.At, Written: true, BySetting: true}
		return
	}
	if more, ok := strings.CutPrefix(rest, "+"); ok {
		if a := angle(strings.TrimSpace(more)); a != nil {
			t.Angle, rest = a, ""
		}
	} else if more, ok := strings.CutPrefix(rest, "then"); ok {
		if a := angle(strings.TrimSpace(more)); a != nil {
			t.Angle, rest = a, ""
		}
	}
	if n == 0 || rest != "" && !strings.HasPrefix(rest, "[") {
		r.fault("tag/bad-quantity", c.At, c.Text, "a torque such as 22 N·m, 20..24 N·m or 30 N·m + 90°, or hand-tight, or by setting").Thing = p.Name.Value
		t = procedure.Torque{At: c.At, Written: true, BySetting: true}
	}
	p.Torque = t
}

// isTorque reports a value whose unit is none of torque.
func (r *resolver) isTorque(v *quantity.Value, at source.Span, typed string) bool {
	ok, likely, other := quantity.TorqueUnit(v.Unit)
	if !ok {
		r.fault("torque/bad-unit", at, typed, likely, other)
	}
	return ok
}

// angle reads "90°", "a quarter turn", "1/4 turn"; nil when it is none.
func angle(s string) *quantity.Value {
	for _, w := range []string{"another ", "a "} {
		s = strings.TrimPrefix(s, w)
	}
	switch {
	case strings.HasPrefix(s, "quarter turn"):
		s = "1/4 turn"
	case strings.HasPrefix(s, "half turn"):
		s = "1/2 turn"
	case strings.HasPrefix(s, "third of a turn"):
		s = "1/3 turn"
	}
	v, bad := quantity.Parse(s)
	if bad != nil || v.Unit.Kind != quantity.Angle {
		return nil
	}
	if deg, ok := quantity.UnitNamed("°"); ok && v.Unit != deg {
		v = quantity.Of(v.Middle(), deg, 3)
	}
	return &v
}

func (r *resolver) variantsOf(t procedure.Text) []procedure.Text {
	var found []procedure.Text
	for v := range splitCommas(t) {
		if r.variant(v) {
			found = append(found, procedure.Text{Value: r.variantName(v.Value), At: v.At})
			continue
		}
		// What it was meant to be, else a variant that no machine has: a row must not count for all of them.
		found = append(found, procedure.Text{Value: cmp.Or(r.nearVariant(v.Value), v.Value), At: v.At})
	}
	return found
}

// splitCommas cuts a text at commas and "and", each piece with its place.
func splitCommas(t procedure.Text) iter.Seq[procedure.Text] {
	return func(yield func(procedure.Text) bool) {
		text := t.Value
		for at := 0; at <= len(text); {
			end := strings.IndexByte(text[at:], ',')
			skip := 1
			if and := strings.Index(text[at:], " and "); and >= 0 && (end < 0 || and < end) {
				end, skip = and, len(" and ")
			}
			if end < 0 {
				end = len(text) - at
			}
			piece := text[at : at+end]
			from := t.At.Start + at + len(piece) - len(strings.TrimLeft(piece, " "))
			if word := strings.TrimSpace(piece); word != "" && !yield(procedure.Text{Value: word, At: t.At.File.At(from, from+len(word))}) {
				return
			}
			at += end + skip
		}
	}
}

// variant tells whether the procedure has the variant, and reports it when not.
func (r *resolver) variant(v procedure.Text) bool {
	var names []string
	for _, k := range r.p.Variants {
		if procedure.Fold(k.Value) == procedure.Fold(v.Value) {
			return true
		}
		names = append(names, k.Value)
	}
	r.fault("variant/unknown", v.At, append([]string{v.Value, r.nearVariant(v.Value)}, names...)...)
	return false
}

func (r *resolver) nearVariant(s string) string {
	var names []string
	for _, k := range r.p.Variants {
		names = append(names, k.Value)
	}
	return verb.Near(s, names)
}

func (r *resolver) variantName(s string) string {
	for _, k := range r.p.Variants {
		if procedure.Fold(k.Value) == procedure.Fold(s) {
			return k.Value
		}
	}
	return s
}

// addPart takes a row in: equal rows of an included file merge, unequal ones are reported at both. It tells whether the row is a
// part of its own.
func (r *resolver) addPart(p *procedure.Part) bool {
	name := procedure.Fold(p.Name.Value)
	if r.rowsOf == nil {
		r.rowsOf = make(map[string]*procedure.Part, cap(r.p.Parts))
	}
	first := r.rowsOf[name]
	if first == nil {
		r.rowsOf[name] = p
		r.p.Parts = append(r.p.Parts, p)
		return true
	}
	rows := first.Twins
	if len(rows) == 0 {
		rows = []*procedure.Part{first}
	}
	for _, q := range rows {
		if apart(p, q) {
			continue
		}
		switch {
		case !p.Included && !q.Included, p.Included && q.Included && p.At.File == q.At.File:
			f := r.fault("part/repeated", p.Name.At, p.Name.Value)
			f.Related, f.Thing = related(q.Name.At, "first here"), p.Name.Value
		case !samePart(p, q):
			r.differs("part", p.Name, q.Name.At)
		}
		return false
	}
	rows = append(rows, p)
	for _, q := range rows {
		q.Twins = rows
	}
	r.p.Parts = append(r.p.Parts, p)
	return true
}

// differs reports two unequal declarations of one name, at both places.
func (r *resolver) differs(kind string, name procedure.Text, other source.Span) {
	r.fault("include/differs", name.At, kind, name.Value).Related = related(other, "and here")
}

// apart tells whether two rows have no variant in common.
func apart(p, q *procedure.Part) bool {
	if len(p.Variants) == 0 || len(q.Variants) == 0 {
		return false
	}
	for _, v := range p.Variants {
		if q.In(v.Value) {
			return false
		}
	}
	return true
}

func samePart(p, q *procedure.Part) bool {
	same := func(a, b string) bool { return procedure.Fold(a) == procedure.Fold(b) }
	return p.Qty == q.Qty && p.UpTo == q.UpTo && p.Use == q.Use && same(p.Spec.Value, q.Spec.Value) &&
		same(p.Number.Value, q.Number.Value) && same(p.PlaceAt.Text(), q.PlaceAt.Text()) && same(p.Torque.At.Text(), q.Torque.At.Text())
}
