package library_test

import (
	"fmt"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler/library"
)

func TestTheRegisterHoldsEveryProcedureInTheOrderOfTheirNames(t *testing.T) {
	fsys := fstest.MapFS{
		"README.md":     {Data: []byte("# No procedure\n")},
		"empty.md":      {},
		".hidden/x.md":  {Data: []byte("---\nnumber: H-1\n---\n")},
		"long.md":       {Data: []byte("---\n# " + strings.Repeat("x", 5000) + "\nnumber: L-1\nafter: [A-1, A-2]\n---\n## Parts\n")},
		"mark.md":       {Data: []byte("\ufeff---\nnumber: M-1\n---\n")},
		"sub/open.MD":   {Data: []byte("---\nnumber: O-1\n")},
		"sub/broken.md": {Data: []byte("---\nnumber: B-1\x00\n---\n")},
	}
	want := ""
	for i := range 40 {
		fsys[fmt.Sprintf("n%02d.md", i)] = &fstest.MapFile{Data: fmt.Appendf(nil, "---\nnumber: N-%02d\nstarts: remove guard\n---\n", i)}
		want += fmt.Sprintf("n%02d.md N-%02d [remove guard]\n", i, i)
	}
	want = "long.md L-1 []\nmark.md M-1 []\n" + want + "sub/broken.md  []\nsub/open.MD  []\n"
	got := ""
	for _, e := range library.ReadRegister(fsys).Entries {
		got += fmt.Sprintln(e.Path, e.Number, e.Starts)
		if raw, _ := fs.ReadFile(fsys, e.Path); e.Path == "long.md" && (len(e.File.Text) >= len(raw) || len(e.After) != 2) {
			t.Errorf("%d bytes of %d are kept of long.md, and it comes after %v", len(e.File.Text), len(raw), e.After)
		}
	}
	for number, want := range map[string]int{"n-07": 1, "N-07": 1, "N-7": 0, "": 2} {
		if found := library.ReadRegister(fsys).Numbered(number); len(found) != want {
			t.Errorf("%d entries are numbered %q, there were to be %d", len(found), number, want)
		}
	}
	if got != want {
		t.Errorf("the register is\n%s\nit was to be\n%s", got, want)
	}
}
