package editor

import (
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// hostsOf compiles the procedures, not done yet, that include a file which edits change.
func (s *Shelf) hostsOf(edits []diag.Edit, done map[string]bool) ([]*View, error) {
	touched := map[string]bool{}
	for _, e := range edits {
		touched[e.At.File.Path] = true
	}
	var found []*View
	for _, path := range s.Procedures() {
		raw, err := s.Read(path)
		if err != nil || done[path] || !strings.Contains(strings.ToLower(string(raw)), "{include") {
			continue
		}
		r, err := s.Compile(path)
		if err != nil {
			continue
		}
		if !slices.ContainsFunc(r.Proc.Sources[1:], func(f *source.File) bool { return touched[f.Path] }) {
			continue
		}
		if done[path] = true; len(done) > mostHosts {
			return nil, Refusal(fmt.Sprintf("more than %d procedures share the name through what they include; rename it with another tool", mostHosts))
		}
		if v, ok := Look(r, path); ok {
			found = append(found, v)
		}
	}
	return found, nil
}

// prove compiles what was written anew and holds it against what stood there.
func (s *Shelf) prove(hosts []*View, edits []diag.Edit, t Thing, name string) error {
	texts := maps.Clone(s.texts)
	for _, e := range edits {
		texts[e.At.File.Path] = diag.Apply(e.At.File, edits) // of its own edits alone
	}
	lib := s.Library()
	over := lib.Over(overlay{s.disk, texts}, lib.Register)
	for _, v := range hosts {
		path := v.Result.Proc.File.Path
		raw, err := fs.ReadFile(overlay{s.disk, texts}, path)
		if err != nil {
			return err
		}
		now, ok := Look(over.CompileText(path, raw, rules.Options{}), path)
		if !ok {
			return Refusal("the file can't be read")
		}
		now.File = now.Result.Proc.File
		if err := sameBut(v, now, t, Thing{t.Sort, foldedName(t, name)}); err != nil {
			return err
		}
	}
	return nil
}

func foldedName(t Thing, name string) string {
	if t.Sort == Label {
		return name
	}
	return procedure.Fold(name)
}

// sameBut tells in what two readings differ beside one name: nil when every name stands for the same thing as before, the job
// plays the same, and nothing is wrong now that was not.
func sameBut(old, now *View, was, is Thing) error {
	a, b := old.names(), now.names()
	for i := range max(len(a), len(b)) {
		if i >= len(a) || i >= len(b) {
			u := append(slices.Clone(b), a...)[min(len(a), len(b))]
			return Refusal(fmt.Sprintf("%q would be read otherwise in %s line %d", oneLine(u.At.Text()), u.At.File.Name, u.At.File.Line(u.At.Start)))
		}
		want := a[i].Thing
		if want == was {
			want = is
		}
		if b[i].Thing != want || b[i].Declares != a[i].Declares || b[i].Plural != a[i].Plural && a[i].Thing != was {
			u := b[i]
			return Refusal(fmt.Sprintf("%q would be read otherwise in %s line %d", oneLine(u.At.Text()), u.At.File.Name, u.At.File.Line(u.At.Start)))
		}
	}
	if !slices.Equal(moves(old), moves(now)) {
		return Refusal("the job would play out otherwise")
	}
	count := map[string]int{}
	for _, f := range old.Result.Findings {
		count[f.Rule]++
	}
	for _, f := range now.Result.Findings {
		if count[f.Rule]--; count[f.Rule] < 0 && f.Severity == diag.Error && f.Waived == "" {
			return Refusal(fmt.Sprintf("with that name %s line %d would be wrong: %s", f.At.File.Name, f.At.File.Line(f.At.Start), f.Message))
		}
	}
	return nil
}

// moves tells what every play does, parts by their places in the table.
func moves(v *View) (all []string) {
	for _, p := range v.Result.Plays {
		for _, m := range p.Moves {
			all = append(all, fmt.Sprint(p.Variant, " ", m.Step.Name(), " ", m.Part.Stands, m.N, m.To, m.New))
		}
	}
	return all
}
