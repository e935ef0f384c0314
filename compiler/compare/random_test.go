package compare_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"refitcard/compiler/compare"
)

// Whatever happens to the lines of a procedure: both ways find a change or none does, and each change stands somewhere and
// says something.
func TestRandomEdits(t *testing.T) {
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
		for range rapid.IntRange(1, 6).Draw(r, "edits") {
			i, j := rapid.IntRange(0, len(lines)-1).Draw(r, "line"), rapid.IntRange(0, len(lines)-1).Draw(r, "other")
			switch rapid.IntRange(0, 3).Draw(r, "edit") {
			case 0:
				lines = slices.Delete(lines, i, i+1)
			case 1:
				lines = slices.Insert(lines, j, lines[i])
			case 2:
				lines[i], lines[j] = lines[j], lines[i]
			case 3:
				at := rapid.IntRange(0, len(lines[i])).Draw(r, "at")
				lines[i] = lines[i][:at] + rapid.SampledFrom([]string{"{", "}", "|", "7", "x", " not ", "\\"}).Draw(r, "typed") + lines[i][at:]
			}
			if len(lines) < 2 {
				break
			}
		}
		old, now := read(t, text), read(t, strings.Join(lines, "\n"))
		there, back := compare.Procedures(old, now), compare.Procedures(now, old)
		if (len(there) == 0) != (len(back) == 0) {
			r.Fatalf("%d changes there, %d back\n%v\n%v", len(there), len(back), there, back)
		}
		for _, c := range there {
			if c.What == "" || c.Was == c.Now || c.Sentence == "" {
				r.Fatalf("%+v", c)
			}
		}
	})
}
