package document_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"refitcard/compiler"
	"refitcard/compiler/rules"
	"refitcard/render/document"
)

// A review is made of whatever a writer has saved: its ledger stays in order, and its line says what its rows say.
func TestReviewsOfRandomEdits(t *testing.T) {
	names, err := filepath.Glob("../../procedures/*.md")
	if err != nil || len(names) < 10 {
		t.Fatal(len(names), err)
	}
	var texts []string
	for _, n := range names {
		raw, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, string(raw))
	}
	rapid.Check(t, func(r *rapid.T) {
		text := rapid.SampledFrom(texts).Draw(r, "text")
		lines := strings.Split(text, "\n")
		for range rapid.IntRange(1, 8).Draw(r, "edits") {
			i, j := rapid.IntRange(0, len(lines)-1).Draw(r, "line"), rapid.IntRange(0, len(lines)-1).Draw(r, "other")
			switch rapid.IntRange(0, 2).Draw(r, "edit") {
			case 0:
				lines = slices.Delete(lines, i, i+1)
			case 1:
				lines = slices.Insert(lines, j, lines[i])
			case 2:
				lines[i], lines[j] = lines[j], lines[i]
			}
			if len(lines) < 2 {
				break
			}
		}
		raw := []byte(strings.Join(lines, "\n"))
		c := compiler.Open(fstest.MapFS{"job.md": {Data: raw}}, func(path string) string { return path }).CompileText("job.md", raw, rules.Options{})
		review := document.MakeReview(document.ReviewInput{Proc: c.Proc, Settings: c.Settings, Findings: c.Findings})
		faults := 0
		for _, l := range review.Ledgers {
			for _, row := range l.Rows {
				checkRow(r, l, row)
				if row.Fault {
					faults++
				}
			}
		}
		if closes := review.Standing.Ledger == "The ledger closes."; closes && faults > 0 || review.Standing.Good && c.Failed() {
			r.Fatalf("%+v with %d faults", review.Standing, faults)
		}
	})
}

func checkRow(r *rapid.T, l document.Ledger, row document.LedgerRow) {
	n := len(l.Steps)
	if row.Thing == "" || row.End == "" {
		r.Fatalf("%+v", row)
	}
	for i, m := range row.Marks {
		if m.Column < 0 || m.Column >= n {
			r.Fatalf("%s: mark %d in column %d of %d", row.Thing, i, m.Column, n)
		}
	}
	off := false
	for i, b := range row.Bars {
		if b.From < -1 || b.To > n || b.From > b.To || i > 0 && b.From < row.Bars[i-1].To {
			r.Fatalf("%s: bars %+v of %d steps", row.Thing, row.Bars, n)
		}
		off = off || b.To == n
	}
	if off != row.Fault && n > 0 && row.Fault {
		r.Fatalf("%s: a fault that does not run off the edge: %+v", row.Thing, row)
	}
	if off && !row.Fault {
		r.Fatalf("%s runs off the edge and is no fault: %+v", row.Thing, row)
	}
}
