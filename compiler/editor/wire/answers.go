package wire

import (
	"fmt"
	"strings"

	"refitcard/compiler/editor"
	"refitcard/compiler/source"
)

// view gives what is known of an open document as it is now: as a procedure, else as a part of one that includes it, else alone.
func (s *Server) view(uri string) (*document, *editor.View, *Failure) {
	d := s.doc(uri)
	if d == nil {
		return nil, nil, &Failure{invalidParams, fmt.Sprintf("%q is not open", uri)}
	}
	switch {
	case d.lost:
		return nil, nil, &Failure{requestFailed, "the document is too large"}
	case !d.isMarkdown():
		return nil, nil, &Failure{requestFailed, fmt.Sprintf("%q is no procedure: their names end in .md", d.path)}
	}
	if !d.isProcedure() {
		for _, host := range s.docs {
			if host.shelf == d.shelf && host.isProcedure() && s.ensure(host) {
				if v := host.look(d.path); v != nil {
					return host, v, nil
				}
			}
		}
	}
	if s.ensure(d) {
		if v := d.look(d.path); v != nil {
			return d, v, nil
		}
	}
	return nil, nil, &Failure{requestFailed, "the text is not checked yet: ask again"}
}

// ensure compiles a document when its result is not that of its text, and shows what it finds; false when that takes too long, or failed.
func (s *Server) ensure(d *document) bool {
	if d.stale || d.result == nil {
		o, ok := s.run(d)
		if !ok {
			return false
		}
		s.take(d, o)
		s.publish()
	}
	return d.result != nil
}

// look gives the view of a file of a document's result, nil when it did not read that file.
func (d *document) look(path string) *editor.View {
	if v := d.views[path]; v != nil {
		return v
	}
	v, ok := editor.Look(*d.result, path)
	if !ok {
		return nil
	}
	v.Beside = d.shelf.Procedures
	d.views[path] = v
	return v
}

// place reads a question about a place: its view, and the offset there.
func (s *Server) place(m message, p *placeParams, into any) (*document, *editor.View, int, *Failure) {
	if bad := m.read(into); bad != nil {
		return nil, nil, 0, bad
	}
	d, v, bad := s.view(p.TextDocument.URI)
	if bad != nil {
		return nil, nil, 0, bad
	}
	return d, v, s.ruler(v.File).offset(p.Position), nil
}

func (s *Server) hover(m message) (any, *Failure) {
	var p placeParams
	_, v, offset, bad := s.place(m, &p, &p)
	if bad != nil {
		return nil, bad
	}
	n, ok := v.Hover(offset)
	if !ok {
		return nil, nil
	}
	return hover{markup{"markdown", n.Text}, s.ruler(v.File).span(n.At)}, nil
}

// itemKinds gives the protocol's kinds of completion items: keyword, variable, value, unit, property, module, file, constant.
var itemKinds = map[editor.OfferKind]int{
	editor.VerbOffer: 14, editor.ThingOffer: 6, editor.ValueOffer: 12, editor.UnitOffer: 11, editor.KeyOffer: 10, editor.SectionOffer: 9,
	editor.FileOffer: 17, editor.CheckOffer: 21,
}

func (s *Server) completion(m message) (any, *Failure) {
	var p placeParams
	_, v, offset, bad := s.place(m, &p, &p)
	if bad != nil {
		return nil, bad
	}
	list := completionList{Items: []completionItem{}, IsIncomplete: true} // a count or a plural changes what fits
	r := s.ruler(v.File)
	for i, o := range v.Complete(offset) {
		item := completionItem{
			Label: strings.TrimSpace(o.Text), Kind: itemKinds[o.Kind], Detail: strings.TrimSpace(o.Detail), SortText: fmt.Sprintf("%04d", i),
			FilterText: filter(o, offset), TextEdit: textEdit{r.span(o.At), o.Text},
		}
		if o.Note != "" {
			item.Documentation = &markup{"markdown", o.Note}
		}
		list.Items = append(list.Items, item)
	}
	return list, nil
}

// filter gives what the editor holds against the words that were typed: an offer that they stand in the middle of begins with them.
func filter(o editor.Offer, offset int) string {
	typed := o.At.File.At(o.At.Start, offset).Text()
	if strings.HasPrefix(strings.ToLower(o.Text), strings.ToLower(typed)) {
		return o.Text
	}
	return typed + " " + strings.TrimSpace(o.Text)
}

func (s *Server) locations(list []source.Span) []location {
	all := []location{}
	for _, at := range list {
		all = append(all, s.location(at))
	}
	return all
}

func (s *Server) definition(m message) (any, *Failure) {
	var p placeParams
	_, v, offset, bad := s.place(m, &p, &p)
	if bad != nil {
		return nil, bad
	}
	return s.locations(v.Definition(offset)), nil
}

func (s *Server) references(m message) (any, *Failure) {
	var p referenceParams
	_, v, offset, bad := s.place(m, &p.placeParams, &p)
	if bad != nil {
		return nil, bad
	}
	u, ok := v.UseAt(offset)
	if !ok {
		return []location{}, nil
	}
	var list []source.Span
	for _, x := range v.Uses(u.Thing) {
		if p.Context.IncludeDeclaration || !x.Declares {
			list = append(list, x.At)
		}
	}
	return s.locations(list), nil
}

func (s *Server) prepareRename(m message) (any, *Failure) {
	var p placeParams
	_, v, offset, bad := s.place(m, &p, &p)
	if bad != nil {
		return nil, bad
	}
	at, name, err := v.Named(offset)
	if err != nil {
		return nil, failed(err)
	}
	return named{s.ruler(v.File).span(at), name}, nil
}

func (s *Server) rename(m message) (any, *Failure) {
	var p renameParams
	d, v, offset, bad := s.place(m, &p.placeParams, &p)
	if bad != nil {
		return nil, bad
	}
	edits, err := d.shelf.Rename(v, offset, p.NewName)
	if err != nil {
		return nil, failed(err)
	}
	return s.workspaceEdit(d.shelf, edits), nil
}

// symbolKinds gives the protocol's kinds of symbols: namespace, class, function, field.
var symbolKinds = map[editor.EntryKind]int{editor.SectionEntry: 3, editor.StageEntry: 5, editor.StepEntry: 12, editor.ThingEntry: 8}

func (s *Server) symbols(m message) (any, *Failure) {
	var p documentParams
	if bad := m.read(&p); bad != nil {
		return nil, bad
	}
	_, v, bad := s.view(p.TextDocument.URI)
	if bad != nil {
		return nil, bad
	}
	r := s.ruler(v.File)
	all := []symbol{}
	flat := !s.client.Capabilities.TextDocument.DocumentSymbol.Hierarchical
	var list func(entries []editor.Entry) []symbol
	list = func(entries []editor.Entry) (made []symbol) {
		for _, e := range entries {
			whole, head := r.span(e.At), r.span(e.Head)
			x := symbol{Name: e.Name, Detail: e.Detail, Kind: symbolKinds[e.Kind], Range: &whole, SelectionRange: &head}
			if flat {
				x = symbol{Name: e.Name, Kind: x.Kind, Location: &location{p.TextDocument.URI, whole}}
				all = append(all, x)
				list(e.Below)
				continue
			}
			x.Children = list(e.Below)
			made = append(made, x)
		}
		return made
	}
	return append(all, list(v.Outline())...), nil
}

func (s *Server) folds(m message) (any, *Failure) {
	var p documentParams
	if bad := m.read(&p); bad != nil {
		return nil, bad
	}
	_, v, bad := s.view(p.TextDocument.URI)
	if bad != nil {
		return nil, bad
	}
	all := []foldingRange{}
	limit := s.client.Capabilities.TextDocument.FoldingRange.RangeLimit
	for _, at := range v.Folds() {
		if limit > 0 && len(all) >= limit {
			break
		}
		all = append(all, foldingRange{at.File.Line(at.Start) - 1, at.File.Line(at.End) - 1})
	}
	return all, nil
}
