package diag_test

import (
	"testing"

	"refitcard/compiler/diag"
	"refitcard/compiler/source"
)

func edit(f *source.File, start, end int, text string) diag.Edit {
	return diag.Edit{At: f.At(start, end), Text: text}
}

func finding(safe bool, edits ...diag.Edit) diag.Finding {
	return diag.Finding{Rule: "part/unknown", Severity: diag.Error, At: edits[0].At, Fixes: []diag.Fix{{Safe: safe, Edits: edits}}}
}

func TestSafePicksWholeFixesThatAgree(t *testing.T) {
	f := source.New("a.md", "a.md", []byte("\xef\xbb\xbfone two three"))
	again := source.New("a.md", "a.md", []byte("\xef\xbb\xbfone two three")) // the same file, read for another procedure
	other := source.New("b.md", "b.md", []byte("b"))
	waived := finding(true, edit(f, 0, 3, "1"))
	waived.Waived = "for a reason"
	for name, c := range map[string]struct {
		found []diag.Finding
		want  string
	}{
		"none":                      {nil, "one two three"},
		"one":                       {[]diag.Finding{finding(true, edit(f, 0, 3, "1"))}, "1 two three"},
		"not safe":                  {[]diag.Finding{finding(false, edit(f, 0, 3, "1"))}, "one two three"},
		"waived":                    {[]diag.Finding{waived}, "one two three"},
		"apart":                     {[]diag.Finding{finding(true, edit(f, 0, 3, "1")), finding(true, edit(f, 4, 7, "2"))}, "1 2 three"},
		"the same twice":            {[]diag.Finding{finding(true, edit(f, 0, 0, "new ")), finding(true, edit(again, 0, 0, "new "))}, "new one two three"},
		"two readings of one place": {[]diag.Finding{finding(true, edit(f, 0, 3, "1")), finding(true, edit(again, 0, 3, "I"))}, "one two three"},
		"overlapping":               {[]diag.Finding{finding(true, edit(f, 0, 5, "1")), finding(true, edit(f, 4, 7, "2"))}, "one two three"},
		"two at one point":          {[]diag.Finding{finding(true, edit(f, 4, 4, "x")), finding(true, edit(f, 4, 4, "y"))}, "one two three"},
		"half in another file":      {[]diag.Finding{finding(true, edit(f, 0, 3, "1"), edit(other, 0, 1, "B"))}, "one two three"},
		"one of two edits at odds":  {[]diag.Finding{finding(true, edit(f, 0, 3, "1"), edit(f, 8, 13, "3")), finding(true, edit(f, 8, 13, "III"))}, "one two three"},
	} {
		var edits []diag.Edit
		for _, m := range diag.Safe(c.found, func(f *source.File) bool { return f.Name == "a.md" }) {
			edits = append(edits, m.Fix.Edits...)
		}
		if got := string(diag.Apply(f, edits)); got != "\xef\xbb\xbf"+c.want {
			t.Errorf("%s: %q, it was to be %q", name, got, c.want)
		}
	}
}

func TestSortTellsTheSameOnceAlsoFromTwoReadings(t *testing.T) {
	a, b := source.New("shared.md", "shared.md", []byte("text")), source.New("shared.md", "shared.md", []byte("text"))
	found := diag.Sort([]diag.Finding{
		{Rule: "tag/empty", At: b.At(2, 3), Message: "m"},
		{Rule: "tag/empty", At: a.At(0, 1), Message: "m"},
		{Rule: "tag/empty", At: a.At(2, 3), Message: "m"},
		{Rule: "tag/empty", At: a.At(2, 3), Message: "other"},
	})
	if len(found) != 3 || found[0].At.Start != 0 {
		t.Errorf("%d findings, the first at %d", len(found), found[0].At.Start)
	}
}
