package resolve

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/syntax"
)

// toolAct finds the tool that a tag names: its words, or one side of its "or", with details where several share a name.
func (r *resolver) toolAct(a *procedure.Act, raw syntax.Raw) {
	words := raw.Text
	for _, w := range []string{"the ", "a ", "an ", "both "} {
		if len(words) > len(w) && strings.EqualFold(words[:len(w)], w) {
			words = words[len(w):]
		}
	}
	var room [4]hit
	name, detail := cutDetail(words)
	hits := r.toolsNamed(room[:0], words, name, detail)
	at := raw.At(len(raw.Text)-len(words), len(raw.Text))
	switch len(hits) {
	case 0:
		r.fault("tool/not-listed", at, words, near(name, r.names.typed(isTool))).Thing = words
		a.Broken = true
		return
	case 1:
	default:
		said := []string{words}
		for _, h := range hits {
			c := h.tool.Choices[h.choice]
			said = append(said, c.Name+comma(c.Detail))
		}
		r.fault("tool/ambiguous", at, said...)
		a.Broken = true
	}
	a.Tool, a.Choice = hits[0].tool, hits[0].choice
}

// hit is a tool of the list that a tag names: that side of its "or".
type hit struct {
	tool   *procedure.Tool
	choice int
}

// toolsNamed puts the tools that some words name behind others: the one that is written so, or all that have the name and the
// details.
func (r *resolver) toolsNamed(hits []hit, words, name, detail string) []hit {
	for i := range r.tools {
		t := &r.tools[i]
		if t.tool.Whole != words {
			continue
		}
		for k := range i { // one before it may be written the same but for a space
			if r.tools[k].whole == t.whole {
				t = &r.tools[k]
				break
			}
		}
		return append(hits, hit{t.tool, 0})
	}
	whole, folded := spaced(words), spaced(name)
	plural := strings.HasSuffix(folded, "s") || strings.HasSuffix(folded, "feet") || strings.HasSuffix(folded, "teeth") // as plurals end
	for i := range r.tools {
		t := &r.tools[i]
		if t.whole == whole {
			return append(hits[:0], hit{t.tool, 0})
		}
		for k := range t.sides {
			s := &t.sides[k]
			if (s.spaced == folded || (plural || t.of) && spaced(procedure.Plural(s.name)) == folded) && holdsDetails(s.detail, detail) {
				hits = append(hits, hit{t.tool, k})
			}
		}
	}
	return hits
}

// listedTool is a tool of the list with its names made fit to compare.
type listedTool struct {
	*bullet
	tool *procedure.Tool
}

// spaced folds the name of a tool; "13mm open end wrench" is "13 mm open-end wrench".
func spaced(name string) string { return apartFigures(procedure.Fold(name)) }

// apartFigures puts a space between a figure and a small letter behind it.
func apartFigures(folded string) string {
	joined := false
	for i := 1; i < len(folded) && !joined; i++ {
		joined = isDigit(folded[i-1]) && 'a' <= folded[i] && folded[i] <= 'z'
	}
	if !joined {
		return folded
	}
	var b strings.Builder
	for i := range len(folded) {
		if i > 0 && isDigit(folded[i-1]) && 'a' <= folded[i] && folded[i] <= 'z' {
			b.WriteByte(' ')
		}
		b.WriteByte(folded[i])
	}
	return b.String()
}

func comma(s string) string {
	if s == "" {
		return ""
	}
	return ", " + s
}

// holdsDetails tells whether every detail of a tag is one of the tool's.
func holdsDetails(of, asked string) bool {
	if asked == "" {
		return true
	}
	for a := range strings.SplitSeq(asked, ",") {
		found := false
		for d := range strings.SplitSeq(of, ",") {
			found = found || sameDetail(a, d)
		}
		if !found {
			return false
		}
	}
	return true
}

func sameDetail(a, b string) bool {
	if procedure.Fold(a) == procedure.Fold(b) {
		return true
	}
	x, bad1 := quantity.Parse(strings.TrimSpace(a))
	y, bad2 := quantity.Parse(strings.TrimSpace(b))
	return bad1 == nil && bad2 == nil && quantity.Same(x, y)
}
