package compiler_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// ranks is the table of folders: a folder imports only folders of a lower rank. It stands in DEVELOPERS.md too,
// and the test holds the two together.
var ranks = map[string]int{
	"compiler/source": 1, "compiler/quantity": 1, "compiler/letters": 1,
	"compiler/keys": 2, "compiler/verb": 2, "compiler/reference": 2,
	"compiler/hardware": 3, "compiler/tightening": 3,
	"compiler/syntax": 4, "compiler/procedure": 5, "compiler/library": 6, "compiler/resolve": 7,
	"compiler/assembly": 8, "compiler/schedule": 8, "compiler/prose": 8,
	"compiler/diag": 9, "compiler/compare": 9, "compiler/rules": 10, "compiler/rules/*": 11,
	"compiler/tidy": 12, "compiler/refit": 12, "compiler/draft": 12, "compiler/report": 12, "compiler": 13, "compiler/editor": 14, "compiler/editor/wire": 15,
	"render/document": 15, "render/faces": 15, "render/sheet": 16, "render/html": 16, "render/text": 16,
	"render/pdf": 17, "render/preview": 17, "cmd/refitcard": 18,
	"templates": 0, "templates/fonts": 0, "procedures": 0,
}

// homes names the libraries that only one folder may import.
var homes = map[string][]string{
	"github.com/yuin/goldmark":     {"compiler/syntax"},
	"go.yaml.in/yaml/v3":           {"compiler/keys"},
	"github.com/go-pdf/fpdf":       {"render/pdf"},
	"github.com/spf13/pflag":       {"cmd/refitcard"},
	"net/http":                     {"render/preview"},
	"github.com/fsnotify/fsnotify": {"render/preview"},
}

// banned lists what a folder must not see although its rank would allow it.
var banned = map[string][]string{
	"render/": {"compiler/syntax", "compiler/resolve", "compiler/rules", "compiler"},
}

func rankOf(folder string) (int, bool) {
	if r, ok := ranks[folder]; ok {
		return r, true
	}
	if path := strings.Split(folder, "/"); len(path) == 3 && strings.HasPrefix(folder, "compiler/rules/") {
		return ranks["compiler/rules/*"], true
	}
	return 0, false
}

func TestImportsFollowTheTableOfFolders(t *testing.T) {
	arrows := 0
	err := filepath.WalkDir("..", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() && (strings.HasPrefix(e.Name(), ".") && e.Name() != ".." || e.Name() == "testdata") {
			if err == nil {
				err = fs.SkipDir
			}
			return err
		}
		if e.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		folder := filepath.ToSlash(strings.TrimPrefix(filepath.Dir(name), ".."+string(filepath.Separator)))
		arrows += checkImports(t, name, folder)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if arrows < 50 {
		t.Errorf("only %d imports of our own were seen: the walk misses the tree", arrows)
	}
}

// testing helpers, generators: programs of their own beside a folder, which answer to that folder's rank.
var helperFolders = regexp.MustCompile(`/(pdftest|browsertest|bake|internal)(/|$)`)

func checkImports(t *testing.T, name, folder string) (own int) {
	file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
	if err != nil {
		t.Error(err)
		return 0
	}
	base := folder
	if at := helperFolders.FindStringIndex(folder); at != nil {
		base = folder[:at[0]]
	}
	rank, known := rankOf(base)
	if !known {
		t.Errorf("%s: the folder %q is not in the table of folders", name, folder)
		return 0
	}
	for _, spec := range file.Imports {
		path, _ := strconv.Unquote(spec.Path.Value)
		for lib, at := range homes {
			if (path == lib || strings.HasPrefix(path, lib+"/")) && !slices.Contains(at, base) {
				t.Errorf("%s imports %q, whose only home is %v", name, path, at)
			}
		}
		target, ours := strings.CutPrefix(path, "refitcard/")
		if !ours {
			continue
		}
		own++
		if base != folder && strings.HasPrefix(target, base) {
			continue // a helper sees its own folder
		}
		if r, ok := rankOf(target); !ok || r >= rank {
			t.Errorf("%s: %s (rank %d) imports %s (rank %d): arrows lead to lower ranks only", name, folder, rank, target, r)
		}
		for prefix, list := range banned {
			if strings.HasPrefix(folder, prefix) && slices.Contains(list, target) {
				t.Errorf("%s: %s must not see %s", name, folder, target)
			}
		}
		if strings.HasPrefix(folder, "render/") && folder != "render/document" && target == "compiler/procedure" {
			t.Errorf("%s: only render/document sees the model", name)
		}
	}
	return own
}

// Streams, the clock and the command line belong to cmd alone: whatever else uses them can't be tested or repeated.
func TestOnlyTheCommandTouchesTheWorld(t *testing.T) {
	bans := regexp.MustCompile(`\bos\.(Stdout|Stderr|Stdin|Args|Exit)\b|\bfmt\.Print(ln|f)?\(|\btime\.Now\(|\bfunc init\(\)`)
	seen := 0
	for _, top := range []string{".", "../render", "../templates", "../cmd"} {
		err := filepath.WalkDir(top, func(name string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
				return err
			}
			if helperFolders.MatchString(filepath.ToSlash(name)) || strings.HasPrefix(filepath.ToSlash(name), "../render/preview") {
				return nil
			}
			text, err := os.ReadFile(name)
			if err != nil {
				return err
			}
			seen++
			for i, line := range strings.Split(string(text), "\n") {
				code, _, _ := strings.Cut(line, "//")
				found := bans.FindString(code)
				if found == "" || top == "../cmd" && (strings.HasSuffix(name, "main.go") || found == "time.Now(") {
					continue
				}
				t.Errorf("%s:%d: %s", name, i+1, found)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if seen < 30 {
		t.Errorf("only %d files were seen", seen)
	}
}

// DEVELOPERS.md tells people the same ranks as the test holds.
func TestTheTableOfFoldersIsTold(t *testing.T) {
	text, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]int{}
	for _, m := range regexp.MustCompile("(?m)^\\| (\\d+) \\| `([^`]+)` \\|").FindAllStringSubmatch(string(text), -1) {
		told[m[2]], _ = strconv.Atoi(m[1])
	}
	for folder, rank := range told {
		if ranks[folder] != rank {
			t.Errorf("DEVELOPERS.md gives %s the rank %d, the test %d", folder, rank, ranks[folder])
		}
	}
	for folder, rank := range ranks {
		_, err := os.Stat(filepath.Join("..", strings.TrimSuffix(folder, "/*")))
		if _, ok := told[folder]; !ok && err == nil && rank > 0 {
			t.Errorf("%s is not in DEVELOPERS.md", folder)
		}
	}
}
