package browsertest

import (
	"os"
	"path/filepath"
	"testing"
)

// Axe gives the program axe-core (Deque Systems, MPL 2.0), which looks for what keeps people out: the file that AXE names, or the
// one that npm has put into the folder .ci or into one above. Without it the test is skipped, and fails where CI is true.
func Axe(t testing.TB) string {
	t.Helper()
	names := []string{os.Getenv("AXE")}
	for _, up := range []string{"../../.ci", ".", "..", "../.."} {
		names = append(names, filepath.Join(up, "node_modules", "axe-core", "axe.min.js"))
	}
	for _, n := range names {
		if program, err := os.ReadFile(n); err == nil {
			return string(program)
		}
	}
	const missing = "axe-core is not installed (npm ci --prefix .ci, or AXE=FILE): it is not checked what it finds"
	if os.Getenv("CI") == "true" {
		t.Fatal(missing)
	}
	t.Skip(missing)
	return ""
}

// AxeFound is what axe-core tells of a page: the rules that hold, and what breaks one.
type AxeFound struct {
	Passes     int
	Violations []struct {
		ID, Help string
		Nodes    []struct{ HTML, FailureSummary string }
	}
	Unsure []string // rules that it could not decide, save for text in drawings: that is ink on the field's ground, as elsewhere
}

// Axe asks axe-core about the page, by the rules of WCAG 2.2 level AA and its own further advice.
func (p *Page) Axe(program string) (f AxeFound) {
	p.Eval(nil, program+";0")
	p.Eval(&f, `axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }).then((r) => ({
		passes: r.passes.length, violations: r.violations, unsure: r.incomplete.map((v) => ({ id: v.id, nodes: v.nodes.filter((n) => !n.html.startsWith("<text")) }))
			.filter((v) => v.nodes.length).map((v) => v.id + ": " + v.nodes.map((n) => n.html.slice(0, 80)).join(" ")) }))`)
	return f
}
