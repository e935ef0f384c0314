package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Whatever is typed, the command line ends with one of its three exit codes, and a sheet is only made where nothing is wrong.
func FuzzCard(f *testing.F) {
	files, err := filepath.Glob("../../testdata/clean/*.md")
	if err != nil || len(files) < 20 {
		f.Fatalf("%d seeds, %v", len(files), err)
	}
	for _, name := range files {
		raw, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(raw, "a4")
		f.Add(raw, "a5")
	}
	f.Fuzz(func(t *testing.T, raw []byte, paper string) {
		t.Chdir(t.TempDir())
		for _, args := range [][]string{
			{"card", "--paper", paper, "-o", "-", "-"}, {"record", "-o", "-", "-"}, {"labels", "-o", "-", "-"}, {"pick", "-o", "-", "-"}, {"check", "--format", "json", "-"},
		} {
			var out, problems bytes.Buffer
			c := Command{In: bytes.NewReader(raw), Out: &out, Err: &problems, Env: func(string) (string, bool) { return "", false }, Width: func(any) int { return 0 }}
			code := c.Run(context.Background(), args)
			if strings.Contains(problems.String(), "stumbled") {
				t.Fatalf("%q: %s", args, problems.String())
			}
			if args[0] != "check" && code != done && out.Len() > 0 {
				t.Errorf("%q: exit %d, and %d bytes were written", args, code, out.Len())
			}
			if args[0] != "check" && code == done && !bytes.HasPrefix(out.Bytes(), []byte("%PDF-1.7")) {
				// Several sheets, one a variant, can't go to standard output: that is said.
				t.Errorf("%q: exit 0 and no sheet: %.80q %s", args, out.String(), problems.String())
			}
		}
	})
}
