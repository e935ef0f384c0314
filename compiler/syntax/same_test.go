package syntax

import (
	"maps"
	"reflect"
	"slices"
	"testing"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"

	"refitcard/compiler/source"
)

// idle is an inline parser that is never asked.
type idle struct{}

func (idle) Trigger() []byte { return nil }

func (idle) Parse(ast.Node, text.Reader, parser.Context) ast.Node { return nil }

// idleBlock is a block parser that is never asked.
type idleBlock struct{ parser.BlockParser }

func (idleBlock) Trigger() []byte { return []byte{0} }

// thorough reads each character and each cell the library's way.
var thorough = markdown(idleBlock{}, idleBlock{}, idle{}, extension.NewTableParagraphTransformer())

// wantAsTheLibrary holds the parsers that stand in for the library's own against those.
func wantAsTheLibrary(t *testing.T, raw []byte) {
	t.Helper()
	file := source.New("case.md", "case.md", raw)
	if _, bad := unreadable(file); bad {
		return
	}
	if _, bad := tooDeep(file, 0); bad {
		return
	}
	got, want := tablesOf(t, raw, shared()), tablesOf(t, raw, thorough)
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%q has the tables\n%v\nwhere the library finds\n%v", raw, got, want)
	}
	verbs := shopVerbs()
	run, piecemeal := Parse(file, verbs), parseWith(file, verbs, markdown(idleBlock{}, idleBlock{}, idle{}, tables{}))
	if !reflect.DeepEqual(run, piecemeal) {
		t.Errorf("%q reads otherwise in one go", raw)
	}
}

// cellPlace is where a cell stands; -1 when nobody wrote it.
type cellPlace struct{ start, stop int }

// tablesOf gives the cells of each row of each table.
func tablesOf(t *testing.T, raw []byte, markdown parser.Parser) (found [][][]cellPlace) {
	w, pc := newWatch()
	doc := markdown.Parse(text.NewReader(prepared(raw)), parser.WithContext(pc))
	if w.over != nil {
		return nil
	}
	err := ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		var rows [][]cellPlace
		switch n := n.(type) {
		case *tableNode:
			for i := range n.rows {
				var row []cellPlace
				for _, c := range n.row(i) {
					if c.unwritten {
						c.start, c.stop = -1, -1
					}
					row = append(row, cellPlace{c.start, c.stop})
				}
				rows = append(rows, row)
			}
		case *extast.Table:
			for r := n.FirstChild(); r != nil; r = r.NextSibling() {
				var row []cellPlace
				for c := r.FirstChild(); c != nil; c = c.NextSibling() {
					p := cellPlace{-1, -1}
					if c.Lines().Len() > 0 {
						p = cellPlace{c.Lines().At(0).Start, c.Lines().At(0).Stop}
					}
					row = append(row, p)
				}
				rows = append(rows, row)
			}
		default:
			return ast.WalkContinue, nil
		}
		found = append(found, rows)
		return ast.WalkSkipChildren, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func TestRunsAndTablesAreThoseOfTheLibrary(t *testing.T) {
	for _, raw := range samples(t) {
		wantAsTheLibrary(t, raw)
	}
	for _, text := range allTexts() {
		wantAsTheLibrary(t, []byte(text))
	}
}

// allTexts are those of all tables of cases, and some where a run or a table could go wrong.
func allTexts() []string {
	all := []string{
		"a|b\n-|-\nc\\|d|e|f\n|\n", "x\n| a |\n| - |\n", "|a|\n|-\n", "a\n:-:|\n", "| a\n|---\n", " - a|b\n   -|-\n   c|d", "> a|b\n> -|-\n\tc",
		"a {b\nc} d {e {f} g\n{h", "*a* b {c} d", "a *b {c*} d", "\\ a b", "{a}", " {a} \n {b\n", "a  \n{b}  \nc", "a\r\n{b\r\nc}\r\n", "# a {b} #\n", "a  b    \nc\nd&e",
		"- a\n- 13 mm {b}\n\n- c *d*  \n\n\n# e\n", "1. a\n2. b\n   c\n", "1. a\n\n - b\n", "- a\n\n1. b\n\n- c\n", "- 1. a\n- 2\n- b\nc", "9. a\n\nb\n10. c\r\n\r\n\td",
		"|a|\n|-|\n|{b}|c|\n\nd\n|-|\n\n|e\n|f\n\n|g|h|\n|-|\n|i\n\n|j|\n|-|\nk\n", "|a|\r\n|-|\r\n|b|\r\n", "x\n\n|a|\n|:-|",
		"- a\n-\n- b\n", "- a\n\n---\n", "1. a\n1) b\n", "- a\n\n> b\n\n- c\n  d", "a\n===\n b {c}\n---",
	}
	for _, c := range treeCases() {
		all = append(all, c.text)
	}
	for _, c := range faultCases() {
		all = append(all, c.text)
	}
	for _, c := range byteCases() {
		all = append(all, c.text)
	}
	return all
}

// FuzzSame wants them to agree on anything.
func FuzzSame(f *testing.F) {
	all := samples(f)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		f.Add(all[name])
	}
	for _, text := range allTexts() {
		f.Add([]byte(text))
	}
	f.Fuzz(wantAsTheLibrary)
}
