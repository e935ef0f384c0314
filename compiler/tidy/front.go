package tidy

import (
	"regexp"
	"slices"
	"strings"
)

// keyOrder is the order in which the language names the keys of the front matter.
func keyOrder() []string {
	return []string{
		"title", "number", "revision", "date", "machine", "people", "author", "reviewer", "approved", "walked", "time", "units",
		"paper", "conditions", "references", "variants", "each", "after", "then", "starts", "leaves",
	}
}

var keySpace = regexp.MustCompile(`^([a-z_-]+)[ \t]*:[ \t]+(\S)`)

// front puts the keys of the front matter in order. A key takes the comments along that stand right above it; keys that nobody
// knows stay in their order behind the others. Where anything is out of the ordinary the front matter is left alone.
func (t *tidier) front() {
	front := t.tree.Front
	if front == nil || len(front.Entries) == 0 || len(front.Repeated) > 0 {
		return
	}
	first, last := 2, t.file.Line(t.tree.FrontAt.End)-1
	starts := make([]int, 0, len(front.Entries)) // the line at which each entry begins, its comments among them
	for i, e := range front.Entries {
		line := t.file.Line(e.KeyAt.Start)
		if t.file.LineSpan(line).Start != e.KeyAt.Start || i > 0 && line <= starts[i-1] {
			return
		}
		starts = append(starts, t.commentsAbove(line, first))
	}
	entries := make([]string, len(starts))
	var lead strings.Builder
	for n := first; n < starts[0]; n++ {
		lead.WriteString(t.file.LineSpan(n).Text() + t.eol)
	}
	tail := t.commentsAbove(last+1, t.file.Line(front.Entries[len(starts)-1].KeyAt.Start)+1)
	for i, from := range starts {
		stop := tail
		if i+1 < len(starts) {
			stop = starts[i+1]
		}
		var b strings.Builder
		for n := from; n < stop; n++ {
			b.WriteString(keySpace.ReplaceAllString(t.file.LineSpan(n).Text(), "$1: $2") + t.eol)
		}
		entries[i] = b.String()
	}
	order := make([]int, len(starts))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return rankOf(front.Entries[a].Key) - rankOf(front.Entries[b].Key) })
	b := strings.Builder{}
	b.WriteString(lead.String())
	for _, i := range order {
		b.WriteString(entries[i])
	}
	t.add(t.put(t.file.LineSpan(first).Start, t.file.LineSpan(tail).Start, b.String()))
}

// rankOf is the place of a key in the order.
func rankOf(key string) int {
	if at := slices.Index(keyOrder(), key); at >= 0 {
		return at
	}
	return len(keyOrder())
}

// commentsAbove is the first of the lines of comment that stand right above a line, or the line itself.
func (t *tidier) commentsAbove(line, first int) int {
	for line > first && strings.HasPrefix(t.file.LineSpan(line-1).Text(), "#") {
		line--
	}
	return line
}
