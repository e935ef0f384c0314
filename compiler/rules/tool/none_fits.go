package tool

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

var noneFits = rules.Rule{
	Name:     "tool/none-fits",
	Severity: diag.Warning,
	Waivable: true,
	Pinned:   true,
	Check: func(j *rules.Job) []diag.Finding {
		if broken(j) {
			return nil
		}
		told := map[*procedure.Part]bool{}
		for _, m := range mismatches(j) {
			told[m.part] = true
		}
		var all []diag.Finding
		j.EachStep(func(s *procedure.Step) {
			if misread(s) || byHand(s) {
				return
			}
			tools := toolsOf(stageActs(s.Stage), turningTool)
			for _, t := range turnedBy(s.Acts, firmly()...) {
				if told[t.part] || t.part.Torque.HandTight || j.Muted(t.part.Name.Value) {
					continue
				}
				takes, _ := fastener(t.part).Takes()
				if len(takes) == 0 || slices.ContainsFunc(tools, func(n named) bool { return mayTurn(n.choice.Kind, t.part) }) {
					continue
				}
				told[t.part] = true
				all = append(all, diag.Finding{
					At: t.object.At, Step: s.Num(), Thing: t.part.Name.Value,
					Message: fmt.Sprintf("no tool here turns %s, %s: that takes %s", rules.Quote(t.part.Name.Value), t.part.Spec.Value, hardware.Sizes(takes)),
					Do:      "name the tool in the step: with the {tool …}" + atHand(j, t.part),
				})
			}
		})
		return rules.Once(all, func(f diag.Finding) string { // one tool that is missing in a step shows at all that it turns
			_, takes, _ := strings.Cut(f.Message, ": that takes")
			return fmt.Sprint(f.Step, takes)
		})
	},
}

// unturned tells whether a finding of a step without a tool is about a fastener that this one turns: it is the tool that is
// missing there.
func unturned(j *rules.Job, t *procedure.Tool) bool {
	for _, f := range noneFits.Check(j) {
		for _, p := range j.Proc.Parts {
			if p.Name.Value != f.Thing {
				continue
			}
			for _, c := range t.Choices {
				if fit, _ := c.Kind.Fits(fastener(p)); fit == hardware.DoesFit {
					return true
				}
			}
		}
	}
	return false
}

func mayTurn(t hardware.Tool, p *procedure.Part) bool {
	fit, _ := t.Fits(fastener(p))
	return fit != hardware.DoesNotFit
}

// atHand names a listed tool that does fit.
func atHand(j *rules.Job, p *procedure.Part) string {
	for _, t := range j.Proc.Tools {
		for _, c := range t.Choices {
			if fit, _ := c.Kind.Fits(fastener(p)); fit == hardware.DoesFit {
				return ", such as the " + c.Name + " of the list"
			}
		}
	}
	return ", and list it"
}
