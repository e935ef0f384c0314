package sheet_test

import (
	"os"
	"strings"
	"testing"

	"refitcard/compiler"
	"refitcard/compiler/rules"
	"refitcard/render/document"
	"refitcard/render/sheet"
)

// Every act of a card of the library leads to its words in the source: what prints there is what stands at its origin.
func TestEachPartLeadsToItsSource(t *testing.T) {
	lib := compiler.Open(os.DirFS("../../procedures"), func(path string) string { return path })
	files, err := os.ReadDir("../../procedures")
	if err != nil {
		t.Fatal(err)
	}
	acts, others := 0, map[string]int{}
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".md") {
			continue
		}
		r, err := lib.Compile(f.Name(), rules.Options{})
		if err != nil {
			t.Fatal(err)
		}
		page, err := sheet.LayCard(document.Card(r.Proc, r.Plays, r.Settings, document.Options{}), sheet.Options{Paper: "a4"})
		if err != nil {
			t.Fatal(err)
		}
		for n, p := range page.Pages {
			for _, o := range p.Origins {
				if o.W <= 0 || o.H <= 0 || o.X < 0 || o.Y < 0 || o.X+o.W > page.Width || o.Y+o.H > page.Height {
					t.Errorf("%s: page %d: an origin lies at %v", f.Name(), n+1, o)
				}
			}
			for _, b := range p.Boxes {
				switch b.Name {
				case "act":
					acts++
					saysItsSource(t, f.Name(), p, b)
				case "panel WARNING", "panel DANGER", "panel CAUTION", "note", "stage", "hold", "title", "figure", "layout", "stack":
					if _, ok := at(p, b); !ok {
						t.Errorf("%s: page %d: %q leads nowhere", f.Name(), n+1, b.Name)
					}
					others[b.Name]++
				}
			}
		}
	}
	if acts < 400 || len(others) < 9 {
		t.Errorf("only %d acts were looked at, and of the others %v", acts, others)
	}
}

// at finds the origin of a box.
func at(p sheet.Page, b sheet.Box) (sheet.Origin, bool) {
	x, y := b.X+b.W/2, b.Y+b.H/2
	for _, o := range p.Origins {
		if o.X <= x && x <= o.X+o.W && o.Y <= y && y <= o.Y+o.H {
			return o, true
		}
	}
	return sheet.Origin{}, false
}

func saysItsSource(t *testing.T, name string, p sheet.Page, b sheet.Box) {
	t.Helper()
	o, ok := at(p, b)
	if !ok {
		t.Errorf("%s: %q leads nowhere", name, b.Text)
		return
	}
	from := strings.ToLower(o.At.Text())
	for _, w := range strings.FieldsFunc(strings.ToLower(b.Text), func(r rune) bool { return r < 'a' || r > 'z' }) {
		if len(w) > 3 && !strings.Contains(from, w) {
			t.Errorf("%s step %s: %q is not said at its origin, %q", name, o.Step, b.Text, o.At.Text())
			return
		}
	}
}
