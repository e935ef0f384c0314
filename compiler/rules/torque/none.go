package torque

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

var none = rules.Rule{
	Name:     "torque/none",
	Severity: diag.Warning,
	Waivable: true,
	Pinned:   true,
	Check: func(j *rules.Job) []diag.Finding {
		if len(j.Named("part/unknown-place")) > 0 {
			return nil // which nut belongs to which bolt is not known
		}
		last := make([]touch, len(j.Proc.Parts))
		for _, a := range j.StepActs() {
			if a.Broken || !turns(a.Verb.Effect) {
				continue
			}
			for i := range a.Objects {
				if p := a.Objects[i].Part; p != nil && !last[p.Stands].torqued {
					last[p.Stands] = touch{a, &a.Objects[i], a.Verb.Effect == verb.DoTorque}
				}
			}
		}
		var all []diag.Finding
		pairs := pairsOf.Of(j)
		for _, p := range j.Proc.Parts {
			t := last[p.Stands]
			if t.act == nil || t.torqued || p.Hardware.Thread == nil || p.Torque.Written {
				continue
			}
			if partner := pairs.partner(p); partner != nil && partner.Torque.Written || partnerLost(j, p) {
				continue
			}
			f := diag.Finding{At: t.object.At, Step: t.act.Step.Num(), Thing: p.Name.Value, Do: "write a torque in the parts list, or \"hand-tight\" or \"by setting\""}
			switch {
			case t.act.Verb.Effect == verb.Tighten:
				f.Message = fmt.Sprintf("nothing says how tight %s must be", rules.Quote(p.Name.Value))
			case (t.act.Verb.Effect == verb.Install || t.act.Verb.Effect == verb.Replace) && p.Hardware.Strength != "" && p.Use != procedure.Omit:
				f.Message = fmt.Sprintf("%s has the strength %s, and is put in and never tightened", rules.Quote(p.Name.Value), p.Hardware.Strength)
			default:
				continue
			}
			if left(j, p) || saidHow(t.act) || j.Muted(p.Name.Value) {
				continue
			}
			all = append(all, f)
		}
		return all
	},
}

// touch is the last act that turned a fastener.
type touch struct {
	act     *procedure.Act
	object  *procedure.Object
	torqued bool
}

// turns lists the effects that leave a fastener tighter or slacker.
func turns(e verb.Effect) bool {
	switch e {
	case verb.Remove, verb.Install, verb.Replace, verb.Loosen, verb.Tighten, verb.Snug, verb.DoTorque:
		return true
	}
	return false
}

// left tells whether the procedure leaves the part as it is on purpose.
func left(j *rules.Job, p *procedure.Part) bool {
	return slices.ContainsFunc(j.Proc.Leaves, func(a *procedure.Act) bool {
		return slices.ContainsFunc(a.Objects, func(o procedure.Object) bool { return o.Part == p })
	})
}

// howWords are words that say how tight: by hand, by an angle, or with a torque in plain words, which is a finding of its own.
var howWords = []string{
	"hand-tight", "hand tight", "finger-tight", "finger tight", "by hand", "turn", "°", "flat", "until", "so that", "n·m", "nm", "lbf", "ft-lb", "in-lb",
	"snug", "just touches", "gently", "clearance", "play",
}

// saidHow tells whether the act or its sentence says how tight.
func saidHow(a *procedure.Act) bool {
	said := strings.ToLower(a.Detail)
	if a.Step != nil {
		said += " " + strings.ToLower(procedure.RunText(slices.DeleteFunc(slices.Clone(a.Step.Runs), func(r procedure.Run) bool { return r.Act != a && elsewhere(r) })))
	}
	return slices.ContainsFunc(howWords, func(w string) bool { return strings.Contains(said, w) })
}

// partnerLost tells whether a relation that can't be read may be what keeps a bolt from its nut, or a nut from its bolt.
func partnerLost(j *rules.Job, p *procedure.Part) bool {
	return slices.ContainsFunc(j.Named("part/unknown-place"), func(f source.Fault) bool {
		return slices.ContainsFunc(j.Proc.Parts, func(q *procedure.Part) bool {
			return q.Name.Value == f.Thing && q.Torque.Written && nut(p) != nut(q) && q.Hardware.Thread != nil && q.Hardware.Thread.SameAs(*p.Hardware.Thread)
		})
	})
}

// elsewhere tells whether words of a step are a tool, or an act that turns another fastener: they don't say how tight this one is.
func elsewhere(r procedure.Run) bool {
	return r.Act != nil && (r.Act.Verb.Effect == verb.UseTool || turns(r.Act.Verb.Effect))
}
