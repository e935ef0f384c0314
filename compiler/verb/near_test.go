package verb

import (
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// plainDistance is the same count as Distance by the book: the whole table, no limit, nothing stopped early.
func plainDistance(a, b string) int {
	x, y := []rune(a), []rune(b)
	table := make([][]int, len(x)+1)
	for i := range table {
		table[i] = make([]int, len(y)+1)
		for j := range table[i] {
			switch {
			case i == 0 || j == 0:
				table[i][j] = i + j
			case x[i-1] == y[j-1]:
				table[i][j] = table[i-1][j-1]
			default:
				table[i][j] = 1 + min(table[i-1][j-1], table[i-1][j], table[i][j-1])
			}
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				table[i][j] = min(table[i][j], table[i-2][j-2]+1)
			}
		}
	}
	return table[len(x)][len(y)]
}

func TestDistanceStopsEarlyAndIsRight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringOfN(rapid.SampledFrom([]rune("abbaé·")), 0, 90, -1)
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		if rapid.Bool().Draw(t, "near") && utf8.RuneCountInString(a) > 2 {
			r := []rune(a)
			at := rapid.IntRange(0, len(r)-2).Draw(t, "at")
			r[at], r[at+1] = r[at+1], r[at]
			b = string(r)
		}
		want := plainDistance(a, b)
		if got := Distance(a, b); got != want {
			t.Fatalf("%q to %q: %d, want %d", a, b, got, want)
		}
		limit := rapid.IntRange(1, 12).Draw(t, "limit")
		if got := distance(a, b, limit); got != min(want, limit) {
			t.Fatalf("%q to %q up to %d: %d, want %d", a, b, limit, got, min(want, limit))
		}
	})
}
