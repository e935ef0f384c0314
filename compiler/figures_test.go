package compiler_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// goFile is what is counted in one file of the program.
type goFile struct {
	name               string
	lines, filled      int // all lines, and those that are not blank
	remarks            int // lines that hold a comment and nothing else
	functions          []function
	exported           int
	bare               []string // exported names without a doc comment
	imports            []string
	panics, initialise int
}

type function struct {
	name         string
	lines, depth int
}

// readGo counts one file.
func readGo(name string) (*goFile, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, name, text, parser.ParseComments)
	if err != nil {
		return nil, err
	}
	f := &goFile{name: filepath.ToSlash(strings.TrimPrefix(name, ".."+string(filepath.Separator)))}
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	f.lines = len(lines)
	for _, l := range lines {
		switch l = strings.TrimSpace(l); {
		case strings.HasPrefix(l, "//"):
			f.remarks++
			f.filled++
		case l != "":
			f.filled++
		}
	}
	for _, spec := range file.Imports {
		if path, ours := strings.CutPrefix(strings.Trim(spec.Path.Value, `"`), "refitcard/"); ours {
			f.imports = append(f.imports, path)
		}
	}
	for _, d := range file.Decls {
		f.declared(d)
		fn, ok := d.(*ast.FuncDecl)
		if !ok || fn.Body == nil {
			continue
		}
		length := set.Position(fn.End()).Line - set.Position(fn.Pos()).Line + 1
		f.functions = append(f.functions, function{f.name + " " + fn.Name.Name, length, deepest(fn.Body, 0)})
		if fn.Recv == nil && fn.Name.Name == "init" {
			f.initialise++
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		if call, ok := n.(*ast.CallExpr); ok {
			if id, ok := call.Fun.(*ast.Ident); ok && id.Name == "panic" {
				f.panics++
			}
		}
		return true
	})
	return f, nil
}

// declared counts the exported names of a declaration: a comment on a group speaks for the names in it.
func (f *goFile) declared(d ast.Decl) {
	count := func(name *ast.Ident, told bool) {
		if name.IsExported() {
			f.exported++
			if !told {
				f.bare = append(f.bare, name.Name)
			}
		}
	}
	switch d := d.(type) {
	case *ast.FuncDecl:
		count(d.Name, d.Doc != nil || d.Recv != nil && (d.Name.Name == "Error" || !exportedReceiver(d)))
	case *ast.GenDecl:
		for _, s := range d.Specs {
			switch s := s.(type) {
			case *ast.TypeSpec:
				count(s.Name, d.Doc != nil || s.Doc != nil)
			case *ast.ValueSpec:
				for _, n := range s.Names {
					count(n, d.Doc != nil || s.Doc != nil || s.Comment != nil)
				}
			}
		}
	}
}

// exportedReceiver tells whether a method is of a type that others can name.
func exportedReceiver(d *ast.FuncDecl) bool {
	of := d.Recv.List[0].Type
	if star, ok := of.(*ast.StarExpr); ok {
		of = star.X
	}
	id, ok := of.(*ast.Ident)
	return !ok || id.IsExported()
}

// deepest is how far blocks stand within blocks below a node. The arms of a switch count with their switch.
func deepest(n ast.Node, depth int) int {
	most := depth
	ast.Inspect(n, func(c ast.Node) bool {
		if c == nil || c == n {
			return true
		}
		switch c.(type) {
		case *ast.IfStmt, *ast.ForStmt, *ast.RangeStmt, *ast.SwitchStmt, *ast.TypeSwitchStmt, *ast.SelectStmt:
			most = max(most, deepest(c, depth+1))
			return false
		case *ast.FuncLit:
			most = max(most, deepest(c, 0)) // a function of its own
			return false
		}
		return true
	})
	return most
}

func share(part, whole int) float64 { return 100 * float64(part) / float64(max(whole, 1)) }

func at(sorted []int, percent int) int { return sorted[min(len(sorted)-1, len(sorted)*percent/100)] }

// The figures of the style that this code is held to: what they are today stands in the log, and beyond a bound the test
// fails. Bounds are those of the model codebases, as far as ours come up to them; a figure that gets better moves its bound.
func TestFigures(t *testing.T) {
	var files []*goFile
	for _, top := range []string{"../cmd", ".", "../render", "../templates"} {
		err := filepath.WalkDir(top, func(name string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") ||
				helperFolders.MatchString(filepath.ToSlash(name)) {
				return err
			}
			f, err := readGo(name)
			files = append(files, f)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	figures(t, files)
	packages(t, files)
}

func figures(t *testing.T, files []*goFile) {
	var lines, lengths []int
	var all goFile
	deep, long, bare := 0, 0, 0
	for _, f := range files {
		lines = append(lines, f.lines)
		all.lines, all.filled, all.remarks = all.lines+f.lines, all.filled+f.filled, all.remarks+f.remarks
		for _, name := range f.bare {
			bare++
			t.Errorf("%s: %s has no comment", f.name, name)
		}
		all.panics, all.initialise = all.panics+f.panics, all.initialise+f.initialise
		if f.lines > 700 {
			t.Errorf("%s has %d lines", f.name, f.lines)
		}
		for _, fn := range f.functions {
			lengths = append(lengths, fn.lines)
			if fn.depth > 4 {
				deep++
				t.Logf("%s is nested %d deep", fn.name, fn.depth)
			}
			if fn.lines > 100 {
				long++
				t.Logf("%s has %d lines", fn.name, fn.lines)
			}
		}
	}
	slices.Sort(lines)
	slices.Sort(lengths)
	hold := func(what string, is, least, most float64) {
		t.Logf("%-48s %6.1f   (%g to %g)", what, is, least, most)
		if is < least || is > most {
			t.Errorf("%s: %.1f is not within %g and %g", what, is, least, most)
		}
	}
	hold("lines of a file, median", float64(at(lines, 50)), 30, 150)
	hold("lines of a file, of nine in ten", float64(at(lines, 90)), 100, 350)
	hold("lines of a function, median", float64(at(lengths, 50)), 3, 15)
	hold("lines of a function, of nine in ten", float64(at(lengths, 90)), 20, 40)
	hold("lines of a function, of 99 in 100", float64(at(lengths, 99)), 40, 90)
	hold("functions of more than 100 lines", float64(long), 0, 4)
	hold("functions nested deeper than 4, %", share(deep, len(lengths)), 0, 1)
	hold("lines that are comments, %", share(all.remarks, all.filled), 5, 22)
	hold("exported names without a comment", float64(bare), 0, 0)
	hold("panics in a thousand lines", float64(all.panics)*1000/float64(all.lines), 0, 0.5)
	hold("init functions", float64(all.initialise), 0, 0)
	hold("lines of the program, thousands", float64(all.lines)/1000, 15, 75)
}

// packages counts the folders of our own that each folder imports: only where everything is joined are they many, and in
// the editor, which answers questions about all of it.
func packages(t *testing.T, files []*goFile) {
	seen := map[string][]string{}
	for _, f := range files {
		folder := filepath.ToSlash(filepath.Dir(f.name))
		for _, path := range f.imports {
			if !slices.Contains(seen[folder], path) {
				seen[folder] = append(seen[folder], path)
			}
		}
	}
	for folder, list := range seen {
		if most := map[string]int{"render/document": 12, "rules/safety": 9}[folder]; len(list) > max(8, most) && folder != "." && folder != "editor" && !strings.HasPrefix(folder, "cmd/") {
			t.Errorf("%s imports %d folders of our own: %v", folder, len(list), list)
		}
	}
}
