package resolve

import (
	"slices"
	"strconv"
	"strings"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// partColumns lists the columns of the parts table.
var partColumns = []string{"Part", "Qty", "Spec", "Number", "Use", "Place", "Torque", "Layout", "Variant"}

// PartColumns lists the columns of the parts table.
func PartColumns() []string { return slices.Clone(partColumns) }

// partColumn is the column that a heading names, empty for none.
func partColumn(heading string) string {
	for _, c := range partColumns {
		if heading == c || strings.EqualFold(heading, c) {
			return c
		}
	}
	if strings.EqualFold(heading, "Variants") {
		return "Variant"
	}
	return ""
}

// parts reads the parts table; its columns are known by their headings.
func (r *resolver) parts(t *syntax.Table) {
	columns := make([]string, len(t.Head))
	have := make([]string, 0, len(partColumns))
	for i := range t.Head {
		h := &t.Head[i]
		columns[i] = partColumn(h.Text)
		if columns[i] == "" {
			near := verb.Near(h.Text, partColumns)
			r.fault("part/unknown-column", h.At, h.Text, near)
			if near == "" || slices.ContainsFunc(t.Head, func(o syntax.Cell) bool { return strings.EqualFold(o.Text, near) }) {
				continue
			}
			columns[i] = near // read as what it was meant to be, so that nothing else is missed for it
		}
		if slices.Contains(have, columns[i]) {
			r.fault("part/unknown-column", h.At, h.Text, "")
			columns[i] = ""
			continue
		}
		have = append(have, columns[i])
	}
	for _, c := range []string{"Part", "Qty"} {
		if !slices.Contains(have, c) {
			r.fault("part/bad-row", t.At, c, "", "a column headed "+c)
		}
	}
	if !slices.Contains(have, "Part") {
		return
	}
	made, counted := make([]procedure.Part, len(t.Rows)), slices.Contains(have, "Qty")
	r.p.Parts = slices.Grow(r.p.Parts, len(t.Rows))
	for i := range t.Rows {
		r.row(&made[i], &t.Rows[i], columns, counted)
	}
}

// row reads one row into a part that is empty.
func (r *resolver) row(p *procedure.Part, row *syntax.Row, columns []string, counted bool) {
	p.At, p.Stands, p.Included, p.Qty, p.Hardware = row.At, len(r.p.Parts), r.included, 1, hardware.NoSpec
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
