package main

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/net/html"
)

// attack is a procedure in order whose every word was written to do something where it is shown.
const attack = `---
title: "<script>alert(1)</script><img src=x onerror=alert(2)>"
number: "=1+2"
revision: "@A"
machine: "\"><svg onload=alert(3)>"
references:
  - "javascript:alert(4) http://example.invalid/"
---

See [here](javascript:alert(5)), <javascript:alert(6)>, <http://example.invalid/x> and [there](http://example.invalid/y "onclick=alert(7)").

> **WARNING** <b onmouseover=alert(8)>Hot</b> oil burns. Let it cool, {{constructor.constructor('alert(9)')()}}.

## Parts

| Part | Qty | Number | Use |
|:--|--:|:--|:--|
| =HYPERLINK("http://example.invalid") | 1 | +1+1 | add |
| @SUM(1) | 1 | -2+3 | add |
| </td><script>alert(10)</script> | 1 | %0a::error::x | add |

## Tools

- -1+1
- none' onfocus='alert(11)

## Supplies

- <iframe src=http://example.invalid></iframe>, 1

## Work

1. ![<script>alert(12)</script>](drawing.svg) {Install the @SUM(1)}. {Check ]]></script><script>alert(13)</script> is clean}.
   {Measure */alert(14)/* 1..2 mm, else ';alert(15)//}.
2. ::error file=x::y {Install the =HYPERLINK("http://example.invalid")}.
`

// attackDrawing is a drawing that would run a program and fetch from elsewhere.
const attackDrawing = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 10 10" onload="alert(20)">
<script>alert(21)</script><foreignObject><body xmlns="http://www.w3.org/1999/xhtml"><script>alert(22)</script></body></foreignObject>
<image xlink:href="http://example.invalid/x.png"/><a href="javascript:alert(23)"><path d="M1 1 9 9"/></a></svg>`

// attacked makes everything that can be made of the attack, in the current folder, whatever findings stand.
func attacked(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	for name, text := range map[string]string{"job.md": attack, "drawing.svg": attackDrawing, "refitcard.yaml": "shop: \"<script>alert(30)</script>\"\nstatement: \"<img src=x onerror=alert(31)>\"\n"} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, args := range [][]string{
		{"card", "--format", "html", "-o", "card.html", "job.md"},
		{"card", "-o", "card.pdf", "job.md"},
		{"review", "--format", "html", "-o", "review.html", "job.md"},
		{"review", "-o", "review.pdf", "job.md"},
		{"pick", "--format", "csv", "-o", "pick.csv", "job.md"},
		{"press", ".", "-o", "out/"},
		{"check", "--format", "github", "-o", "github.txt", "job.md"},
		{"check", "--format", "text", "-o", "text.txt", "job.md"},
	} {
		code, _, problems, _ := spend(args...)
		if strings.Contains(problems, "stumbled") {
			t.Errorf("%q: exit %d: %s", args, code, problems)
		}
	}
}

func TestPagesHoldNothingActive(t *testing.T) {
	attacked(t)
	pages, err := filepath.Glob("*.html")
	more, err2 := filepath.Glob("out/*.html")
	if err != nil || err2 != nil || len(pages)+len(more) < 2 {
		t.Fatalf("only the pages %q %q were made", pages, more)
	}
	for _, name := range append(pages, more...) {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := html.Parse(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		wantNothingActive(t, name, doc)
	}
}

// wantNothingActive walks a page: scripts are those of the page alone, nothing is fetched, nothing waits for a click.
func wantNothingActive(t *testing.T, name string, n *html.Node) {
	t.Helper()
	if n.Type == html.ElementNode {
		switch n.Data {
		case "iframe", "object", "embed", "foreignobject", "base":
			t.Errorf("%s: holds a %s", name, n.Data)
		case "script":
			if n.FirstChild != nil && regexp.MustCompile(`alert\(\d+\)`).MatchString(n.FirstChild.Data) {
				t.Errorf("%s: a script of the document: %.60q", name, n.FirstChild.Data)
			}
		}
		for _, a := range n.Attr {
			value := strings.ToLower(strings.TrimSpace(a.Val))
			switch {
			case strings.HasPrefix(strings.ToLower(a.Key), "on"):
				t.Errorf("%s: %s waits for %s: %q", name, n.Data, a.Key, a.Val)
			case (a.Key == "href" || a.Key == "src" || a.Key == "action") && (strings.HasPrefix(value, "javascript:") || strings.Contains(value, "//")) && !strings.HasPrefix(value, "data:image/"):
				t.Errorf("%s: %s leads to %q", name, n.Data, a.Val)
			}
		}
	}
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		wantNothingActive(t, name, c)
	}
}

func TestSpreadsheetsHoldNoFormula(t *testing.T) {
	attacked(t)
	seen := 0
	for _, name := range []string{"pick.csv", "out/register.csv"} {
		data, err := os.ReadFile(name)
		if os.IsNotExist(err) {
			continue
		}
		rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			for _, cell := range row {
				seen++
				if cell != "" && strings.ContainsRune("=+-@\t\r\n", rune(strings.TrimLeft(cell, " \u00a0")[0])) {
					t.Errorf("%s: the cell %q is a formula", name, cell)
				}
			}
		}
	}
	if seen < 8 {
		t.Errorf("only %d cells were seen", seen)
	}
}

// active are the names of what a PDF file may do by itself, or when it is touched.
var active = regexp.MustCompile(`/(JavaScript|JS|Launch|OpenAction|AA|URI|GoToR|GoToE|SubmitForm|ImportData|RichMedia|Rendition|Movie|Sound|XFA|AcroForm)\b`)

func TestPapersHoldNothingActive(t *testing.T) {
	attacked(t)
	seen := 0
	for _, pattern := range []string{"*.pdf", "out/*.pdf"} {
		names, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			seen++
			for _, object := range regexp.MustCompile(`(?s)stream\r?\n.*?endstream`).Split(string(data), -1) {
				if found := active.FindString(object); found != "" {
					t.Errorf("%s holds %s", name, found)
				}
			}
		}
	}
	if seen == 0 {
		t.Error("no paper was made")
	}
}

// Each line of the annotations is one of ours, and no text of a document begins one.
func TestAnnotationsCantBeForged(t *testing.T) {
	attacked(t)
	data, err := os.ReadFile("github.txt")
	if err != nil {
		t.Fatal(err)
	}
	ours := regexp.MustCompile(`^::(error|warning|notice) (file=[^:,]*,line=\d+,endLine=\d+(,col=\d+,endColumn=\d+)?,)?title=[a-z]+/[a-z-]+::[^\r\n]*$`)
	lines := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
	for _, line := range lines {
		if !ours.MatchString(line) {
			t.Errorf("no annotation of ours: %q", line)
		}
	}
	if len(lines) < 2 {
		t.Errorf("only %d annotations", len(lines))
	}
}

// The names of files are written as people typed them, and do nothing by themselves.
func TestOddNames(t *testing.T) {
	names := []string{"a b.md", "-x.md", "a\nrefitcard: all is well.md", "\x1b[2Jx.md", "x\xff\xfe.md", "$(touch owned).md", "::error::x.md", "%0a.md", "ü\u202edm.md", strings.Repeat("n", 200) + ".md"}
	t.Chdir(t.TempDir())
	for _, name := range names {
		if err := os.WriteFile(name, []byte(strings.Replace(attack, "=1+2", "N"+name[:1], 1)), 0o644); err != nil {
			t.Skipf("this disk takes no such names: %v", err)
		}
	}
	for _, format := range []string{"text", "json", "sarif", "github", "junit"} {
		for _, name := range append(names, ".") {
			code, out, problems, _ := spend("check", "--format", format, "--", name)
			unreadable := name == "." || !utf8.ValidString(name) // a name that is not UTF-8 is told of, and the others are looked at
			if (code == unusable) != unreadable || strings.Contains(out+problems, "stumbled") {
				t.Errorf("%q as %s: exit %d: %s", name, format, code, problems)
			}
			wantHarmless(t, out+problems)
			if strings.Contains("\n"+problems+out, "\nrefitcard: all is well") || strings.Contains("\n"+problems, "\n::") {
				t.Errorf("%q as %s: its name begins a line", name, format)
			}
		}
	}
	for _, verb := range []string{"card", "tidy", "mend", "review", "record", "pick"} {
		for _, name := range names {
			_, out, problems, _ := spend(verb, "--quiet", "--", name)
			wantHarmless(t, problems)
			if strings.Contains(out+problems, "stumbled") || strings.Contains("\n"+problems, "\nrefitcard: all is well") {
				t.Errorf("%s %q: %s", verb, name, problems)
			}
		}
	}
	if _, err := os.Stat("owned"); err == nil {
		t.Error("a name was run")
	}
}
