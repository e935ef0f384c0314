package resolve

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"refitcard/compiler/library"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

// Rows are found by their names: a table of thousands is read in its own time, not in the square of it.
func TestALongTableIsReadOnce(t *testing.T) {
	var b strings.Builder
	b.WriteString("---\ntitle: x\nnumber: A-1\nrevision: A\n---\n\n## Parts\n\n| Part | Qty |\n|:--|--:|\n")
	const rows = 1900
	for i := range rows {
		fmt.Fprintf(&b, "| bolt %d | 1 |\n", i)
	}
	b.WriteString("| Bolt 7 | 1 |\n")
	settings := library.Load(os.DirFS(t.TempDir()))
	tree := syntax.Parse(source.New("a.md", "a.md", []byte(b.String())), settings.Verbs)
	start := time.Now()
	p, faults := Resolve(Input{Main: tree, Settings: settings})
	if took := time.Since(start); took > 3*time.Second { // it took 20 s before
		t.Errorf("%d rows took %v", rows, took)
	}
	repeated := 0
	for _, f := range faults {
		if f.Name == "part/repeated" {
			repeated++
		}
	}
	if len(p.Parts) != rows || repeated != 1 {
		t.Errorf("%d rows, %d repeated", len(p.Parts), repeated)
	}
}
