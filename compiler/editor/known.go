package editor

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"refitcard/compiler"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

func families() []rules.Family { return compiler.Families() }

// torqueWords says how tight a part is made, as its row says it.
func torqueWords(p *procedure.Part) string {
	t := p.Torque
	switch {
	case !t.Written:
		if p.Fastener() {
			return "none written: by feel"
		}
		return ""
	case t.HandTight:
		return "hand-tight"
	case t.Value == nil:
		return "by setting"
	case t.Angle != nil:
		return t.Value.Running() + ", then " + t.Angle.Running()
	}
	return t.Value.Running()
}

// loadWords says what the torque does to the thread: the preload between the most slippery and the driest nut factor published for its
// condition, and its share of the proof load. Empty where the tables lack what that needs.
func loadWords(p *procedure.Part) string {
	t, spec := p.Torque, p.Hardware
	if t.Value == nil || t.Angle != nil || spec.Thread == nil {
		return ""
	}
	friction := spec.Friction()
	if friction.Low <= 0 || friction.High <= 0 || spec.Thread.Diameter <= 0 {
		return ""
	}
	torque := newtonMetres(t.Value.Middle())
	if torque <= 0 {
		return ""
	}
	least := hardware.Preload(torque, friction.High, spec.Thread.Diameter)
	most := hardware.Preload(torque, friction.Low, spec.Thread.Diameter)
	words := fmt.Sprintf("%s to %s", hardware.Force(least).Running(), hardware.Force(most).Running())
	if proof, ok := spec.ProofLoad(); ok {
		of := "proof load of " + proof.Class
		if proof.Stainless {
			of = "0.2 % limit of " + proof.Class
		}
		words += fmt.Sprintf(", %.0f to %.0f %% of the %s (%s)", 100*least/proof.Load, 100*most/proof.Load, of, hardware.Force(proof.Load).Running())
	}
	return words + fmt.Sprintf(", nut factor %.2f to %.2f, %s", friction.Low, friction.High, friction.Condition)
}

func newtonMetres(r *big.Rat) float64 {
	if r == nil {
		return 0
	}
	f, _ := r.Float64()
	return f
}

// turnedBy lists the sizes that turn a fastener, with the standards that say so.
func turnedBy(p *procedure.Part) string {
	if !p.Fastener() {
		return ""
	}
	takes, _ := hardware.Fastener{Name: p.Name.Value, Spec: p.Hardware}.Takes()
	return escaped(hardware.Sizes(takes))
}

// turnedWith lists the fasteners of the procedure that a tool is sure to turn.
func (v *View) turnedWith(c procedure.Choice) string {
	var names []string
	for _, p := range v.Result.Proc.Parts {
		if p.Fastener() && fit(c, p) == hardware.DoesFit && !slices.Contains(names, p.Name.Value) {
			names = append(names, p.Name.Value)
		}
	}
	return strings.Join(names, ", ")
}

func fit(c procedure.Choice, p *procedure.Part) hardware.Fit {
	f, _ := c.Kind.Fits(hardware.Fastener{Name: p.Name.Value, Spec: p.Hardware})
	return f
}

// verbAt tells of the verb at an offset what it does.
func (v *View) verbAt(offset int) (source.Span, string) {
	t := v.tagAt(offset)
	if t == nil || t.Verb == nil || !v.at(t.VerbAt, offset) {
		return source.Span{}, ""
	}
	return t.VerbAt, verbWords(t.Verb, v.Result.Settings.Verbs)
}

// verbWords tells of a verb what it does, how else it is spelt, and what undoes it.
func verbWords(x *verb.Verb, table *verb.Table) string {
	undone, undoes := strings.Join(x.UndoneBy, ", "), ""
	if o := table.Opens(x); o != nil {
		undoes = o.Name
	}
	does, example := x.About()
	return rows("**"+x.Name+"** "+does,
		"also written", strings.Join(x.Also, ", "),
		"takes", taken(x.Takes),
		"undone by", undone,
		"undoes", undoes,
		"example", quoted(example),
	)
}

// quoted sets a tag off from the words around it.
func quoted(tag string) string {
	if tag == "" {
		return ""
	}
	return "`" + tag + "`"
}

// taken says what stands behind a verb.
func taken(t verb.Takes) string {
	switch t {
	case verb.Parts, verb.Part:
		return "declared parts"
	case verb.Torque:
		return "declared parts, then a torque, an angle, an order, passes"
	case verb.Fluids, verb.Supply:
		return "a declared supply, with a quantity before it if it matters"
	case verb.Anything, verb.OneThing:
		return "declared things, or others in free words"
	case verb.Duration:
		return "a time, such as 10 min"
	case verb.Measure:
		return "what is measured, its limits, what to do outside them"
	case verb.Limit:
		return "what has to be so, perhaps with a limit"
	case verb.Tool:
		return "a declared tool"
	case verb.Nothing:
		return "nothing"
	case verb.Variants:
		return "variants"
	case verb.Repeat:
		return `"3 times", or "until …"`
	case verb.Waive:
		return "the name of a check, a colon and the reason"
	case verb.Word:
		return "one word"
	case verb.Path:
		return "the path of a file"
	}
	return "free words"
}
