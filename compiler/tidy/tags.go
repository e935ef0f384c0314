package tidy

import (
	"regexp"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

var blanks = regexp.MustCompile(`[ \t]+`)

// tags takes surplus blanks out of the tags and spells their quantities in one way. Line ends inside a tag stay the writer's.
func (t *tidier) tags() {
	t.tree.EachBlock(func(_ *syntax.Section, b syntax.Block) {
		inlines(b, func(n syntax.Inline) {
			if tag, ok := n.(*syntax.Tag); ok && tag.Verb != nil && !tag.Unclosed {
				t.tag(tag)
			}
		})
	})
}

func (t *tidier) tag(tag *syntax.Tag) {
	at := t.file.At(tag.At.Start+1, tag.At.End-1)
	text := at.Text()
	lines := strings.SplitAfter(text, "\n")
	for i, line := range lines {
		end := line[len(strings.TrimRight(line, "\r\n")):]
		words := strings.TrimSuffix(line, end)
		lead := ""
		if i > 0 {
			lead = words[:len(words)-len(strings.TrimLeft(words, " \t"))]
		}
		words = blanks.ReplaceAllString(strings.Trim(words, " \t"), " ")
		if quantified(tag.Verb) {
			words = speltIn(tag.Verb, words)
		}
		lines[i] = lead + words + end
	}
	t.add(diag.Edit{At: at, Text: strings.Join(lines, "")})
}

var valued = regexp.MustCompile(`\b(to|of|then) `)

// speltIn spells the quantities of a tag. The figures of a torque stand behind "to", "of" and "then": those before it count bolts.
func speltIn(v *verb.Verb, words string) string {
	head := 0
	if v.Takes == verb.Torque {
		at := valued.FindStringIndex(words)
		if at == nil {
			return words
		}
		head = at[1]
	}
	return words[:head] + spelt(words[head:], rangeMark(v))
}

// quantified tells whether the figures of a verb's body are quantities. Free words may hold a "3 C" that is none.
func quantified(v *verb.Verb) bool {
	switch v.Takes {
	case verb.Torque, verb.Fluids, verb.OneThing, verb.Duration, verb.Measure, verb.Limit, verb.Tool, verb.Supply:
		return true
	}
	return false
}

// rangeMark is what stands between the ends of a range: as in the list of tools for a tool, two points elsewhere.
func rangeMark(v *verb.Verb) string {
	if v.Takes == verb.Tool {
		return "–"
	}
	return ".."
}

// bullets spells the quantities of the tools and supplies in one way.
func (t *tidier) bullets() {
	for _, s := range t.tree.Sections {
		if !isSection(s, "tools", "supplies") {
			continue
		}
		for _, b := range s.Blocks {
			if l, ok := b.(*syntax.List); ok && !l.Ordered {
				for _, item := range l.Items {
					t.bullet(item)
				}
			}
		}
	}
}

func (t *tidier) bullet(item *syntax.Item) {
	if len(item.Blocks) == 0 {
		return
	}
	inlines(item.Blocks[0], func(n syntax.Inline) {
		text, ok := n.(*syntax.Text)
		if !ok || text.Code {
			return
		}
		at := text.At
		words := at.Text()
		if words == "" || strings.ContainsAny(words, "\n\\&") {
			return
		}
		t.add(diag.Edit{At: at, Text: spelt(blanks.ReplaceAllString(words, " "), "–")})
	})
}

var (
	signalHead = regexp.MustCompile(`^>[ \t]*(\*\*|__)?(DANGER|WARNING|CAUTION|NOTICE)(:?)(\*\*|__)?(:?)([ \t]*)(.?)`)
	quoteMark  = regexp.MustCompile(`^([ \t]*)>([^ \t>\r\n])`)
)

// quotes writes the signal words bold and without a colon, and a space behind the mark of each line.
func (t *tidier) quotes() {
	t.tree.EachBlock(func(_ *syntax.Section, b syntax.Block) {
		q, ok := b.(*syntax.Quote)
		if !ok {
			return
		}
		first := t.file.Line(q.At.Start)
		if q.Signal != "" && t.file.Line(q.SignalAt.Start) == first {
			t.signal(q.At.Start)
		}
		for n := first + 1; n <= t.file.Line(q.At.End); n++ {
			line := t.file.LineSpan(n)
			if m := quoteMark.FindStringSubmatchIndex(line.Text()); m != nil {
				t.add(t.put(line.Start+m[3]+1, line.Start+m[3]+1, " "))
			}
		}
	})
}

func (t *tidier) signal(start int) {
	line := t.lineFrom(start)
	m := signalHead.FindStringSubmatch(line.Text())
	if m == nil || m[1] != m[4] || m[7] != "" && m[6] == "" && m[3] == "" && m[5] == "" && m[4] == "" {
		return // a whole sentence in bold, or a stop of another kind
	}
	if m[7] != "" && strings.Contains(".!—–-:*_", m[7]) {
		return
	}
	text := "> **" + m[2] + "**"
	if m[7] != "" {
		text += " "
	}
	t.add(t.put(start, start+len(m[0])-len(m[7]), text))
}
