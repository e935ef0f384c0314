package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// cardsFolder holds procedures of one intent each, and beside each what stands where on one of its sheets. The first line of a
// golden file is the command that makes the rest, without the name of the procedure.
var cardsFolder = filepath.Join("..", "..", "testdata", "cards")

// mostLines is the length of a golden file that a person still reads.
const mostLines = 60

// What stands where on a sheet: page, box, place and size in mm, words. `make golden` renews the files.
func TestGoldenCards(t *testing.T) {
	procedures, err := filepath.Glob(filepath.Join(cardsFolder, "*.md"))
	if err != nil || len(procedures) < 10 {
		t.Fatalf("%d procedures, %v", len(procedures), err)
	}
	kinds := map[string]bool{}
	for _, name := range procedures {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".md"), func(t *testing.T) {
			golden := strings.TrimSuffix(name, ".md") + ".sheet"
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatalf("write the command on the first line of %s, as in %q, and run make golden", golden, "card --paper a6")
			}
			command, _, _ := strings.Cut(string(want), "\n")
			args := strings.Fields(command)
			kinds[args[0]] = true
			out, _ := run(t, done, append(args, "--format", "boxes", "--quiet", "-o", "-", name)...)
			got := []byte(command + "\n" + out)
			if n := bytes.Count(got, []byte("\n")); n > mostLines {
				t.Errorf("%d lines: a golden file is to be read, make the procedure shorter", n)
			}
			if *update {
				if err := os.WriteFile(golden, got, 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if string(got) != string(want) {
				t.Errorf("%s is out of date; look at the change and run make golden:\n%s", golden, firstChange(string(want), string(got)))
			}
		})
	}
	for _, kind := range []string{"card", "record", "pick", "labels", "review"} {
		if !kinds[kind] {
			t.Errorf("no golden file shows what stands where on the sheet that %q makes", kind)
		}
	}
}

// firstChange gives the first line that differs, as it was and as it is.
func firstChange(was, is string) string {
	a, b := strings.Split(was, "\n"), strings.Split(is, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return "- " + a[i] + "\n+ " + b[i]
		}
	}
	return "one of them ends earlier"
}

// Every file of the folder belongs to a pair.
func TestGoldenCardsHaveTheirProcedure(t *testing.T) {
	files, err := os.ReadDir(cardsFolder)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		switch ext := filepath.Ext(f.Name()); ext {
		case ".md":
		case ".sheet":
			if _, err := os.Stat(filepath.Join(cardsFolder, strings.TrimSuffix(f.Name(), ext)+".md")); err != nil {
				t.Errorf("%s is left over: its procedure is gone", f.Name())
			}
		default:
			t.Errorf("%s is neither a procedure nor what stands where", f.Name())
		}
	}
}
