package syntax

import (
	"bytes"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"

	"refitcard/compiler/source"
)

// The limits on what is parsed. Beyond them the Markdown library takes time that grows with the square of the input; within
// them a file of the greatest size takes well under a second (TestHostileInputTakesLinearTime).
const (
	maxBytes    = 1 << 20
	maxColumns  = 60      // in a table
	maxCells    = 200_000 // columns times rows, over all tables: the library fills up short rows
	maxDepth    = 40      // quotes and lists within one another
	maxBrackets = 200     // opening square brackets in a paragraph, a cell, a heading
	maxMarks    = 500     // runs of emphasis marks, likewise
)

// unreadable refuses what is no text, and what is too large to be a procedure.
func unreadable(f *source.File) (source.Fault, bool) {
	if size := len(f.Text) + f.Mark; size > maxBytes {
		return tooLarge(f.At(0, 0), "bytes", size, maxBytes), true
	}
	notText := func(at int, why string) (source.Fault, bool) {
		return source.Fault{Name: "file/not-text", At: f.At(at, at+1), Words: []string{why}}, true
	}
	for i, c := range f.Text {
		if isControl(c) {
			return notText(i, "binary data")
		}
	}
	if utf8.Valid(f.Text) {
		return source.Fault{}, false
	}
	for i := 0; ; {
		r, n := utf8.DecodeRune(f.Text[i:])
		if r == utf8.RuneError && n <= 1 {
			return notText(i, "not UTF-8")
		}
		i += n
	}
}

// isText tells whether a piece of a file is text.
func isText(src []byte) bool {
	for _, c := range src {
		if isControl(c) {
			return false
		}
	}
	return utf8.Valid(src)
}

func isControl(c byte) bool { return c < ' ' && c != '\t' && c != '\n' && c != '\r' }

func tooLarge(at source.Span, what string, is, limit int) source.Fault {
	return source.Fault{Name: "file/too-large", At: at, Words: []string{what}, Counts: []int{is, limit}}
}

// tooDeep looks over the lines for quotes and lists so deep within one another that the Markdown library gets slow.
func tooDeep(f *source.File, body int) (source.Fault, bool) {
	for n := f.Line(body); n <= f.Lines(); n++ {
		line := f.LineSpan(n)
		text := f.Text[line.Start:line.End]
		if marksBefore(text, len(text)) <= maxDepth {
			continue
		}
		// A line of nothing but dashes or stars is a rule across the page.
		if depth := marksBefore(text, min(tailOf(text, " \t-"), tailOf(text, " \t*"))); depth > maxDepth {
			return tooLarge(startOf(line), "quotes and lists within one another", depth, maxDepth), true
		}
	}
	return source.Fault{}, false
}

// startOf is the first few characters of a line: the finding need not underline a line of a thousand.
func startOf(line source.Span) source.Span {
	end := min(line.End, line.Start+40)
	for end < line.End && !utf8.RuneStart(line.File.Text[end]) {
		end++
	}
	return line.File.At(line.Start, end)
}

// marksBefore counts the marks of quotes and lists that a line begins with, up to an offset, and its indentation in steps of
// eight.
func marksBefore(line []byte, stop int) int {
	depth, spaces := 0, 0
	for i := 0; i < stop; {
		digits := 0
		for i+digits < len(line) && digits < 10 && isDigit(line[i+digits]) {
			digits++
		}
		mark := i + digits
		switch {
		case line[i] == ' ':
			spaces++
		case line[i] == '\t':
			spaces += 4
		case line[i] == '>':
			depth++
			i += blankBehind(line, i)
		case mark < len(line) && (digits == 0 && isBullet(line[mark]) || digits > 0 && (line[mark] == '.' || line[mark] == ')')) &&
			(mark+1 == len(line) || isBlank(line[mark+1])):
			depth++
			i = mark + blankBehind(line, mark)
		default:
			return depth + spaces/8
		}
		i++
	}
	return depth + spaces/8
}

// blankBehind is 1 where a blank stands behind a mark: it belongs to the mark.
func blankBehind(line []byte, mark int) int {
	if mark+1 < len(line) && line[mark+1] == ' ' {
		return 1
	}
	return 0
}

// tailOf is the offset from which a line holds only the given characters; the line's end when there are fewer than three.
func tailOf(line []byte, chars string) int {
	at := len(bytes.TrimRight(line, chars))
	if len(bytes.Trim(line[at:], " \t")) < 3 {
		return len(line)
	}
	return at
}

func isBullet(c byte) bool { return c == '-' || c == '+' || c == '*' }

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// excess is the first limit that the Markdown library's parsers ran into.
type excess struct {
	what      string
	at        int // offset of what was one too many
	is, limit int
}

// watch counts, while one file is parsed, what makes the Markdown library slow, and keeps what it does not tell itself.
type watch struct {
	block           ast.Node // whose text is being parsed
	brackets, marks int      // in it
	cells           int      // in all tables so far
	over            *excess
	marked          []markedNode // in the order of the file
	images          map[*ast.Image]place
	asked           ast.Node // whose text a run was looked for in
	lines           []text.Segment
	runs            slab[runNode]
	items           []listItem     // of the list that is being looked over
	rows            []text.Segment // of the table, likewise
	above           ast.Node       // the last paragraph that tableAbove was asked about
	looked, found   int            // how many of its lines it looked at, and at which it found a table
}

// place is where a node begins and ends. label is the offset of the bracket that closes an image's caption.
type place struct{ start, label, end int }

// markedNode is a block with its place.
type markedNode struct {
	ast.Node
	place
}

func (w *watch) mark(n ast.Node, p place) { w.marked = append(w.marked, markedNode{n, p}) }

// watchKey finds the watch of a parse in the Markdown library's context.
var watchKey = parser.NewContextKey()

func watchOf(pc parser.Context) *watch { return pc.Get(watchKey).(*watch) }

// newWatch makes a context to parse one file in.
func newWatch() (*watch, parser.Context) {
	w := &watch{}
	pc := parser.NewContext()
	pc.Set(watchKey, w)
	return w, pc
}

// exceeds keeps the first thing that is beyond its limit, and its greatest count.
func (w *watch) exceeds(what string, at, is, limit int) bool {
	if is <= limit {
		return false
	}
	if w.over == nil {
		w.over = &excess{what: what, at: at, limit: limit}
	}
	if w.over.what == what {
		w.over.is = max(w.over.is, is)
	}
	return true
}

// tableAbove tells whether a paragraph still open ends in a table that has words above it. It looks at each line once.
func (w *watch) tableAbove(paragraph ast.Node, src []byte) bool {
	if w.above != paragraph {
		w.above, w.looked, w.found = paragraph, 1, 0
	}
	if w.found == 0 {
		w.found = tableLine(paragraph, src, w.looked)
		w.looked = paragraph.Lines().Len()
	}
	return w.found > 1
}

// enter begins to count anew at each block of text.
func (w *watch) enter(block ast.Node) {
	if w.block != block {
		w.block, w.brackets, w.marks = block, 0, 0
	}
}
