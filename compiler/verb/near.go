package verb

import "strings"

// Near finds the candidate that a word was probably meant to be: at most a third of its letters wrong, missing, too many or
// swapped, one at least. It is "" when none is near. Case does not count; among equals the first wins.
func Near(word string, candidates []string) string {
	word = strings.ToLower(word)
	best, found := max(1, len([]rune(word))/3)+1, ""
	for _, c := range candidates {
		if d := distance(word, strings.ToLower(c), best); d < best {
			best, found = d, c
		}
	}
	return found
}

// Nearest finds the spelling of a verb that a word was probably meant to be.
func (t *Table) Nearest(word string) string { return Near(word, t.spell) }

// Distance counts the edits from one word to another: a letter put in, left out, changed, or two neighbours swapped.
// Case counts.
func Distance(a, b string) int { return distance(a, b, len(a)+len(b)+1) }

// distance counts the edits from a to b (a letter put in, left out, changed, or two neighbours swapped), up to limit.
func distance(a, b string, limit int) int {
	x, y := []rune(a), []rune(b)
	if d := len(x) - len(y); d >= limit || -d >= limit {
		return limit
	}
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return min(last[len(y)], limit)
}
