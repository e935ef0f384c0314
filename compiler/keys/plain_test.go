package keys

import (
	"reflect"
	"testing"

	"refitcard/compiler/source"
)

// plainCases are texts that the plain reader takes.
var plainCases = []string{
	"title: Reseal the end cover\nnumber: SD-114\nrevision: 1.10\n",
	"title: Ölwechsel am Pumpwerk  \r\ndate: 2026-11-20\r\n",
	"people: [1 fitter, 2]\nthen: [ SG-302 ]\nafter:\n  - SD-1\n  - Ü2, \"quoted\" and more\nnote: (none)\n",
	"after:\n- SD-1\n- 'x y'\n\nlast: \"a: b # c\"",
	"time: 12:30 a#b\nempty: \"\"\n",
}

// asideCases are texts that it leaves to the library.
var asideCases = []string{
	"", "\n", "title:\n", "title: a # note\n", "title: a: b\n", "title: a:\n", "title: a\n  b\n", "# note\ntitle: a\n",
	"title: &x a\n", "title: *x\n", "title: !!int 3\n", "title: |\n  a\n", "title: 'it''s'\n", "title: \"a\\n\"\n", "title: \"a\n b\"\n",
	"- a\n- b\n", "just words\n", "a: [b: c]\n", "a: [b, ]\n", "a: [[b]]\n", "a: []\n", "a: {b: c}\n", "a: b\na: c\n", "a:b\n", "a : b\n",
	"a: b\u2028c\n", "a: b\u0085c\n", "a: b\rc: d\n", "a: \U0001d11e\n", "a: \ufeffb\n", "a: b\n---\nc: d\n", "a:\tb\n", "a: b\t\n", "a: -\n",
	"a:\n  - b\n - c\n", "a:\n  - b\n  c: d\n", "a:\n  -b\n", "a:\n  - b: c\n", "a:\n  b: c\n", "a: - b\n", "a: [b\n", "a: \xff\n", "a: \"b\" c\n",
}

func TestPlainFrontMatterIsReadWithoutTheLibrary(t *testing.T) {
	for _, text := range plainCases {
		f := source.New("a.md", "a.md", []byte(text))
		if _, ok := plain(f, f.At(0, len(text))); !ok {
			t.Errorf("%q is left to the library", text)
		}
		wantAsTheLibrary(t, text)
	}
	for _, text := range asideCases {
		f := source.New("a.md", "a.md", []byte(text))
		if m, ok := plain(f, f.At(0, len(text))); ok {
			t.Errorf("%q is taken for plain: %v", text, m)
		}
	}
}

// wantAsTheLibrary holds what is read plainly against what the library makes of it.
func wantAsTheLibrary(t *testing.T, text string) {
	t.Helper()
	f := source.New("a.md", "a.md", []byte("é\n"+text))
	at := f.At(3, len(f.Text))
	got, ok := plain(f, at)
	if !ok {
		return
	}
	want, faults := thorough(f, at)
	if len(faults) > 0 || !reflect.DeepEqual(got, want) {
		t.Errorf("%q reads as\n%v\nwhere the library, with faults %v, reads\n%v", text, got, faults, want)
	}
}

// FuzzPlain wants the two readers to agree on whatever the plain one takes.
func FuzzPlain(f *testing.F) {
	for _, text := range append(plainCases, asideCases...) {
		f.Add(text)
	}
	f.Fuzz(wantAsTheLibrary)
}
