package assembly_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"refitcard/compiler/assembly"
	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
	"refitcard/compiler/resolve"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// played reads a procedure and plays it; faults of the stages before are those of resolve.
func played(t interface{ Helper() }, text string) (*procedure.Procedure, []source.Fault, []assembly.Play) {
	t.Helper()
	settings := &library.Settings{Verbs: verb.Standard()}
	main := syntax.Parse(source.New("case.md", "case.md", []byte(text)), settings.Verbs)
	p, faults := resolve.Resolve(resolve.Input{Main: main, Settings: settings})
	faults = append(faults, main.Faults...)
	return p, faults, assembly.PlayAll(p, settings.Verbs, faults, true)
}

// unwaived takes away what the waivers of a procedure let pass: one fault for each, of its rule, in its step, about its thing
// where it names one. A waiver before the first stage speaks of the declarations, and no fault of a play is about those alone.
func unwaived(p *procedure.Procedure, faults []source.Fault) []source.Fault {
	left := slices.Clone(faults)
	for _, w := range p.Waivers {
		for i, f := range left {
			if w.Step != nil && f.Name == w.Rule.Value && f.Step == w.Step.Number && (w.Thing == "" || procedure.Fold(f.Thing) == w.Thing) {
				left = slices.Delete(left, i, i+1)
				break
			}
		}
	}
	return left
}

func TestTheLibraryCloses(t *testing.T) {
	root := os.DirFS("../../procedures")
	settings := library.Load(root)
	files, _ := filepath.Glob("../../procedures/*.md")
	for _, f := range files {
		raw, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.Base(f)
		main := syntax.Parse(source.New(name, name, raw), settings.Verbs)
		in := resolve.Input{Main: main, Settings: settings}
		for _, a := range resolve.Includes(main) {
			raw, err := os.ReadFile("../../procedures/" + a.Path)
			if err != nil {
				t.Fatal(err)
			}
			in.Includes = append(in.Includes, resolve.Included{Tree: syntax.Parse(source.New(a.Path, a.Path, raw), settings.Verbs), At: a.At})
		}
		p, _ := resolve.Resolve(in)
		for _, play := range assembly.PlayAll(p, settings.Verbs, nil, true) {
			faults := unwaived(p, play.Faults)
			for _, x := range faults {
				t.Errorf("%s:%d: %s %q %v at %q", name, x.At.File.Line(x.At.Start), x.Name, x.Words, x.Counts, x.At.Text())
			}
			if len(faults) > 0 {
				var b bytes.Buffer
				for _, s := range play.After {
					s.Dump(&b)
				}
				t.Log(b.String())
			}
		}
	}
}

func TestCleanCasesClose(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/clean/*.md")
	for _, f := range files {
		raw, _ := os.ReadFile(f)
		p, faults, plays := played(t, string(raw))
		for _, x := range faults {
			t.Errorf("%s:%d: %s %q at %q", filepath.Base(f), x.At.File.Line(x.At.Start), x.Name, x.Words, x.At.Text())
		}
		for _, play := range plays {
			for _, x := range unwaived(p, play.Faults) {
				t.Errorf("%s:%d: %s %q %v at %q", filepath.Base(f), x.At.File.Line(x.At.Start), x.Name, x.Words, x.Counts, x.At.Text())
			}
		}
	}
}
