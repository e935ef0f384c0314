package editor_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler/editor"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// corpus reads the texts of all tests and of the sample library, marks cut off, by their paths.
func corpus(t testing.TB) map[string][]byte {
	t.Helper()
	all := map[string][]byte{}
	for _, folder := range []string{"procedures", "testdata/clean", "testdata/faulty"} {
		root := filepath.Join("..", "..", filepath.FromSlash(folder))
		err := filepath.WalkDir(root, func(name string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || filepath.Ext(name) != ".md" {
				return err
			}
			raw, err := os.ReadFile(name)
			rel, _ := filepath.Rel(root, name)
			text, _ := rules.CutMarks(raw)
			all[folder+"/"+filepath.ToSlash(rel)] = text
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if len(all) < 100 {
		t.Fatalf("only %d texts", len(all))
	}
	return all
}

// viewOf compiles one text as a library of its own.
func viewOf(t testing.TB, text []byte) (*editor.Shelf, *editor.View) {
	t.Helper()
	s := editor.NewShelf(fstest.MapFS{"job.md": {Data: text}})
	r, err := s.Compile("job.md")
	if err != nil {
		t.Fatal(err)
	}
	v, ok := editor.Look(r, "job.md")
	if !ok {
		t.Fatal("the procedure is not among its own files")
	}
	v.Beside = s.Procedures
	return s, v
}

// ask puts every question that does not change the text to an offset, and gives the places of the answers.
func ask(v *editor.View, offset int) (places []source.Span) {
	if n, ok := v.Hover(offset); ok {
		places = append(places, n.At)
	}
	for _, o := range v.Complete(offset) {
		places = append(places, o.At)
	}
	places = append(places, v.Definition(offset)...)
	if u, ok := v.UseAt(offset); ok {
		for _, x := range v.Uses(u.Thing) {
			places = append(places, x.At)
		}
	}
	if at, _, err := v.Named(offset); err == nil {
		places = append(places, at)
	}
	for _, f := range v.Fixes(offset, offset) {
		for _, e := range f.Edits {
			places = append(places, e.At)
		}
	}
	return places
}

// whole puts the questions about a whole file.
func whole(v *editor.View) (places []source.Span) {
	places = v.Folds()
	var walk func(list []editor.Entry)
	walk = func(list []editor.Entry) {
		for _, e := range list {
			places = append(places, e.At, e.Head)
			walk(e.Below)
		}
	}
	walk(v.Outline())
	return places
}

func inside(t testing.TB, v *editor.View, places []source.Span) {
	t.Helper()
	for _, at := range places {
		known := false
		for _, f := range v.Result.Proc.Sources {
			known = known || f == at.File
		}
		if !known || at.Start < 0 || at.End < at.Start || at.End > len(at.File.Text) {
			t.Errorf("a place beyond its file: %d to %d, known %v", at.Start, at.End, known)
		}
	}
}

// Every question at every offset of every text of the tests: no panic, every place inside its file.
func TestEveryQuestionEverywhere(t *testing.T) {
	step := 23 // a prime: over all texts every kind of place is met
	if os.Getenv("REFITCARD_LONG") != "" {
		step = 1
	}
	asked, answered := 0, 0
	for name, text := range corpus(t) {
		_, v := viewOf(t, text)
		inside(t, v, whole(v))
		for offset := len(name) % step; offset <= len(text); offset += step {
			places := ask(v, offset)
			inside(t, v, places)
			asked++
			if len(places) > 0 {
				answered++
			}
		}
		if t.Failed() {
			t.Fatal(name)
		}
	}
	t.Logf("%d offsets, something known at %d", asked, answered)
	if answered < asked/4 {
		t.Errorf("something is known at %d of %d offsets alone", answered, asked)
	}
}

// Whatever is typed: no question fails, and none points beyond the file.
func FuzzAsk(f *testing.F) {
	for name, text := range corpus(f) {
		f.Add(text, len(text)*(len(name)%17)/17)
	}
	f.Fuzz(func(t *testing.T, text []byte, offset int) {
		s, v := viewOf(t, text)
		inside(t, v, ask(v, offset))
		inside(t, v, whole(v))
		if edits, err := s.Rename(v, offset, "spare thing"); err == nil {
			for _, e := range edits {
				inside(t, v, []source.Span{e.At})
			}
		} else if strings.TrimSpace(err.Error()) == "" {
			t.Error("a renaming was refused without a word")
		}
	})
}
