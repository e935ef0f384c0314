package compiler_test

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

// earlierExample is the file of an example that holds the earlier version of the first one.
const earlierExample = "earlier.md"

// compileExample compiles the first file of an example, with the others beside it, as a library of its own.
func compileExample(files []rules.Example) (compiler.Result, []string) {
	fsys := fstest.MapFS{}
	var wants []string
	for _, f := range files {
		text, marks := rules.CutMarks([]byte(f.Text))
		fsys[f.Name] = &fstest.MapFile{Data: text}
		wants = append(wants, wanted(marks)...)
	}
	slices.Sort(wants)
	lib := compiler.Open(fsys, func(path string) string { return path })
	opt := rules.Options{}
	if earlier, ok := fsys[earlierExample]; ok {
		opt.Against = lib.CompileText(earlierExample, earlier.Data, opt).Proc
	}
	return lib.CompileText(files[0].Name, fsys[files[0].Name].Data, opt), wants
}

// withoutExample lists the rules whose wrong example can't be a text, each with the test that shows it instead.
var withoutExample = map[string]string{
	"file/unreadable": "TestAFileThatCannotBeOpened",
}

// Every rule has its text; its wrong example raises exactly the marks, and its right example is silent.
func TestRulebook(t *testing.T) {
	seen := map[string]bool{}
	for _, family := range compiler.Families() {
		for _, rule := range family.Rules {
			t.Run(rule.Name, func(t *testing.T) {
				if seen[rule.Name] {
					t.Error("the name stands twice in the book")
				}
				seen[rule.Name] = true
				text, err := family.Text(rule.Name)
				if err != nil {
					t.Fatal(err)
				}
				if withoutExample[rule.Name] == "" {
					r, wants := compileExample(text.Wrong)
					if !slices.ContainsFunc(wants, func(w string) bool { return ruleOf(w) == rule.Name }) {
						t.Errorf("the wrong example does not mark %s", rule.Name)
					}
					if got := marksOf(r.Findings); !slices.Equal(got, wants) {
						t.Errorf("wrong: found %v, marked %v%s", got, wants, told(r.Findings))
					}
				}
				if r, _ := compileExample(text.Right); len(marksOf(r.Findings)) > 0 {
					t.Errorf("right: not silent%s", told(r.Findings))
				}
			})
		}
	}
}

func ruleOf(mark string) string {
	for i := range mark {
		if mark[i] == ' ' {
			return mark[i+1:]
		}
	}
	return mark
}

// A file that can't be opened is named with the reason that the system gives, and what to look at.
func TestAFileThatCannotBeOpened(t *testing.T) {
	lib := compiler.Open(fstest.MapFS{}, func(path string) string { return "shelf/" + path })
	f := compiler.Unreadable(lib, "pump.md", "permission denied")
	if f.Rule != "file/unreadable" || f.Severity != diag.Error {
		t.Errorf("the finding is %s with severity %s", f.Rule, f.Severity)
	}
	if f.At.File == nil || f.At.File.Name != "shelf/pump.md" {
		t.Error("the finding does not name the file as people see it")
	}
	if !strings.Contains(f.Message, "permission denied") || !strings.Contains(f.Do, "permissions") {
		t.Errorf("message %q, do %q", f.Message, f.Do)
	}
}
