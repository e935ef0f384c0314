package document_test

import (
	"os"
	"testing"

	"refitcard/compiler"
	"refitcard/compiler/rules"
	"refitcard/render/document"
)

// A card for one variant draws the fasteners that this variant has, once, and no drawing of another.
func TestDrawingsAreThoseOfTheVariant(t *testing.T) {
	lib := compiler.Open(os.DirFS("../../procedures"), func(path string) string { return path })
	r, err := lib.Compile("flap-valve.md", rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for variant, want := range map[string]struct {
		part   string
		places int
	}{"DN300": {"small ring", 8}, "DN450": {"big ring", 12}} {
		card := document.Card(r.Proc, r.Plays, r.Settings, document.Options{Variant: variant})
		var drawn []document.Layout
		for _, b := range card.Blocks {
			step, ok := b.(document.Step)
			if !ok {
				continue
			}
			for _, k := range step.Before {
				if l, ok := k.(document.Layout); ok {
					drawn = append(drawn, l)
				}
			}
			for _, a := range step.Acts {
				if a.Passes != nil && a.Passes.Layout != nil {
					drawn = append(drawn, *a.Passes.Layout)
				}
			}
		}
		if len(drawn) != 1 || drawn[0].Part != want.part || len(drawn[0].Places) != want.places {
			t.Errorf("%s: %d drawings, want the %s alone: %+v", variant, len(drawn), want.part, drawn)
		}
	}
}
