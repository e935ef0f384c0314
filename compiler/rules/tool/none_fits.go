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
		for _, m := range mismatches.Of(j) {
			told[m.part] = true
		}
		var all []diag.Finding
		var stage *procedure.Stage
		var tools []named
		j.EachStep(func(s *procedure.Step) {
			if s.Stage != stage {
				stage, tools = s.Stage, distinct(toolsOf(stageActs(s.Stage), turningTool))
			}
			turned := turnedBy(s.Acts, firmly()...)
			if len(turned) == 0 || misread(s) || byHand(s) {
				return
			}
			for _, t := range turned {
				if told[t.part] || t.part.Torque.HandTight {
					continue
				}
				n := needOf(j, t.part)
				if len(n.takes) == 0 || len(tools) > 5*crowded || slices.ContainsFunc(tools, func(x named) bool { return !n.ruledOut(x) }) {
					continue
				}
				told[t.part] = true
				if j.Muted(t.part.Name.Value) {
					continue
				}
				all = append(all, diag.Finding{
					At: t.object.At, Step: s.Num(), Thing: t.part.Name.Value,
					Message: fmt.Sprintf("no tool here turns %s, %s: that takes %s", rules.Quote(t.part.Name.Value), t.part.Spec.Value, hardware.Sizes(n.takes)),
					Do:      "name the tool in the step: with the {tool …}" + atHand(j, n),
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
// missing there. without are those findings.
func unturned(j *rules.Job, without []diag.Finding, t *procedure.Tool) bool {
	for _, f := range without {
		for _, p := range j.Proc.Parts {
			if p.Name.Value != f.Thing {
				continue
			}
			for _, c := range t.Choices {
				if n := needOf(j, p); c.Kind.FitsAny(n.takes, n.complete) == hardware.DoesFit {
					return true
				}
			}
		}
	}
	return false
}

// distinct keeps the first tag of each tool.
func distinct(tools []named) []named {
	seen := map[*procedure.Tool]int{} // the choices named, one bit each
	var all []named
	for _, n := range tools {
		if bit := 1 << min(n.act.Choice, 30); seen[n.act.Tool]&bit == 0 {
			seen[n.act.Tool] |= bit
			all = append(all, n)
		}
	}
	return all
}

// atHand names a listed tool that does fit.
func atHand(j *rules.Job, n need) string {
	for _, t := range j.Proc.Tools {
		for _, c := range t.Choices {
			if c.Kind.FitsAny(n.takes, n.complete) == hardware.DoesFit {
				return ", such as the " + c.Name + " of the list"
			}
		}
	}
	return ", and add it to the tools"
}
