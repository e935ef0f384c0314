package wire

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/editor"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// work tells whether something is to be done while no message waits.
func (s *Server) work() bool {
	return len(s.affected) > 0 && s.settled() || s.next() != nil
}

// settled tells whether no document waits for a compile that takes too long.
func (s *Server) settled() bool {
	return !slices.ContainsFunc(s.docs, func(d *document) bool { return d.under != nil })
}

// next gives the document to be compiled: the one that was changed last, nil when all are.
func (s *Server) next() (found *document) {
	for _, d := range s.docs {
		if d.stale && d.under == nil && (found == nil || d.turn > found.turn) {
			found = d
		}
	}
	return found
}

// renew compiles one document and shows what can be shown. A result that a newer text has overtaken is passed over: the latest text
// wins.
func (s *Server) renew() {
	if d := s.next(); d != nil {
		if !d.isProcedure() {
			s.silence(d)
		} else if o, ok := s.run(d); ok {
			if d.skipped < mostSkipped && s.in.overtaken(d.uri) {
				d.skipped++
				return
			}
			s.take(d, o)
		}
	}
	s.publish()
}

// silence takes the findings of a document away that is no procedure.
func (s *Server) silence(d *document) {
	s.touch(d)
	s.affected[d.uri] = true
	d.result, d.views, d.files, d.touches, d.speaks, d.stale = nil, nil, nil, nil, false, false
}

// run compiles the text of a document as it is now. ok is false when that takes longer than the host has patience: the result is
// collected later.
func (s *Server) run(d *document) (o outcome, ok bool) {
	if d.under != nil {
		return outcome{}, false
	}
	lib, of := d.shelf.Library(), d.file
	compile, panicked := d.begin(lib)
	if panicked != nil {
		return outcome{of: of, panic: panicked}, true
	}
	done := make(chan outcome, 1)
	go func() {
		o := outcome{of: of}
		defer func() {
			o.panic = recover()
			done <- o
		}()
		o.result = compile()
	}()
	select {
	case o = <-done:
		return o, true
	case <-s.host.Patience():
	}
	late := make(chan outcome, 1)
	d.under = late
	go func() {
		late <- <-done
		s.in.push(incoming{wake: true})
	}()
	s.show(3, "checking %s takes long: its findings come when it is done", d.path)
	return outcome{}, false
}

// begin takes the text to the desk. That changes the model of the result before, which nobody looks at any more: it is stale.
func (d *document) begin(lib *compiler.Library) (compile func() compiler.Result, panicked any) {
	defer func() { panicked = recover() }()
	if d.desk == nil {
		d.desk = compiler.NewDesk(d.path)
	}
	return d.desk.Begin(lib, d.file.Raw(), rules.Options{}), nil
}

// collect takes the results that came late.
func (s *Server) collect() {
	for _, d := range s.docs {
		if d.under == nil {
			continue
		}
		select {
		case o := <-d.under:
			if d.under = nil; o.of == d.file {
				s.take(d, o)
			}
		default:
		}
	}
}

// take makes a result the one of its document.
func (s *Server) take(d *document, o outcome) {
	s.touch(d)
	d.stale, d.skipped, d.views, d.touches, d.speaks = false, 0, map[string]*editor.View{}, nil, d.isProcedure()
	s.affected[d.uri] = true
	if o.panic != nil {
		d.result, d.files, d.desk = nil, nil, nil
		s.show(1, "the program stumbled over %s (%v): please report it with the file", d.path, o.panic)
		return
	}
	d.result, d.files = &o.result, filesOf(o.result)
	if !d.speaks {
		return
	}
	for f := range d.files {
		if uri := s.uri(d.shelf, f.Path); !slices.Contains(d.touches, uri) {
			d.touches = append(d.touches, uri)
		}
	}
	s.touch(d)
}

// touch marks the files that a document tells of: what is shown there may change.
func (s *Server) touch(d *document) {
	for _, u := range d.touches {
		s.affected[u] = true
	}
}

// publish shows the findings of all files that may have changed, once every procedure that tells of them is compiled.
func (s *Server) publish() {
	for _, uri := range slices.Sorted(maps.Keys(s.affected)) {
		waits := slices.ContainsFunc(s.docs, func(d *document) bool {
			return d.stale && (d.uri == uri || slices.Contains(d.touches, uri))
		})
		if !waits {
			delete(s.affected, uri)
			s.showFindings(uri)
		}
	}
}

// showFindings sends what all open procedures find in one file; nothing where the editor shows that already.
func (s *Server) showFindings(uri string) {
	var found []diag.Finding
	for _, d := range s.docs {
		if !d.speaks || d.result == nil || !slices.Contains(d.touches, uri) {
			continue
		}
		for _, f := range d.result.Findings {
			if f.Waived == "" && f.At.Known() && s.uri(d.shelf, f.At.File.Path) == uri {
				found = append(found, f)
			}
		}
	}
	p := publishParams{URI: uri, Diagnostics: []diagnostic{}}
	open := s.doc(uri)
	if open != nil {
		p.Version = &open.version
	}
	for _, f := range diag.Sort(found) {
		p.Diagnostics = append(p.Diagnostics, s.diagnostic(f))
	}
	raw, err := json.Marshal(p)
	if err != nil {
		return
	}
	was, ever := s.published[uri]
	if was == string(raw) || !ever && open == nil && len(found) == 0 {
		return
	}
	if s.published[uri] = string(raw); open == nil && len(found) == 0 {
		delete(s.published, uri)
	}
	s.send(message{Method: "textDocument/publishDiagnostics", Params: raw})
}

// diagnostic puts a finding into the protocol's shape: error 1, warning 2, advice 3 (information).
func (s *Server) diagnostic(f diag.Finding) diagnostic {
	d := diagnostic{
		Range: s.ruler(f.At.File).span(f.At), Severity: int(diag.Error-f.Severity) + 1, Code: f.Rule, Source: "refitcard", Message: f.Message,
	}
	if len(f.Variants) > 0 {
		d.Message += " (" + strings.Join(f.Variants, ", ") + ")"
	}
	if f.Do != "" {
		d.Message += "\ndo: " + f.Do
	}
	for _, r := range f.Related {
		switch {
		case !r.At.Known():
		case s.client.Capabilities.TextDocument.PublishDiagnostics.RelatedInformation:
			d.Related = append(d.Related, related{s.location(r.At), r.Words})
		default:
			d.Message += fmt.Sprintf("\n%s: line %d", r.Words, r.At.File.Line(r.At.Start))
		}
	}
	return d
}

// filesOf lists the files that a result tells of.
func filesOf(r compiler.Result) map[*source.File]bool {
	files := map[*source.File]bool{}
	for _, f := range r.Proc.Sources {
		files[f] = true
	}
	for _, f := range r.Findings {
		if f.At.Known() {
			files[f.At.File] = true
		}
		for _, other := range f.Related {
			if other.At.Known() {
				files[other.At.File] = true
			}
		}
	}
	return files
}

// homeOf finds a document whose result tells of a file.
func (s *Server) homeOf(f *source.File) *document {
	for _, d := range s.docs {
		if d.files[f] {
			return d
		}
	}
	return nil
}

// location gives the place of a span of a result.
func (s *Server) location(at source.Span) location {
	uri := ""
	if d := s.homeOf(at.File); d != nil {
		uri = s.uri(d.shelf, at.File.Path)
	}
	return location{uri, s.ruler(at.File).span(at)}
}

// ruler measures a file as the editor does: one that is open has its byte order mark if the editor's text has it.
func (s *Server) ruler(f *source.File) ruler {
	mark := false
	if f.Mark > 0 {
		if d := s.homeOf(f); d != nil {
			open := s.doc(s.uri(d.shelf, f.Path))
			mark = open != nil && open.file.Mark > 0
		}
	}
	return ruler{f, s.scale, mark}
}
