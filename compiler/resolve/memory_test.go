package resolve

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"sync"
	"testing"

	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

// What is read with a memory, by several at once and again, is what is read without one.
func TestMemoryChangesNothing(t *testing.T) {
	settings := library.Load(os.DirFS("../../procedures"))
	files, _ := filepath.Glob("../../procedures/*.md")
	var inputs []Input
	var want []*procedure.Procedure
	for _, f := range files {
		raw, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		in := Input{Main: syntax.Parse(source.New(f, filepath.Base(f), raw), settings.Verbs), Settings: settings}
		p, _ := Resolve(in)
		inputs, want = append(inputs, in), append(want, p)
	}
	memory := &Memory{}
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for i, in := range inputs {
				in.Memory = memory
				p, _ := Resolve(in)
				same(t, p, want[i])
			}
		})
	}
	all.Wait()
}

func same(t *testing.T, got, want *procedure.Procedure) {
	var a, b bytes.Buffer
	got.Dump(&a)
	want.Dump(&b)
	if a.String() != b.String() {
		t.Errorf("%s:\n%s\nwithout a memory:\n%s", want.File.Name, a.String(), b.String())
	}
	for i, p := range want.Parts {
		if q := got.Parts[i]; !reflect.DeepEqual(q.Hardware, p.Hardware) || !reflect.DeepEqual(q.Torque.Value, p.Torque.Value) {
			t.Errorf("%s: %q: %+v, without a memory %+v", want.File.Name, p.Name.Value, q.Hardware, p.Hardware)
		}
	}
	for i, x := range want.Tools {
		if !reflect.DeepEqual(got.Tools[i].Choices, x.Choices) {
			t.Errorf("%s: %q: %+v, without a memory %+v", want.File.Name, x.Whole, got.Tools[i].Choices, x.Choices)
		}
	}
}

// A memory that is full begins anew.
func TestMemoryIsBounded(t *testing.T) {
	m := &Memory{}
	for i := range 3 * mostKnown {
		m.name("bolt " + strconv.Itoa(i))
	}
	if n := len(m.names.known); n == 0 || n > mostKnown {
		t.Errorf("%d names are known", n)
	}
}
