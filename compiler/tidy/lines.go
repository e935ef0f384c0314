package tidy

import (
	"regexp"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/syntax"
)

var (
	heading = regexp.MustCompile(`^(#{1,6})[ \t]+(.*?)(?:[ \t]+#+)?[ \t]*$`)
	opener  = regexp.MustCompile("^[ \\t]*([-*+][ \\t]|\\d{1,9}[.)][ \\t]|[>#|]|```|$)")
	rawHTML = regexp.MustCompile(`(?i)<(pre|script|style|textarea)\b`)
)

// lines takes out surplus blank lines and blanks at line ends, sets headings off, and ends the file with a line end. Code,
// comments, the front matter and line ends that a writer forces by two blanks stay as they are.
func (t *tidier) lines() {
	if rawHTML.Match(t.file.Text) {
		return
	}
	first := 1
	if t.tree.FrontAt.Known() {
		first = t.file.Line(t.tree.FrontAt.End) + 1
	}
	if first > 1 && first <= t.file.Lines() && strings.TrimSpace(t.file.LineSpan(first).Text()) != "" && !t.headings()[first] {
		at := t.file.LineSpan(first).Start
		t.add(t.put(at, at, t.eol))
	}
	in := verbatim{}
	titles := t.headings()
	var strip []diag.Edit
	for n := first; n <= t.file.Lines(); n++ {
		line := t.file.LineSpan(n).Text()
		if in.line(line) {
			continue
		}
		if titles[n] {
			t.heading(n)
			continue
		}
		next := ""
		if n < t.file.Lines() {
			next = t.file.LineSpan(n + 1).Text()
		}
		cut := strings.TrimRight(line, " \t")
		if cut == "" || opener.MatchString(next) || len(line)-len(cut) == 1 {
			at := t.file.LineSpan(n)
			strip = append(strip, t.put(at.Start+len(cut), at.End, ""))
		}
	}
	t.add(strip...)
	t.gaps(first)
}

// headings gives the lines with a heading that begins with "#" at the very start.
func (t *tidier) headings() map[int]bool {
	found := map[int]bool{}
	mark := func(at int) {
		line := t.file.Line(at)
		if t.file.LineSpan(line).Start == at && heading.MatchString(t.file.LineSpan(line).Text()) {
			found[line] = true
		}
	}
	for _, s := range t.tree.Sections {
		mark(s.At.Start)
	}
	t.tree.EachBlock(func(_ *syntax.Section, b syntax.Block) {
		if h, ok := b.(*syntax.Heading); ok {
			mark(h.At.Start)
		}
	})
	return found
}

// heading writes one heading, with a blank line before and behind it.
func (t *tidier) heading(n int) {
	at := t.file.LineSpan(n)
	m := heading.FindStringSubmatch(at.Text())
	text := strings.TrimRight(m[1]+" "+m[2], " ")
	if n > 1 && strings.TrimSpace(t.file.LineSpan(n-1).Text()) != "" {
		text = t.eol + text
	}
	if n < t.file.Lines() && strings.TrimSpace(t.file.LineSpan(n+1).Text()) != "" {
		text += t.eol
	}
	t.add(diag.Edit{At: at, Text: text})
}

// gaps leaves one blank line where more stand, and none at the end.
func (t *tidier) gaps(first int) {
	f := t.file
	in := verbatim{}
	blank := 0 // the first of the blank lines before this one
	for n := first; n <= f.Lines(); n++ {
		line := f.LineSpan(n).Text()
		if strings.TrimSpace(line) == "" && !in.open() {
			if blank == 0 {
				blank = n
			}
			continue
		}
		if blank > 0 && n-blank > 1 && !strings.HasPrefix(line, "    ") && !strings.HasPrefix(line, "\t") {
			t.add(t.put(f.LineSpan(blank+1).Start, f.LineSpan(n).Start, ""))
		}
		blank = 0
		in.line(line)
	}
	text := string(f.Text)
	end := strings.TrimRight(text, " \t\r\n")
	if end != "" && !in.open() {
		t.add(t.put(len(end), len(text), t.eol))
	}
}

// verbatim follows fenced code and comments from line to line.
type verbatim struct {
	fence   string // the fence that would close it
	comment bool
}

func (v *verbatim) open() bool { return v.fence != "" || v.comment }

// line takes the next line in, and tells whether it is not to be touched.
func (v *verbatim) line(text string) bool {
	bare := strings.TrimLeft(text, " \t>")
	switch {
	case v.fence != "":
		mark := strings.TrimRight(bare, " \t")
		if len(mark) >= len(v.fence) && strings.Trim(mark, v.fence[:1]) == "" {
			v.fence = ""
		}
		return true
	case v.comment:
		v.comment = !strings.Contains(text, "-->")
		return true
	}
	for _, c := range []string{"`", "~"} {
		if n := len(bare) - len(strings.TrimLeft(bare, c)); n >= 3 && (c == "~" || !strings.Contains(bare[n:], "`")) {
			v.fence = bare[:n]
			return true
		}
	}
	at := strings.LastIndex(text, "<!--")
	v.comment = at >= 0 && !strings.Contains(text[at:], "-->")
	return v.comment
}
