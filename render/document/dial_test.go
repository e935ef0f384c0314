package document

import (
	"testing"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
)

// The setting is worked out along the wrench: a crowfoot at a right angle changes nothing, one in line the most.
func TestDialFollowsTheAngleOfTheAdapter(t *testing.T) {
	value, problem := quantity.Parse("40 N·m")
	if problem != nil {
		t.Fatal(problem)
	}
	for detail, want := range map[string]string{
		"100 mm":         "dial 30.0", // 40 × 300 / 400, as in US Army TM 9-2350-261-20-1: 40, 12 in, 4 in
		"100 mm, at 90°": "",
		"100 mm, at 60°": "dial 34.3", // 40 × 300 / 350
		"":               "",
	} {
		step := &procedure.Step{Terms: procedure.NoTerms}
		tool := func(name, detail string) *procedure.Act {
			return &procedure.Act{Values: procedure.NoValues, Step: step, Tool: &procedure.Tool{Choices: []procedure.Choice{{Name: name, Kind: hardware.ParseTool(name, detail)}}}}
		}
		act := &procedure.Act{Values: procedure.NoValues, Step: step}
		step.Acts = []*procedure.Act{act, tool("torque wrench", "10–60 N·m, 300 mm"), tool("22 mm crowfoot", detail)}
		if got := dial(act, value); got != want {
			t.Errorf("%q: %q, want %q", detail, got, want)
		}
	}
}

// Several fasteners under a range are all set to its middle; one is not told what to choose, nor what has one value or a tolerance.
func TestSeveralAreSetToTheMiddle(t *testing.T) {
	for _, c := range []struct {
		torque, want string
		n            int
	}{
		{"20..24 N·m", "set 22", 4},
		{"20..25 N·m", "set 22.5", 2},
		{"21..27 lbf·ft", "set 24", 4},
		{"0.85..1.2 N·m", "set 1.03", 4}, // 1.025, to two places
		{"20..24 N·m", "", 1},
		{"22 N·m", "", 4},
		{"22 ±2 N·m", "", 4},
	} {
		value, problem := quantity.Parse(c.torque)
		if problem != nil {
			t.Fatal(problem)
		}
		act := &procedure.Act{Values: procedure.NoValues, Objects: []procedure.Object{{Part: &procedure.Part{Qty: c.n}}}}
		if got := middle(act, value); got != c.want {
			t.Errorf("%d of %s: %q, want %q", c.n, c.torque, got, c.want)
		}
	}
}
