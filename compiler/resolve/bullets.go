package resolve

import (
	"bytes"
	"strconv"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

// bullet reads one tool or supply.
func (r *resolver) bullet(kind string, item *syntax.Item) {
	if len(item.Blocks) == 0 {
		return
	}
	p, ok := item.Blocks[0].(*syntax.Paragraph)
	if !ok {
		return
	}
	for _, i := range p.Text {
		if t, ok := i.(*syntax.Tag); ok && t.Verb != nil {
			r.fault("tag/misplaced", t.At, t.Verb.Name, "the list of "+kind, "a step")
			return
		}
	}
	text := procedure.Text{Value: syntax.Plain(p.Text), At: p.At}
	if text.Value == "" {
		return
	}
	if kind == "tools" {
		r.toolBullet(text)
		return
	}
	r.supplyBullet(text)
}

func (r *resolver) toolBullet(text procedure.Text) {
	b := r.in.Memory.bullet(text.Value)
	for _, o := range r.tools {
		if o.folded != b.folded {
			continue
		}
		if !r.included {
			f := r.fault("tool/repeated", text.At, text.Value)
			f.Related, f.Thing = related(o.tool.At, "first here"), text.Value
		}
		return
	}
	t := r.toolSlab.one()
	t.At, t.Whole, t.Choices = text.At, text.Value, r.choices.take(len(b.sides))
	for i := range b.sides {
		s := &b.sides[i]
		from := text.At.Start + s.at
		t.Choices[i] = procedure.Choice{Name: s.name, NameAt: text.At.File.At(from, from+len(s.name)), Detail: s.detail, Kind: s.kind}
	}
	r.p.Tools = append(r.p.Tools, t)
	r.tools = append(r.tools, listedTool{b, t})
}

// cutDetail parts a bullet at its first comma that has a space behind it.
func cutDetail(s string) (name, detail string) {
	name, detail, _ = strings.Cut(s, ", ")
	return strings.TrimSpace(strings.TrimSuffix(name, ",")), strings.TrimSpace(detail)
}

// supplyBullet reads "gear oil, 1.4 L, ISO VG 220" or "shop towel, 4".
func (r *resolver) supplyBullet(text procedure.Text) {
	name, rest := cutDetail(text.Value)
	s := &procedure.Supply{At: text.At, Name: procedure.Text{Value: name, At: text.At.File.At(text.At.Start, text.At.Start+len(name))}}
	var detail []string
	at := text.At.Start + len(name)
	for piece := range strings.SplitSeq(rest, ", ") {
		piece = strings.TrimSpace(piece)
		where := r.findIn(text.At, at, piece)
		at = max(at, where.End)
		if piece != "" && !r.supplyDetail(s, piece, where) {
			detail = append(detail, piece)
		}
	}
	s.Detail = strings.Join(detail, ", ")
	r.addSupply(s)
}

// findIn gives the place of words inside a span, at or behind an offset.
func (r *resolver) findIn(in source.Span, from int, words string) source.Span {
	if i := bytes.Index(in.File.Text[min(from, in.End):in.End], []byte(words)); i >= 0 && words != "" {
		return in.File.At(from+i, from+i+len(words))
	}
	return in
}

// supplyDetail reads one detail; false when it prints as typed.
func (r *resolver) supplyDetail(s *procedure.Supply, piece string, at source.Span) bool {
	if strings.EqualFold(piece, "from the machine") {
		s.FromMachine = true
		return true
	}
	if rest, ok := strings.CutPrefix(piece, "drains "); ok {
		if v, bad := quantity.Parse(rest); bad == nil {
			s.Drains = &v
			return true
		}
	}
	if s.QtyAt.Known() {
		return false
	}
	if n, ok := wholeNumber(piece); ok && n > 0 {
		s.Count, s.QtyAt = n, at
		return true
	}
	v, n, bad := quantity.Prefix(piece)
	if bad != nil {
		r.fault(bad.Fault, at.File.At(at.Start+bad.Start, at.Start+bad.End), bad.Words...).Thing = s.Name.Value
		s.QtyAt = at
		return true
	}
	if n == len(piece) && n > 0 {
		listed := v
		s.Quantity, s.QtyAt = &listed, at
		return true
	}
	return false
}

// wholeNumber reads a number without a unit. Most details are none, and an error for each would be built for nobody.
func wholeNumber(s string) (int, bool) {
	if strings.Trim(s, "+-0123456789") != "" {
		return 0, false
	}
	n, err := strconv.Atoi(s)
	return n, err == nil
}

func (r *resolver) addSupply(s *procedure.Supply) {
	name := procedure.Fold(s.Name.Value)
	for _, other := range r.p.Supplies {
		if procedure.Fold(other.Name.Value) != name {
			continue
		}
		if procedure.Fold(other.At.Text()) != procedure.Fold(s.At.Text()) {
			r.differs("supply", s.Name, other.Name.At)
		}
		return
	}
	if !s.QtyAt.Known() && !s.FromMachine {
		r.fault("supply/no-quantity", s.Name.At, s.Name.Value).Thing = s.Name.Value
	}
	r.p.Supplies = append(r.p.Supplies, s)
}
