package refit

import (
	"fmt"
	"math/big"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

var notFilled = rules.Rule{
	Name:     "refit/not-filled",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		all := j.Word("refit/not-filled", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " is drained and never filled again"
			x.Do = "add {fill the " + f.Words[0] + "}, or list \"drain " + f.Words[0] + "\" under \"leaves\""
		})
		for _, s := range j.Proc.Supplies {
			if f, short := filledShort(j, s); short {
				all = append(all, f)
			}
		}
		return all
	},
}

// enough is the share of what was drained that has to go back: figures are rounded, and a film stays in the casing.
const enough = 0.95

// filledShort finds a fluid of which clearly less goes in than came out. All that the steps fill or top up counts, also what
// only some jobs need.
func filledShort(j *rules.Job, s *procedure.Supply) (f diag.Finding, short bool) {
	if j.Proc.Each.Count > 1 || j.Muted(s.Name.Value) {
		return f, false
	}
	var out *quantity.Value
	var fills []*procedure.Act
	drains := 0
	for _, a := range j.Doing(verb.Drain) {
		if !only(a, s) {
			continue
		}
		drains++
		if out = s.Drains; a.Amount != nil {
			out = a.Amount
		}
	}
	if drains != 1 || out == nil || out.Unit == nil || out.Unit.Kind != quantity.Volume {
		return f, false
	}
	in := new(big.Rat)
	for _, a := range j.StepActs() {
		if a.Verb.Effect != verb.Fill && a.Verb.Effect != verb.TopUp || !only(a, s) {
			continue
		}
		fills = append(fills, a)
		if a.Amount == nil || a.Broken {
			return f, false // what the list has left
		}
		_, most := a.Amount.SI()
		if most == nil || a.Amount.Unit == nil || a.Amount.Unit.Kind != quantity.Volume {
			return f, false
		}
		in.Add(in, most)
	}
	if len(fills) == 0 {
		return f, false
	}
	least, _ := out.SI()
	if least == nil {
		return f, false
	}
	want, _ := least.Float64()
	if got, _ := in.Float64(); got >= enough*want {
		return f, false
	}
	f = diag.Finding{
		At: fills[0].At, Step: fills[0].Step.Num(), Thing: s.Name.Value, Severity: diag.Warning,
		Message: fmt.Sprintf("%s of %s come out, and only %s go in again", out.Running(), rules.Quote(s.Name.Value), quantity.Of(in, out.Unit, 2).Running()),
		Why:     "A casing that is short of oil runs hot, and looks full from outside.",
		Do:      "correct the amount, or the one that is drained",
	}
	if s.Drains != nil {
		f.Related = []source.Related{{At: s.At, Words: "listed"}}
	}
	return f, true
}

// only tells whether an act is done to a supply and nothing else.
func only(a *procedure.Act, s *procedure.Supply) bool {
	return len(a.Objects) == 1 && a.Objects[0].Supply == s
}
