package refit

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

// Left tells what a compile of a procedure with its stage finds left open.
func Left(p *procedure.Procedure, findings []diag.Finding) Loose {
	open := Loose{Idle: idle(p, findings)}
	for _, f := range findings {
		open.Untested = open.Untested || f.Rule == "record/no-test" && f.Waived == ""
	}
	return open
}

// idle gives the tags of what the findings of a compile call declared and not used: tools, supplies, parts.
func idle(p *procedure.Procedure, findings []diag.Finding) (tags []string) {
	at := func(rule string, s source.Span) bool {
		for _, f := range findings {
			if f.Rule == rule && f.Waived == "" && f.At.File == s.File && f.At.Start < s.End && s.Start < f.At.End {
				return true
			}
		}
		return false
	}
	box := toolbox{p}
	for _, c := range box.all() {
		if at("tool/not-used", c.tool.At) && c.Name == c.tool.Choices[0].Name {
			tags = append(tags, box.tag(c))
		}
	}
	for _, s := range p.Supplies {
		switch {
		case !at("supply/not-used", s.At):
		case s.Count > 0:
			tags = append(tags, "{supply "+procedure.CountName(s.Count, s.Name.Value)+"}")
		case s.Quantity != nil:
			tags = append(tags, "{supply "+s.Quantity.Text+" "+s.Name.Value+"}")
		default:
			tags = append(tags, "{supply "+s.Name.Value+"}")
		}
	}
	for _, x := range p.Parts {
		if at("part/unused", x.At) {
			tags = append(tags, "{part "+x.Name.Value+"}")
		}
	}
	return tags
}
