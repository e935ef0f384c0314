package compiler_test

import (
	"compress/gzip"
	"crypto/sha256"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strings"
	"testing"
)

// TestPlainProse runs the wording checks over technical prose that was not written for them, and logs a sample of what they
// find for a person to judge. It is a measuring tool, not a gate: it is skipped unless REFITCARD_PROSE lists folders.
//
//	REFITCARD_PROSE="$(go env GOMODCACHE):$(manpath)" go test ./compiler -run TestPlainProse -v
//
// Judged by hand on 2026-11-25, 2,339 documents, 47,433 items: at first sight 85 of 104 hits were right (82 %). What was wrong
// was mended: "to wait 10 s" and "will add and remove" order nothing, "specify if" is "whether", "if and only if", "set by",
// "action to take if", ", removing burrs as necessary", "does not need to be". Then of fifty 49 were right (98 %): vague 8 of 8,
// condition-last 14 of 15, not-an-order 12 of 12, untagged-act 9 of 9, long 6 of 6 (which only counts). The fiftieth, "if
// available by passing …", was mended since. Such prose seldom orders anything, so this tells how many hits are right, and
// little of how many are missed: of the sentences that open with a plain order and hold a vague word, 8 were found and 6 were
// not, 2 of which should have been.
//
// READMEs and manual pages of the sections 1 to 8 are cut into items, each a step of a procedure. The words that most often
// stand behind "the" are declared as parts, so that names and untagged acts are tried as well.
func TestPlainProse(t *testing.T) {
	folders := os.Getenv("REFITCARD_PROSE")
	if folders == "" {
		t.Skip("REFITCARD_PROSE names no folder")
	}
	var files []string
	for _, folder := range filepath.SplitList(folders) {
		files = append(files, proseFiles(t, folder)...)
	}
	sort.Strings(files)
	hits := map[string][]string{}
	items, docs := 0, 0
	seen := map[string]bool{}
	for _, file := range files {
		list := slices.DeleteFunc(proseItems(t, file), func(item string) bool {
			was := seen[item]
			seen[item] = true
			return was
		})
		if len(list) < 3 {
			continue
		}
		docs++
		items += len(list)
		text := asProcedure(list)
		r := compileOne("prose.md", []byte(text))
		for _, f := range r.Findings {
			if !strings.HasPrefix(f.Rule, "wording/") || f.At.File == nil {
				continue
			}
			line := f.At.File.LineSpan(f.At.File.Line(f.At.Start)).Text()
			hits[f.Rule] = append(hits[f.Rule], fmt.Sprintf("%q in: %s", f.At.Text(), line))
		}
	}
	if docs == 0 {
		t.Fatal("no prose was found")
	}
	t.Logf("%d documents, %d items", docs, items)
	var names []string
	for name := range hits {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		list := hits[name]
		sort.Slice(list, func(i, k int) bool { return hash(list[i]) < hash(list[k]) })
		t.Logf("%s: %d hits", name, len(list))
		for _, h := range list[:min(len(list), 25)] {
			t.Logf("  %s %s", name, h)
		}
	}
}

// hash makes an order that is the same in every run and has nothing to do with where a hit comes from.
func hash(s string) string {
	sum := sha256.Sum256([]byte(s))
	return string(sum[:])
}

var manPage = regexp.MustCompile(`/man/man[1-8]/[^/]+\.[1-8][a-z]*(\.gz)?$`)

func proseFiles(t *testing.T, folder string) []string {
	var found []string
	err := filepath.WalkDir(folder, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return nil // a folder that may not be read holds nothing for us
		}
		slash := filepath.ToSlash(name)
		if strings.HasPrefix(strings.ToLower(e.Name()), "readme") && strings.HasSuffix(strings.ToLower(e.Name()), ".md") || manPage.MatchString(slash) {
			found = append(found, name)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	// A program with hundreds of pages of its own would outvote all others: of each first word eight pages are enough.
	var kept []string
	pages := map[string]int{}
	for _, f := range found {
		family, _, _ := strings.Cut(strings.ReplaceAll(filepath.Base(f), "_", "-"), "-")
		if manPage.MatchString(filepath.ToSlash(f)) {
			if pages[family]++; pages[family] > 8 {
				continue
			}
		}
		kept = append(kept, f)
	}
	return kept
}

func proseItems(t *testing.T, file string) []string {
	f, err := os.Open(file)
	if err != nil {
		return nil
	}
	defer f.Close()
	var r io.Reader = f
	if strings.HasSuffix(file, ".gz") {
		z, err := gzip.NewReader(f)
		if err != nil {
			t.Logf("%s: %v", file, err)
			return nil
		}
		r = z
	}
	raw, err := io.ReadAll(io.LimitReader(r, 1<<19))
	if err != nil {
		return nil
	}
	text := string(raw)
	if strings.HasSuffix(strings.ToLower(file), ".md") {
		text = plainMarkdown(text)
	} else {
		text = plainManual(text)
	}
	var items []string
	for _, p := range regexp.MustCompile(`\n\s*\n`).Split(text, -1) {
		p = strings.Join(strings.Fields(p), " ")
		if len(p) > 20 && len(p) < 600 && 'A' <= p[0] && p[0] <= 'Z' && strings.HasSuffix(p, ".") && len(items) < 300 {
			items = append(items, p)
		}
	}
	return items
}

// plainMarkdown leaves the words of running text: an item of a list is a paragraph of its own.
func plainMarkdown(s string) string {
	s = regexp.MustCompile("(?s)```.*?```|~~~.*?~~~|<!--.*?-->").ReplaceAllString(s, "\n\n")
	s = regexp.MustCompile(`!\[[^\]]*\]\([^)]*\)`).ReplaceAllString(s, "")
	s = regexp.MustCompile(`\[([^\]]*)\](\([^)]*\)|\[[^\]]*\])`).ReplaceAllString(s, "$1")
	s = regexp.MustCompile(`<[^>\n]*>`).ReplaceAllString(s, "")
	s = regexp.MustCompile(`(?m)^( {4}|\t|#|\||=|-{3}|\+).*$`).ReplaceAllString(s, "")
	s = regexp.MustCompile(`(?m)^\s*([*+-]|\d+[.)])\s+`).ReplaceAllString(s, "\n\n")
	return strings.NewReplacer("*", "", "_", "", "{", "", "}", "", "[", "", "]", "", "|", "", "\\", "", "<", "", ">", "", "$", "", "~", "", "&", "and").Replace(s)
}

// plainManual leaves the words of a manual page.
func plainManual(s string) string {
	var b strings.Builder
	skip := false
	for line := range strings.Lines(s) {
		line = strings.TrimSuffix(line, "\n")
		switch {
		case strings.HasPrefix(line, ".nf"), strings.HasPrefix(line, ".EX"), strings.HasPrefix(line, ".Bd"), strings.HasPrefix(line, ".de"), strings.HasPrefix(line, ".TS"):
			skip = true
		case strings.HasPrefix(line, ".fi"), strings.HasPrefix(line, ".EE"), strings.HasPrefix(line, ".Ed"), line == "..", strings.HasPrefix(line, ".TE"):
			skip = false
			b.WriteString("\n\n")
		case skip || strings.HasPrefix(line, `.\"`) || strings.HasPrefix(line, `'`):
		case regexp.MustCompile(`^\.(B|I|BR|RB|IR|RI|BI|IB|Nm|Fl|Ar|Pa|Xr|Sy|Em|Li|Cm|Va|Dv) `).MatchString(line):
			words := line[strings.IndexByte(line, ' ')+1:]
			if strings.HasPrefix(line, ".B ") || strings.HasPrefix(line, ".I ") || line[2] >= 'a' {
				b.WriteString(strings.ReplaceAll(words, `"`, "") + "\n")
			} else {
				b.WriteString(strings.ReplaceAll(strings.ReplaceAll(words, `"`, ""), " ", "") + "\n")
			}
		case strings.HasPrefix(line, "."):
			b.WriteString("\n\n")
		default:
			b.WriteString(line + "\n")
		}
	}
	out := regexp.MustCompile(`\\f\(..|\\f\[[^\]]*\]|\\f.|\\s[+-]?\d|\\[&|^/,:%]`).ReplaceAllString(b.String(), "")
	out = strings.NewReplacer(`\-`, "-", `\(aq`, "'", `\(bu`, "", `\e`, "", `\(dq`, `"`, `\(lq`, `"`, `\(rq`, `"`, `\(em`, ", ", `\ `, " ", `\~`, " ", `\(cq`, "'").Replace(out)
	return strings.NewReplacer("*", "", "_", "", "{", "", "}", "", "[", "", "]", "", "|", "", "\\", "", "<", "", ">", "", "$", "", "~", "", "`", "", "&", "and").Replace(out)
}

var behindThe = regexp.MustCompile(`\bthe ([a-z]{4,}( [a-z]{4,})?)`)

// asProcedure makes a procedure whose steps are the items, with the commonest nouns declared as parts.
func asProcedure(items []string) string {
	count := map[string]int{}
	for _, m := range behindThe.FindAllStringSubmatch(strings.Join(items, " "), -1) {
		count[strings.Fields(m[1])[0]]++
	}
	var names []string
	for n, k := range count {
		if k >= 3 && !strings.HasSuffix(n, "s") && !strings.HasSuffix(n, "ed") && !strings.HasSuffix(n, "ing") {
			names = append(names, n)
		}
	}
	sort.Slice(names, func(i, k int) bool {
		if count[names[i]] != count[names[k]] {
			return count[names[i]] > count[names[k]]
		}
		return names[i] < names[k]
	})
	var b strings.Builder
	b.WriteString("---\ntitle: Prose\nnumber: P-1\nrevision: A\n---\n\n## Parts\n\n| Part | Qty |\n|:--|--:|\n")
	for _, n := range names[:min(len(names), 12)] {
		b.WriteString("| " + n + " | 1 |\n")
	}
	b.WriteString("\n## Work\n\n")
	for _, p := range items {
		b.WriteString("1. " + p + "\n")
	}
	return b.String()
}
