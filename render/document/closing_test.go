package document

import (
	"testing"

	"refitcard/compiler/assembly"
	"refitcard/compiler/procedure"
)

func TestHandoverCountsThingsAsTheyWereTyped(t *testing.T) {
	state := assembly.State{
		Off: []assembly.Counted{{Name: "cover bolt", N: 12, Part: &procedure.Part{}}, {Name: "gate pins", N: 2}, {Name: "fuse", N: 2}, {Name: "lens", N: 1}},
		Open: []assembly.Counted{
			{Name: "hydraulic press", N: 2, Why: "open"},
			{Name: "lens", N: 2, Part: &procedure.Part{}, Why: "open"},
		},
	}
	lines := stateLines(state)
	if got, want := lines[0].Words, "12 cover bolts, 2 gate pins, 2 fuses, 1 lens"; got != want {
		t.Errorf("off: %q, want %q", got, want)
	}
	if got, want := lines[1].Words, "2 hydraulic presses (opened), 2 lenses (opened)"; got != want {
		t.Errorf("open: %q, want %q", got, want)
	}
	if got := lines[2].Words; got != "none" {
		t.Errorf("loose: %q", got)
	}
}
