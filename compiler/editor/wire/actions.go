package wire

import (
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/editor"
	"refitcard/compiler/source"
)

// The kinds of code actions.
const (
	kindFix   = "quickfix"
	kindMend  = "source.fixAll"
	kindRefit = "refactor.rewrite"
)

// workspaceEdit puts edits of the files of a library into the protocol's shape, the files in the order in which they come.
func (s *Server) workspaceEdit(of *shelf, edits []diag.Edit) *workspaceEdit {
	var order []string
	texts := map[string][]textEdit{}
	for _, e := range sorted(edits) {
		uri := s.uri(of, e.At.File.Path)
		if _, ok := texts[uri]; !ok {
			order = append(order, uri)
		}
		texts[uri] = append(texts[uri], textEdit{s.rulerOf(of, e.At.File).span(e.At), e.Text})
	}
	if !s.client.Capabilities.Workspace.WorkspaceEdit.DocumentChanges {
		return &workspaceEdit{Changes: texts}
	}
	w := &workspaceEdit{DocumentChanges: []documentEdit{}}
	for _, uri := range order {
		id := versionedID{URI: uri}
		if d := s.doc(uri); d != nil {
			id.Version = &d.version
		}
		w.DocumentChanges = append(w.DocumentChanges, documentEdit{id, texts[uri]})
	}
	return w
}

// sorted puts edits in the order of files and places; one that is asked for twice is made once.
func sorted(edits []diag.Edit) []diag.Edit {
	edits = slices.Clone(edits)
	slices.SortStableFunc(edits, func(a, b diag.Edit) int {
		if c := strings.Compare(a.At.File.Path, b.At.File.Path); c != 0 {
			return c
		}
		return a.At.Start - b.At.Start
	})
	return slices.CompactFunc(edits, func(a, b diag.Edit) bool {
		return a.At.File.Path == b.At.File.Path && a.At.Start == b.At.Start && a.At.End == b.At.End && a.Text == b.Text
	})
}

// rulerOf measures a file of a library, also one that no result holds.
func (s *Server) rulerOf(of *shelf, f *source.File) ruler {
	open := s.doc(s.uri(of, f.Path))
	return ruler{f, s.scale, f.Mark > 0 && open != nil && open.file.Mark > 0}
}

// actions offers the fixes of the findings in a range, all safe ones together, and the stage that is missing.
func (s *Server) actions(m message) (any, *Failure) {
	var p actionParams
	if bad := m.read(&p); bad != nil {
		return nil, bad
	}
	all := []codeAction{}
	if s.client.Capabilities.TextDocument.CodeAction.Literal == nil {
		return all, nil // an editor of old that can't take edits from here
	}
	d, v, bad := s.view(p.TextDocument.URI)
	if bad != nil {
		return nil, bad
	}
	r := s.ruler(v.File)
	from, to := r.offset(p.Range.Start), r.offset(p.Range.End)
	if wanted(p.Context.Only, kindFix) {
		for _, x := range v.Fixes(from, to) {
			a := codeAction{Title: x.Title, Kind: kindFix, Edit: s.workspaceEdit(d.shelf, x.Edits), Diagnostics: []diagnostic{s.diagnostic(x.Finding)}}
			a.IsPreferred = x.Safe && s.client.Capabilities.TextDocument.CodeAction.IsPreferredSupport
			all = append(all, a)
		}
	}
	if wanted(p.Context.Only, kindMend) {
		before, now := d.shelf.Mend(v)
		if edits := editor.Edits(v.File, before, now); len(edits) > 0 {
			all = append(all, codeAction{Title: "mend all that can only be slips of the pen", Kind: kindMend, Edit: s.workspaceEdit(d.shelf, edits)})
		}
	}
	if wanted(p.Context.Only, kindRefit) {
		all = append(all, s.refit(d, v, from, to)...)
	}
	return all, nil
}

// wanted tells whether an editor that asks for some kinds of actions alone wants one.
func wanted(only []string, kind string) bool {
	return len(only) == 0 || slices.ContainsFunc(only, func(o string) bool { return kind == o || strings.HasPrefix(kind, o+".") })
}

// refit offers to write the stage that the ledger says is missing, where a finding says so.
func (s *Server) refit(d *document, v *editor.View, from, to int) []codeAction {
	if s.host.Refit == nil || d.file != nil && v.File.Path != d.path || !v.Unclosed(from, to) {
		return nil
	}
	before := d.raw()
	now, what, ok := s.host.Refit(d.shelf.Library(), d.path, before)
	if !ok {
		return nil
	}
	edits := editor.Edits(v.File, before, now)
	return []codeAction{{Title: "write the refitting stage that is missing: " + what, Kind: kindRefit, Edit: s.workspaceEdit(d.shelf, edits)}}
}

// formatting writes a document in the one layout. Where it can't be, the person is told why.
func (s *Server) formatting(m message) (any, *Failure) {
	var p documentParams
	if bad := m.read(&p); bad != nil {
		return nil, bad
	}
	d, v, bad := s.view(p.TextDocument.URI)
	if bad != nil {
		return nil, bad
	}
	before, now, err := d.shelf.Tidy(v)
	if err != nil {
		s.show(2, "%s is left as it is: %v", v.File.Path, err)
		return nil, nil
	}
	edits := []textEdit{}
	r := s.ruler(v.File)
	for _, e := range editor.Edits(v.File, before, now) {
		edits = append(edits, textEdit{r.span(e.At), e.Text})
	}
	return edits, nil
}
