package draft_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/draft"
	"refitcard/compiler/rules"
)

// library compiles a text on its own, in a library without settings.
func compile(text []byte) compiler.Result {
	lib := compiler.Open(fstest.MapFS{}, func(p string) string { return p })
	return lib.CompileText("draft.md", text, rules.Options{})
}

func check(text []byte) []diag.Finding { return compile(text).Findings }

func notes(t testing.TB) map[string][]byte {
	t.Helper()
	names, err := filepath.Glob(filepath.Join("..", "..", "testdata", "notes", "*"))
	if err != nil {
		t.Fatal(err)
	}
	all := map[string][]byte{}
	for _, name := range names {
		if strings.HasSuffix(name, ".want.md") {
			continue
		}
		raw, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all[filepath.Base(name)] = raw
	}
	return all
}

func made(name string, raw []byte) draft.Draft {
	base := strings.TrimSuffix(name, filepath.Ext(name))
	return draft.Make(raw, draft.Options{Title: base, Number: strings.ToUpper(base), Check: check})
}

func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip()
	}
	for name, raw := range notes(t) {
		os.WriteFile(filepath.Join(dir, name+".out"), made(name, raw).Text, 0o644)
	}
}
