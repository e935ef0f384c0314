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
		step := &procedure.Step{}
		tool := func(name, detail string) *procedure.Act {
			return &procedure.Act{Step: step, Tool: &procedure.Tool{Choices: []procedure.Choice{{Name: name, Kind: hardware.ParseTool(name, detail)}}}}
		}
		act := &procedure.Act{Step: step}
		step.Acts = []*procedure.Act{act, tool("torque wrench", "10–60 N·m, 300 mm"), tool("22 mm crowfoot", detail)}
		if got := dial(act, value); got != want {
			t.Errorf("%q: %q, want %q", detail, got, want)
		}
	}
}
