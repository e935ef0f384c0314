package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"refitcard/compiler/diag"
	"refitcard/compiler/source"
)

// Text writes findings for a person: the place and what is wrong first, then the line with the characters underlined,
// then why (once a rule), then what to do. Waived findings are left out. The last line counts them.
func Text(w io.Writer, r Results) error {
	p := &printer{w: bufio.NewWriter(w), r: r, told: map[string]bool{}}
	for _, f := range r.Findings {
		if f.Waived == "" {
			p.finding(f)
		}
	}
	if !r.Quiet {
		p.fold("", 0, Summary(r), 2, "")
	}
	return p.w.Flush()
}

// Summary is the last line: "3 errors, 1 warning in 2 of 14 procedures".
func Summary(r Results) string {
	all := count(r.Files, "procedure", "procedures")
	tally := Tally(r)
	if tally == "" {
		return all + ", nothing to report"
	}
	_, _, _, files := r.Count()
	return fmt.Sprintf("%s in %d of %s", tally, files, all)
}

// Tally counts the findings in words: "3 errors, 1 warning"; empty when there is none.
func Tally(r Results) string {
	e, w, a, _ := r.Count()
	var parts []string
	for _, c := range []struct {
		n         int
		one, more string
	}{{e, "error", "errors"}, {w, "warning", "warnings"}, {a, "piece of advice", "pieces of advice"}} {
		if c.n > 0 {
			parts = append(parts, count(c.n, c.one, c.more))
		}
	}
	return strings.Join(parts, ", ")
}

func count(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

type printer struct {
	w    *bufio.Writer
	r    Results
	told map[string]bool // rules whose why has been printed
}

const (
	red, yellow, cyan, bold, plain = "\x1b[31;1m", "\x1b[33;1m", "\x1b[36;1m", "\x1b[1m", "\x1b[0m"
)

func (p *printer) colour(code, s string) string {
	if !p.r.Colour {
		return s
	}
	return code + s + plain
}

func (p *printer) finding(f diag.Finding) {
	code := map[diag.Severity]string{diag.Error: red, diag.Warning: yellow, diag.Advice: cyan}[f.Severity]
	place := ""
	if f.At.Known() {
		at := f.At.File.Position(f.At.Start)
		place = clean(fmt.Sprintf("%s:%d:%d", f.At.File.Name, at.Line, at.Column)) + "  "
	}
	word := strings.ToUpper(f.Severity.String())
	message := f.Message
	if len(f.Variants) > 0 {
		message += " (" + strings.Join(f.Variants, ", ") + ")"
	}
	p.fold(place+p.colour(code, word)+"  ", source.Width(place+word)+2, clean(message), 6, bold)
	if f.At.Known() {
		p.line(f.At, code)
	}
	for _, r := range f.Related {
		p.row(relatedLabel(r), relatedPlace(f, r))
	}
	if why := p.why(f); why != "" {
		p.row("why", why)
	}
	if f.Do != "" {
		p.row("do", f.Do)
	}
	if p.r.Offers {
		p.offers(f)
	}
	p.row("more", "refitcard explain "+f.Rule)
	fmt.Fprintln(p.w)
}

// why gives the reason: a finding's own always, its rule's once in a run.
func (p *printer) why(f diag.Finding) string {
	if f.Why != "" {
		return f.Why
	}
	if p.r.Quiet || p.told[f.Rule] || p.r.Texts == nil {
		return ""
	}
	p.told[f.Rule] = true
	t, ok := p.r.Texts(f.Rule)
	if !ok {
		return ""
	}
	return strings.Join(strings.Fields(t.Why), " ")
}

// offers shows the line as it would read with each fix that is not safe, which nobody but the writer can choose.
func (p *printer) offers(f diag.Finding) {
	for _, fix := range f.Fixes {
		if fix.Safe || len(fix.Edits) == 0 {
			continue
		}
		at := fix.Edits[0].At
		line := at.File.LineSpan(at.File.Line(at.Start))
		before, after := string(at.File.Text[line.Start:at.Start]), string(at.File.Text[min(at.End, line.End):line.End])
		before, put, after := window(flat(before), flat(fix.Edits[0].Text), flat(after), p.room()-6)
		p.row("would read", before+put+after)
	}
}

// Related says what a second place has to do with a finding, and which place it is: "came off", "line 47, step 3: Remove 12
// cover bolts".
func Related(f diag.Finding, r source.Related) (label, words string) {
	return relatedLabel(r), relatedPlace(f, r)
}

func relatedLabel(r source.Related) string {
	if r.Words == "" {
		return "see"
	}
	return r.Words
}

func relatedPlace(f diag.Finding, r source.Related) string {
	if !r.At.Known() {
		return ""
	}
	pos := r.At.File.Position(r.At.Start)
	place := fmt.Sprintf("line %d", pos.Line)
	if !f.At.Known() || r.At.File != f.At.File {
		place = fmt.Sprintf("%s:%d:%d", r.At.File.Name, pos.Line, pos.Column)
	}
	if r.Step > 0 {
		place += fmt.Sprintf(", step %d", r.Step)
	}
	return place + ": " + cut(strings.Join(strings.Fields(r.At.Text()), " "), 60)
}

// cut shortens s to n characters.
func cut(s string, n int) string {
	if utf8.RuneCountInString(s) <= n {
		return s
	}
	return string([]rune(s)[:n-1]) + "…"
}

// line prints the source line with the characters of the mark underlined; a long line is cut around the mark.
func (p *printer) line(at source.Span, code string) {
	number := at.File.Line(at.Start)
	whole := at.File.LineSpan(number)
	end := min(at.End, whole.End)
	if end < at.Start {
		end = at.Start
	}
	before := flat(string(at.File.Text[whole.Start:min(at.Start, whole.End)]))
	marked := flat(string(at.File.Text[min(at.Start, whole.End):end]))
	after := flat(string(at.File.Text[end:max(whole.End, end)]))
	more, last := "", at.File.Line(at.End)
	if last > number && at.End > whole.End+1 {
		more = fmt.Sprintf(" and on to line %d", last)
		after = ""
	}
	before, marked, after = window(before, marked, after, max(p.room()-len(more), 20))
	n := fmt.Sprint(number)
	gutter := strings.Repeat(" ", 4+len(n))
	fmt.Fprintf(p.w, "    %s | %s%s%s\n", n, before, marked, after)
	carets := strings.Repeat("^", max(source.Width(marked), 1))
	fmt.Fprintf(p.w, "%s | %s%s%s\n", gutter, strings.Repeat(" ", source.Width(before)), p.colour(code, carets), more)
}

// room is how many characters of a line of source are shown.
func (p *printer) room() int {
	if p.r.Width == 0 {
		return 108
	}
	return max(p.r.Width-12, 20)
}

// Plain makes a line of a procedure fit for showing: a tab is one space, and signs that steer a screen or turn the order of
// the letters round are replaced by one that can be seen. It keeps its number of characters.
func Plain(s string) string { return flat(s) }

// flat makes a line fit for a terminal: tabs are one space wide, control characters do not reach it.
func flat(s string) string { return clean(strings.ReplaceAll(s, "\t", " ")) }

// clean replaces control characters, which could steer the terminal.
func clean(s string) string {
	return source.Plain(s)
}

// window cuts a line to room columns so that the mark stays in view.
func window(before, marked, after string, room int) (string, string, string) {
	b, m, a := source.Width(before), source.Width(marked), source.Width(after)
	if b+m+a <= room {
		return before, marked, after
	}
	if m > room-2 {
		marked, after = head(marked, room-2), ""
		m, a = source.Width(marked), 0
	}
	spare := room - m
	if left := max(spare/2, spare-a); b > left {
		before = tail(before, left)
		b = source.Width(before)
	}
	if right := max(room-b-m, 1); a > right {
		after = head(after, right)
	}
	return before, marked, after
}

// head cuts s to at most n columns, the last of which says that something was cut.
func head(s string, n int) string {
	at := 0
	for i, r := range s {
		if at += source.Width(string(r)); at > n-1 {
			return s[:i] + "…"
		}
	}
	return s
}

// tail keeps the last n columns of s, the first of which says that something was cut.
func tail(s string, n int) string {
	over := source.Width(s) - n + 1
	for i, r := range s {
		if over <= 0 {
			return "…" + s[i:]
		}
		over -= source.Width(string(r))
	}
	return "…"
}

// row prints a labelled line below a finding.
func (p *printer) row(label, words string) {
	const width = 11
	head := "      " + label + strings.Repeat(" ", max(width-utf8.RuneCountInString(label), 1))
	if p.r.Width > 0 && source.Width(head) > p.r.Width/2 && utf8.RuneCountInString(label) > width { // a narrow window: the words below their label
		p.fold("      ", 6, label, 6, "")
		head = strings.Repeat(" ", 8)
		p.fold(head, 8, clean(words), 8, "")
		return
	}
	p.fold(head, source.Width(head), clean(words), 6+width, "")
}

// fold prints head and words, broken between words at the width; further lines begin at indent. A colour may lie on the words.
func (p *printer) fold(head string, used int, words string, indent int, code string) {
	p.w.WriteString(head)
	if code != "" && p.r.Colour {
		p.w.WriteString(code)
		defer p.w.WriteString(plain + "\n")
	} else {
		defer p.w.WriteString("\n")
	}
	if p.r.Width == 0 {
		p.w.WriteString(words)
		return
	}
	column, first := used, true
	for _, w := range strings.Fields(words) {
		n := source.Width(w)
		if !first && column+1+n > p.r.Width {
			p.w.WriteString("\n" + strings.Repeat(" ", indent))
			column, first = indent, true
		}
		if !first {
			p.w.WriteByte(' ')
			column++
		}
		p.w.WriteString(w)
		column += n
		first = false
	}
}
