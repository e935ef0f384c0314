package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// cleanJob is a procedure in which nothing is wrong.
const cleanJob = front + "## Parts\n\n- none\n\n## Tools\n\n- none\n\n## Supplies\n\n- shop towel, 1\n\n## Clean\n\n1. {Clean the gauge} with the {supply shop towel}.\n"

// inLibrary goes into a new library of one sound procedure and other files.
func inLibrary(t *testing.T, files map[string][]byte) {
	t.Helper()
	t.Chdir(t.TempDir())
	files["job.md"] = []byte(strings.Replace(cleanJob, "revision: A\n", "revision: A\nafter: [SL-2]\nthen: [SL-3]\n", 1))
	for name, data := range files {
		if err := os.WriteFile(name, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// wantAnswers demands that a library is checked and its sheets are made, or that it is said why not: nothing stumbles, what is
// said steers nothing, and JSON is JSON.
func wantAnswers(t *testing.T) {
	t.Helper()
	for _, args := range [][]string{{"check", "--format", "json", "job.md"}, {"card", "-o", "-", "job.md"}, {"pick", "--format", "csv", "-o", "-", "job.md"}} {
		code, out, problems, _ := spend(args...)
		if strings.Contains(problems, "stumbled") {
			t.Fatalf("%q: %s", args, problems)
		}
		wantHarmless(t, problems)
		if args[0] == "check" && !json.Valid([]byte(out)) {
			t.Errorf("%q: no JSON: %.200q", args, out)
		}
		if args[0] != "check" && code != done && out != "" {
			t.Errorf("%q: exit %d, and %d bytes were written", args, code, len(out))
		}
	}
}

// Whatever the settings file holds.
func FuzzSettings(f *testing.F) {
	raw, err := os.ReadFile("../../procedures/refitcard.yaml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(raw)
	for _, text := range []string{
		"shop: a\nunits: us\npaper: a5\ndistance: 300\n", "lift: 25 kg\ncrib: list.csv\nstock: list.csv\n", "verbs:\n  - {verb: set up, undone: strike down}\n",
		"severities:\n  wording/long: error\n", "a: &a [*a]\n", "verbs: x\nseverities: [x]\n", "---\nshop: a\n---\nshop: b\n", "stock: ../job.md\ncrib: .\n", "lift: 1e999 kg\n",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, settings []byte) {
		inLibrary(t, map[string][]byte{"refitcard.yaml": settings, "list.csv": []byte("item,number,bin\nshop towel,1,B\n")})
		wantAnswers(t)
	})
}

// Whatever the stock list and the tool crib hold.
func FuzzLists(f *testing.F) {
	for _, name := range []string{"stock.csv", "crib.csv"} {
		raw, err := os.ReadFile(filepath.Join("../../procedures", name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(raw)
	}
	for _, text := range []string{"", "item,number,bin,pack\n", "item\n\"", "ITEM;bin\n", "\ufeffitem,bin\nshop towel,=1+1\n", "item,item,bin\nshop towel,x,y\n", "#\n\nitem,bin\n,\n", "\x00,\r\n"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, list []byte) {
		inLibrary(t, map[string][]byte{"refitcard.yaml": []byte("stock: list.csv\ncrib: list.csv\n"), "list.csv": list})
		wantAnswers(t)
	})
}

// Whatever stands in another procedure of the library, which the register looks over and which this one includes.
func FuzzNeighbour(f *testing.F) {
	files, err := filepath.Glob("../../testdata/faulty/*.md")
	if err != nil || len(files) < 20 {
		f.Fatalf("%d seeds, %v", len(files), err)
	}
	for i, name := range files {
		if i%10 > 0 {
			continue // each takes four calls
		}
		raw, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(raw)
	}
	f.Fuzz(func(t *testing.T, other []byte) {
		inLibrary(t, map[string][]byte{
			"refitcard.yaml": []byte("shop: a\n"), "other.md": other,
			"with.md": []byte(strings.Replace(cleanJob, "## Clean", "{include other.md}\n\n## Clean", 1)),
		})
		wantAnswers(t)
		if _, _, problems, _ := spend("check", "."); strings.Contains(problems, "stumbled") {
			t.Fatal(problems)
		}
	})
}

// Whatever is typed behind the program's name: it ends with one of its exit codes, and says why when it does nothing. No verb
// that waits for somebody is called.
func FuzzCommandLine(f *testing.F) {
	for _, line := range []string{
		"check\njob.md", "card\n-o\n-\njob.md", "chek", "--version", "help\ncard", "card\n--paper\na55\njob.md", "lookup\nM8\n8.8", "lookup\ncrowfoot\n22 N·m\n300 mm\n45 mm", "explain\nleft-off",
		"check\n--only\nx,y\njob.md", "card\n--sheets\n-1\njob.md", "labels\n--stock\n1x1\njob.md", "labels\n--first\n99999999\njob.md", "record\n--punch\nup\njob.md", "pick\n-\n-", "press\n.\n-o\nout",
		"mend\n--dry-run\n.", "tidy\n--dry-run\njob.md", "refit\njob.md", "new\na.md\n--from\nx", "completion\nbash", "__complete\ncard\n--pa", "compare\njob.md\njob.md", "review\n--against\n.\n.", "card\n--distance\n1e309\njob.md",
		"check\n--jobs\n99999999\njob.md", "-", "--", "card\n--variant\n\x00\njob.md", "source\njob.md", "draft\njob.md\n-o\n-",
	} {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, line string) {
		args := strings.Split(line, "\n")
		for _, a := range args {
			if a == "watch" || a == "editor" || strings.ContainsAny(a, "/\x00") || strings.Contains(a, "..") {
				t.Skip("waits, or leaves the folder")
			}
		}
		inLibrary(t, map[string][]byte{})
		code, out, problems, _ := spend(args...)
		if code < done || code > unusable || strings.Contains(problems, "stumbled") {
			t.Fatalf("%q: exit %d: %s", args, code, problems)
		}
		wantHarmless(t, problems)
		if code == unusable && strings.TrimSpace(problems+out) == "" {
			t.Errorf("%q: exit %d without a word", args, code)
		}
		if bytes.Contains([]byte(out), []byte("stumbled")) {
			t.Errorf("%q: %s", args, out)
		}
	})
}
