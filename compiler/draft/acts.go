package draft

import (
	"fmt"
	"strings"

	"refitcard/compiler/procedure"
)

func (p *piece) write() string {
	var b strings.Builder
	if p.act != nil {
		b.WriteString("{" + capital(p.act.write()) + "}")
	}
	for i, r := range p.tail {
		if r.comma && b.Len() > 0 {
			b.WriteByte(',')
		}
		if b.Len() > 0 {
			b.WriteByte(' ')
		}
		text := ""
		switch {
		case r.tool != nil && i == 0 && p.act != nil:
			text = "with the {tool " + r.tool.tag() + "}"
		case r.tool != nil:
			text = "{tool " + r.tool.tag() + "}"
		case r.supply != nil:
			text = "{supply " + strings.TrimSpace(r.amount+" "+r.supply.name) + "}"
		default:
			text = escape(strings.TrimRight(r.text, " ,;:"))
			if i == 0 && p.act == nil {
				text = capital(text)
			}
		}
		b.WriteString(text)
	}
	b.WriteByte('.')
	return b.String()
}

func (t *tool) tag() string { return strings.Join(append([]string{t.name}, t.detail...), ", ") }

func (a *act) write() string {
	s := a.spell
	switch a.verb {
	case "wait":
		return s + " " + a.amount
	case "check", "measure", "tell", "record", "wear":
		s += " " + tagText(a.words)
		if a.limit != "" {
			s += " " + a.limit
		}
		return s
	case "drain", "fill", "top up":
		if a.amount != "" {
			return s + " " + a.amount + " " + a.objs[0].thing.name
		}
		return s + " the " + a.objs[0].thing.name
	}
	for i, o := range a.objs {
		switch {
		case i == 0:
			s += " "
		case i == len(a.objs)-1:
			s += " and "
		default:
			s += ", "
		}
		s += o.write()
	}
	if a.torque != "" {
		s += " to " + a.torque
	}
	if a.angle != "" {
		s += " then " + a.angle
	}
	for _, more := range []string{a.order, a.passes} {
		if more != "" {
			s += " " + more
		}
	}
	return s
}

func (o object) write() string {
	name, n := o.name, o.count
	if o.thing != nil {
		name = o.thing.name
		if n == 0 && o.plural && o.thing.qty > 1 && !o.thing.each && !o.thing.rest && !o.rest {
			n = o.thing.qty
		}
	}
	mark := ""
	if o.isNew {
		mark = "new "
	}
	many := o.plural || n > 1 || o.each && o.thing != nil && o.thing.qty != 1
	switch {
	case o.of > 0:
		return fmt.Sprintf("%d of %d %s", n, o.of, procedure.Plural(name))
	case o.rest && n > 0:
		return fmt.Sprintf("the other %d %s", n, procedure.Plural(name))
	case o.rest:
		return "the remaining " + procedure.Plural(name)
	case n > 0 && !o.each && many:
		return fmt.Sprintf("%d %s%s", n, mark, procedure.Plural(name))
	case many:
		return "the " + mark + procedure.Plural(name)
	case o.thing != nil && o.thing.qty > 1 && n == 1:
		return "1 " + mark + name
	case o.isNew:
		return "the new " + name
	case name[len(name)-1] >= '0' && name[len(name)-1] <= '9' || name == "":
		return name
	}
	return "the " + name
}
