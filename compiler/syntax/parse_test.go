package syntax

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// samples gives every Markdown file of the library and of the cases, and some text that is hard to read.
func samples(tb testing.TB) map[string][]byte {
	all := map[string][]byte{
		"nothing": nil, "tabs": []byte("1.\tOpen the {tool 13 mm\n\tsocket}.\n\n> \tWARNING: x\n"),
		"quotes": []byte("> > > {remove x\n> > > y}\n"), "front only": []byte("---\na: 1\n---\n"),
		"unclosed": []byte("## A\n\n1. {remove the {cover}\n\n{x\n"), "bom": []byte("\xef\xbb\xbf## A\n"),
	}
	for _, pattern := range []string{"../../procedures/*.md", "../../procedures/*/*.md", "../../testdata/*/*.md"} {
		files, _ := filepath.Glob(pattern)
		for _, f := range files {
			raw, err := os.ReadFile(f)
			if err != nil {
				tb.Fatal(err)
			}
			all[f] = raw
		}
	}
	return all
}

// shopVerbs has the pairs of verbs of the sample library's shop too.
func shopVerbs() *verb.Table {
	verbs, _ := verb.Standard().With([][2]string{{"set up", "strike down"}, {"engage", "disengage"}})
	return verbs
}

func parse(raw []byte) *Tree { return Parse(source.New("case.md", "case.md", raw), shopVerbs()) }

func TestSamplesAreSound(t *testing.T) {
	for name, raw := range samples(t) {
		t.Run(name, func(t *testing.T) { wantSound(t, parse(raw)) })
	}
}

func TestSamplesParseWithoutFaults(t *testing.T) {
	n := 0
	for name, raw := range samples(t) {
		if filepath.Base(filepath.Dir(name)) != "procedures" {
			continue
		}
		n++
		if tree := parse(raw); len(tree.Faults) > 0 {
			var b bytes.Buffer
			tree.Dump(&b)
			t.Errorf("%s: %v\n%s", name, tree.Faults, b.String())
		}
	}
	if n < 10 {
		t.Errorf("only %d procedures were read", n)
	}
}
