package document

import (
	"testing"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// A supply or a tool that an act only names has to be at hand at that step; a part that it only names stays where it is.
func TestFirstUseOfWhatAnActOnlyNames(t *testing.T) {
	grease, gauge, cover := &procedure.Supply{}, &procedure.Tool{}, &procedure.Part{}
	names := []procedure.Object{{Supply: grease}, {Tool: gauge}, {Part: cover}}
	act := func(mentions []procedure.Object) *procedure.Act {
		return &procedure.Act{Verb: &verb.Verb{Name: "install"}, Objects: []procedure.Object{{Name: "seat"}}, Values: &procedure.Values{Mentions: mentions}}
	}
	p := &procedure.Procedure{Stages: []*procedure.Stage{{Steps: []*procedure.Step{
		{Number: 1, Terms: procedure.NoTerms, Acts: []*procedure.Act{act(nil)}},
		{Number: 2, Terms: procedure.NoTerms, Acts: []*procedure.Act{act(names)}},
		{Number: 3, Terms: procedure.NoTerms, Acts: []*procedure.Act{act(names)}},
	}}}}
	first := firstUses(PickInput{Proc: p})
	if first[grease] != "2" || first[gauge] != "2" {
		t.Errorf("grease first at %q, gauge at %q; both are named first in step 2", first[grease], first[gauge])
	}
	if at, ok := first[cover]; ok {
		t.Errorf("the cover is put on at %q, but it is only named", at)
	}
}
