package verb

import (
	"strings"
	"unicode/utf8"
)

// Near finds the candidate that a word was probably meant to be: at most a third of its letters wrong, missing, too many or
// swapped, one at least. It is "" when none is near. Case does not count; among equals the first wins.
func Near(word string, candidates []string) string {
	word = strings.ToLower(word)
	best, found := max(1, utf8.RuneCountInString(word)/3)+1, ""
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

// distance counts the edits from a to b (a letter put in, left out, changed, or two neighbours swapped), up to limit. It stops
// as soon as there are more: most words are held against names that are not near at all.
func distance(a, b string, limit int) int {
	m, n := utf8.RuneCountInString(a), utf8.RuneCountInString(b)
	if m-n >= limit || n-m >= limit {
		return limit
	}
	if m == len(a) && n == len(b) {
		return edits([]byte(a), []byte(b), limit)
	}
	return edits([]rune(a), []rune(b), limit)
}

// edits is distance for words of single bytes, and for all others.
func edits[T byte | rune](x, y []T, limit int) int {
	var room [3 * 64]int // enough for all but a few, and needs no memory of its own
	rows := room[:]
	if need := 3 * (len(y) + 1); need > len(rows) {
		rows = make([]int, need)
	}
	before, last, row := rows[:len(y)+1], rows[len(y)+1:2*len(y)+2], rows[2*len(y)+2:3*len(y)+3]
	for j := range last {
		last[j] = j
	}
	least := 0 // of the row before
	for i := 1; i <= len(x); i++ {
		row[0] = i
		lowest := i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
			lowest = min(lowest, row[j])
		}
		if lowest >= limit && least >= limit { // a swap looks two rows back
			return limit
		}
		before, last, row, least = last, row, before, lowest
	}
	return min(last[len(y)], limit)
}
