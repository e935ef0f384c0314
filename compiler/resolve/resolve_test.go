package resolve

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"refitcard/compiler/hardware"
	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

func TestLibraryResolves(t *testing.T) {
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
		in := Input{Main: main, Settings: settings}
		for _, a := range Includes(main) {
			raw, err := os.ReadFile("../../procedures/" + a.Path)
			if err != nil {
				t.Fatal(err)
			}
			in.Includes = append(in.Includes, Included{syntax.Parse(source.New(a.Path, a.Path, raw), settings.Verbs), a.At})
		}
		p, faults := Resolve(in)
		for _, x := range faults {
			t.Errorf("%s:%d: %s %q at %q", name, x.At.File.Line(x.At.Start), x.Name, x.Words, x.At.Text())
		}
		if name == "rake-winch-end-cover.md" {
			var b bytes.Buffer
			p.Dump(&b)
			t.Log(b.String())
		}
	}
	if !reflect.DeepEqual(*procedure.NoValues, procedure.Values{}) {
		t.Errorf("what acts without values share was changed: %+v", *procedure.NoValues)
	}
	if !reflect.DeepEqual(*procedure.NoTerms, procedure.Terms{}) {
		t.Errorf("what steps without terms share was changed: %+v", *procedure.NoTerms)
	}
	if !reflect.DeepEqual(*hardware.NoSpec, hardware.Spec{}) {
		t.Errorf("what parts without a Spec share was changed: %+v", *hardware.NoSpec)
	}
}
