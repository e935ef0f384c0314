package syntax

import (
	"maps"
	"reflect"
	"slices"
	"testing"

	"refitcard/compiler/source"
)

// FuzzParse wants every tree sound and the same twice, whatever the bytes; it begins from every case that the tables hold.
func FuzzParse(f *testing.F) {
	all := samples(f)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		f.Add(all[name])
	}
	for _, c := range treeCases() {
		f.Add([]byte(c.text))
	}
	for _, c := range faultCases() {
		f.Add([]byte(c.text))
	}
	for _, c := range byteCases() {
		f.Add([]byte(c.text))
	}
	for _, p := range hostilePieces() {
		f.Add([]byte(p + p + p))
	}
	verbs := shopVerbs()
	f.Fuzz(func(t *testing.T, raw []byte) {
		file := source.New("case.md", "case.md", raw)
		tree := Parse(file, verbs)
		wantSound(t, tree)
		if again := Parse(file, verbs); !reflect.DeepEqual(tree, again) {
			t.Errorf("%q reads differently the second time", raw)
		}
	})
}

// FuzzParseTag wants the same of a line of the front matter.
func FuzzParseTag(f *testing.F) {
	for _, s := range []string{"", ":", "remove end cover", "lock off: x", "drain\n  gear oil", "\\{", "ä", "top  up", " remove x "} {
		f.Add(s)
	}
	verbs := shopVerbs()
	f.Fuzz(func(t *testing.T, s string) {
		file := source.New("case.md", "case.md", []byte(s))
		tag, faults := ParseTag(file, file.At(0, len(file.Text)), verbs)
		check := &sound{file: file}
		check.raw(tag.Whole, tag.At)
		if tag.Verb != nil {
			check.raw(tag.Body, tag.At)
			check.inside("verb", tag.VerbAt, tag.At)
		} else if len(faults) != 1 {
			t.Errorf("%q has no verb and %d faults", s, len(faults))
		}
		for _, p := range check.wrong {
			t.Errorf("%q: %s", s, p)
		}
	})
}
