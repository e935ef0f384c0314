package rules

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"refitcard/compiler/procedure"
)

// A text that is folded word by word is the text as it folds whole: names that cross a line are found in it.
func TestTextFoldsWordByWord(t *testing.T) {
	pieces := []string{"Guard", "bolt", " ", "  ", "-", "\n", "\t", "\r\n", "\u00a0", "\u2011", "\u0085", "é", "e\u0301", "\u0301", "İ", "i\u0307", "N·m", "5–50", "ς", "漢", "\xff", "\x1c"}
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 12).Draw(t, "text"), "")
		if got, want := string(appendFolded(nil, text)), procedure.Fold(text); got != want {
			t.Errorf("%q folds to %q, not %q", text, got, want)
		}
	})
}
