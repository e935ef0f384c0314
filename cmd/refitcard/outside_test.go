package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"refitcard/render/pdf/pdftest"
)

// In this file programs that did not make the sheets of the sample library look at them.

// run runs the command line in this process and gives its streams.
func run(t testing.TB, want int, args ...string) (stdout, stderr string) {
	t.Helper()
	var out, problems bytes.Buffer
	c := Command{In: strings.NewReader(""), Out: &out, Err: &problems, Env: func(string) (string, bool) { return "", false }, Width: func(any) int { return 0 }}
	if code := c.Run(context.Background(), args); code != want {
		t.Fatalf("refitcard %q: exit %d, want %d\n%s%s", args, code, want, out.String(), problems.String())
	}
	return out.String(), problems.String()
}

var samples = filepath.Join("..", "..", "procedures")

// reviewed makes the review sheets of the library beside the other sheets on A4, once for all tests.
var reviewed sync.Once

// sheets gives the sheets of the library on A4 whose names have a pattern.
func sheets(t testing.TB, pattern string) []string {
	t.Helper()
	pressed(t, "a4")
	dir := filepath.Join(printing.folder, "a4")
	reviewed.Do(func() { run(t, done, "review", samples, "-o", dir+"/", "--quiet") })
	names, err := filepath.Glob(filepath.Join(dir, pattern))
	if err != nil || len(names) < 20 {
		t.Fatalf("%d sheets %s, %v", len(names), pattern, err)
	}
	return names
}

func TestEverySheetIsSound(t *testing.T) {
	qpdf := pdftest.Need(t, "qpdf", "that the sheets of the library are sound")
	for _, name := range append(sheets(t, "*.pdf"), sampledFiles(t)...) {
		if out := pdftest.Run(t, qpdf, "--check", name); !strings.Contains(out, "No syntax or stream encoding errors found") {
			t.Errorf("%s: %s", filepath.Base(name), out)
		}
	}
}

// sampledFiles gives the files of the sample on all papers.
func sampledFiles(t testing.TB) (names []string) {
	t.Helper()
	for _, p := range sampled(t).all() {
		names = append(names, p.file)
	}
	return names
}

// A second program that draws pages has nothing to say of them either.
func TestEverySheetIsDrawnWithoutAComplaint(t *testing.T) {
	mutool := pdftest.Need(t, "mutool", "that mutool draws the sheets of the library without a complaint")
	const own = "warning: ICC support is not available" // said of the program itself, as Debian builds it
	for _, name := range sampledFiles(t) {
		var out bytes.Buffer
		c := exec.Command(mutool, "draw", "-q", "-r", "24", "-o", filepath.Join(t.TempDir(), "%d.png"), name)
		c.Stdout, c.Stderr = &out, &out
		err := c.Run()
		if said := strings.TrimSpace(strings.ReplaceAll(out.String(), own, "")); err != nil || said != "" {
			t.Errorf("%s: %v, %s", filepath.Base(name), err, said)
		}
	}
}

func TestEverySheetIsValidByTheStandard(t *testing.T) {
	goTool := pdftest.Need(t, "go", "that pdfcpu's strict mode accepts the sheets of the library")
	var names []string
	dir := t.TempDir()
	for i, name := range append(sheets(t, "*.pdf"), sampledFiles(t)...) {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, filepath.Join(dir, fmt.Sprint(i, "-", filepath.Base(name))))
		if err := os.WriteFile(names[len(names)-1], pdftest.Unassociated(data), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(root)
	args := []string{"tool", "-modfile=.ci/tools.mod", "pdfcpu", "validate", "-conf", "disable", "-mode", "strict"}
	out := pdftest.Run(t, goTool, append(args, names...)...)
	if n := strings.Count(out, "validation ok"); n != len(names) {
		t.Errorf("%d of %d sheets are valid:\n%s", n, len(names), out)
	}
}

func TestEverySheetHasItsFonts(t *testing.T) {
	pdffonts := pdftest.Need(t, "pdffonts", "that all fonts are in the sheets of the library")
	for _, name := range sheets(t, "*.pdf") {
		lines := strings.Split(strings.TrimSpace(pdftest.Run(t, pdffonts, name)), "\n")[2:]
		if len(lines) == 0 {
			t.Errorf("%s: no fonts at all", filepath.Base(name))
		}
		for _, l := range lines {
			if f := strings.Fields(l); len(f) < 7 || f[3] != "yes" || f[5] != "yes" {
				t.Errorf("%s: not embedded, or without characters: %s", filepath.Base(name), l)
			}
		}
	}
}

var boxText = regexp.MustCompile(`(?m)^\d+ (\S+) .* "(.*)"$`)

// copiedOut looks for the words of each box of a name in what can be copied out of all sheets of a kind, in the order in which
// they are read, and gives how many it looked for.
func copiedOut(t *testing.T, all []string, kind, box string) int {
	t.Helper()
	pdftotext := pdftest.Need(t, "pdftotext", "that the words of the sheets can be copied out in order")
	boxes := t.TempDir()
	run(t, done, kind, samples, "--format", "boxes", "-o", boxes+"/", "--quiet")
	found := 0
	for _, name := range all {
		if !strings.HasSuffix(name, "-"+kind+".pdf") {
			continue
		}
		words := strings.Join(strings.Fields(pdftest.Run(t, pdftotext, "-raw", "-enc", "UTF-8", name, "-")), " ")
		dump, err := os.ReadFile(filepath.Join(boxes, strings.TrimSuffix(filepath.Base(name), ".pdf")+".txt"))
		if err != nil {
			t.Fatal(err)
		}
		at := 0
		for _, m := range boxText.FindAllStringSubmatch(string(dump), -1) {
			if m[1] != box {
				continue
			}
			found++
			want := m[2]
			if kind == "labels" { // the box has the count and the name, which is broken where it is long
				want = strings.Fields(want)[1]
			}
			i := strings.Index(words[at:], want)
			if i < 0 {
				t.Fatalf("%s: %q is missing, or stands too early, after %q", filepath.Base(name), want, words[max(0, at-60):at])
			}
			at += i + len(want)
		}
	}
	return found
}

// The words of each act can be copied out of a card, in the order in which they are read; so can the lines of a record sheet, and
// the names on labels.
func TestSheetsAreCopiedOutInReadingOrder(t *testing.T) {
	all := sheets(t, "*.pdf")
	for _, c := range []struct {
		kind, box string
		least     int
	}{{"card", "act", 400}, {"record", "line", 300}, {"labels", "label", 120}} {
		t.Run(c.kind, func(t *testing.T) {
			if n := copiedOut(t, all, c.kind, c.box); n < c.least {
				t.Errorf("only %d were looked for", n)
			}
		})
	}
}

// A picture of 150 dpi is what an office scanner or a telephone gives. The record sheet has the card's code.
func TestEveryScanCodeIsRead(t *testing.T) {
	pdftoppm := pdftest.Need(t, "pdftoppm", "that the scan codes of the cards can be read")
	zbarimg := pdftest.Need(t, "zbarimg", "that the scan codes of the cards can be read")
	dir := t.TempDir()
	var names []string
	for i, name := range sheets(t, "*.pdf") {
		// Of the record sheets a few do: they are given the same code.
		if strings.HasSuffix(name, "-card.pdf") || strings.HasSuffix(name, "-record.pdf") && i%4 == 0 {
			names = append(names, name)
		}
	}
	run(t, done, "card", filepath.Join(samples, "rake-winch-end-cover.md"), "--paper", "a5", "-o", filepath.Join(dir, "SD-114-C-a5.pdf"), "--quiet")
	for _, name := range append(names, filepath.Join(dir, "SD-114-C-a5.pdf")) {
		base := filepath.Base(name)
		picture := filepath.Join(dir, base)
		pdftest.Run(t, pdftoppm, "-r", "150", "-gray", "-singlefile", name, picture)
		got := strings.Fields(pdftest.Run(t, zbarimg, "--quiet", "--raw", picture+".pgm"))
		if len(got) != 3 || !strings.HasPrefix(base, got[0]+"-"+got[1]+"-") || len(got[2]) != 8 {
			t.Errorf("%s: read %q", base, got)
		}
	}
}

// Each card carries its source, byte for byte.
func TestEveryCardCarriesItsSource(t *testing.T) {
	qpdf := pdftest.Need(t, "qpdf", "that the cards carry their source")
	name := ""
	for _, n := range sheets(t, "*-card.pdf") {
		if strings.Contains(n, "SD-114") {
			name = n
		}
	}
	want, err := os.ReadFile(filepath.Join(samples, "rake-winch-end-cover.md"))
	if err != nil {
		t.Fatal(err)
	}
	if got := pdftest.Run(t, qpdf, "--show-attachment=0000", name); got != string(want) {
		t.Error("the source in the card is not the source of the card")
	}
	if got := pdftest.Run(t, qpdf, "--show-attachment=0001", name); !strings.Contains(got, `"block": "stage"`) {
		t.Errorf("the content of the card: %.200s", got)
	}
}

// Every procedure that checks clean gets its record sheet and its labels.
func TestEveryCleanProcedureGetsItsSheets(t *testing.T) {
	dir := t.TempDir()
	for _, kind := range []string{"record", "labels"} {
		run(t, done, kind, filepath.Join("..", "..", "testdata", "clean"), "-o", dir+"/", "--quiet")
		names, err := filepath.Glob(filepath.Join(dir, "*-"+kind+".pdf"))
		if err != nil || len(names) < 120 {
			t.Errorf("%d sheets %s, %v", len(names), kind, err)
		}
	}
}
