package torque

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/reference"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// joint is a fastener with a thread, a strength and a torque: what the sums need.
type joint struct {
	part     *procedure.Part
	value    *quantity.Value
	set      float64     // what is set, in N·m
	most     float64     // and what may be set at most
	at       source.Span // of the value: the cell, or the tag where the table has none
	step     int         // of the tag, 0 for the table
	angle    bool        // an angle follows, so the torque is not all
	proof    hardware.Proof
	friction hardware.Friction
}

// joints lists them in the order of the table. A nut is judged by the weaker of itself and its bolt.
var joints = rules.NewFact(func(j *rules.Job) []joint {
	var all []joint
	pairs, tags, put := pairsOf.Of(j), torqueTags.Of(j), applications.Of(j)
	for _, p := range j.Proc.Parts {
		if p.Hardware.Thread == nil || p.Torque.HandTight || p.Torque.BySetting {
			continue
		}
		x := joint{part: p, at: p.Torque.At}
		if p.Torque.Value != nil {
			x.value, x.angle = p.Torque.Value, p.Torque.Angle != nil
		} else if !x.fromTag(tags.of(p)) {
			continue
		}
		partner := pairs.partner(p)
		if low, high := x.value.SI(); high != nil && x.strength(partner) {
			x.most = float(high)
			if x.set = x.most; low != high {
				x.set = x.value.Float()
			}
			x.friction = frictionOf(p, partner, put)
			all = append(all, x)
		}
	}
	return all
})

// frictionOf is the widest range that the row, its partner's row and the supplies leave open: what is at hand may be put on a
// thread whose condition is not stated.
func frictionOf(p, partner *procedure.Part, put applied) hardware.Friction {
	f := p.Hardware.Friction()
	if partner != nil {
		g := partner.Hardware.Friction()
		f.Low, f.High = min(f.Low, g.Low), max(f.High, g.High)
	}
	if len(p.Hardware.Condition) > 0 {
		return f
	}
	for _, c := range []string{"anti-seize", "threadlocker"} {
		if _, used := put.first[c]; used {
			g := (&hardware.Spec{Condition: []string{c}}).Friction()
			f.Low, f.High = min(f.Low, g.Low), max(f.High, g.High)
		}
	}
	return f
}

// torqueTags lists the acts that torque each part, in order.
var torqueTags = rules.NewFact(func(j *rules.Job) tags {
	all, count := make(tags, len(j.Proc.Parts)), make([]int, len(j.Proc.Parts))
	sum := 0
	each := func(visit func(a *procedure.Act, p *procedure.Part)) {
		for _, a := range j.Doing(verb.DoTorque) {
			for i := range a.Objects {
				if p := a.Objects[i].Part; p != nil && !a.Broken {
					visit(a, p)
				}
			}
		}
	}
	each(func(_ *procedure.Act, p *procedure.Part) {
		count[p.Stands]++
		sum++
	})
	acts := make([]*procedure.Act, sum)
	for i, n := range count {
		all[i], acts = acts[:0:n], acts[n:]
	}
	each(func(a *procedure.Act, p *procedure.Part) { all[p.Stands] = append(all[p.Stands], a) })
	return all
})

// tags are acts by the part that they are done to, in the order of the list.
type tags [][]*procedure.Act

func (t tags) of(p *procedure.Part) []*procedure.Act { return t[p.Stands] }

// fromTag takes the value from the last tag that gives one.
func (x *joint) fromTag(acts []*procedure.Act) bool {
	found := false
	for _, a := range acts {
		if a.Torque.Angle != nil {
			x.angle = true
		}
		if a.Torque.Value != nil {
			x.value, x.at, x.step, found = a.Torque.Value, a.Torque.At, a.Step.Number, true
		}
	}
	return found
}

// strength finds the proof load: of the part, and of its partner where that is weaker.
func (x *joint) strength(partner *procedure.Part) bool {
	best, ok := x.part.Hardware.ProofLoad()
	if partner != nil {
		if other, known := partner.Hardware.ProofLoad(); known && (!ok || other.Load < best.Load) {
			best, ok = other, true
		}
	}
	x.proof = best
	return ok
}

// pairs finds the nut of a bolt and the bolt of a nut: they share thread and relations, and one of the two has a torque at most.
type pairs struct {
	keys []string // by part, in the order of the list; empty for one that has none
	kins map[string]*kin
}

// kin is the first fasteners of one thread and one set of relations: [nut or not][with a torque or not].
type kin [2][2]*procedure.Part

var pairsOf = rules.NewFact(func(j *rules.Job) pairs {
	all := pairs{make([]string, len(j.Proc.Parts)), map[string]*kin{}}
	if !slices.ContainsFunc(j.Proc.Parts, nut) {
		return all // then all are alone
	}
	for i, p := range j.Proc.Parts {
		key := kinship(p)
		if key == "" {
			continue
		}
		all.keys[i] = key
		if all.kins[key] == nil {
			all.kins[key] = &kin{}
		}
		if slot := &all.kins[key][index(nut(p))][index(p.Torque.Written)]; *slot == nil {
			*slot = p
		}
	}
	return all
})

func (k pairs) partner(p *procedure.Part) *procedure.Part {
	key := k.keys[p.Stands]
	if key == "" {
		return nil
	}
	group := k.kins[key]
	others := group[1-index(nut(p))]
	if others[0] != nil || p.Torque.Written {
		return others[0]
	}
	return others[1]
}

func index(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// kinship is thread and relations in one word, empty for a part that has not both.
func kinship(p *procedure.Part) string {
	if p.Hardware.Thread == nil || len(p.Places) == 0 {
		return ""
	}
	key := strconv.AppendFloat(make([]byte, 0, 64), p.Hardware.Thread.Diameter, 'f', 2, 64)
	key = strconv.AppendFloat(append(key, ' '), p.Hardware.Thread.PitchMM(), 'f', 3, 64)
	for _, r := range p.Places {
		key = strconv.AppendInt(append(key, "; "...), int64(r.Kind), 10)
		key = append(append(key, ' '), r.Name...)
	}
	return string(key)
}

// nut tells whether a part is a nut by its Spec or its name.
func nut(p *procedure.Part) bool {
	if p.Hardware.Nut != "" {
		return true
	}
	before, is := strings.CutSuffix(procedure.Fold(p.Name.Value), "nut")
	return is && (before == "" || strings.HasSuffix(before, " "))
}

// locking tells whether a part of the torque only turns the nut against its own grip.
func (x joint) locking() bool { return x.part.Hardware.Nut == "nylon insert" }

func float(r *big.Rat) float64 {
	if r == nil {
		return 0
	}
	return quantity.Float(r)
}

func (x joint) diameter() float64 { return x.part.Hardware.Thread.Diameter }

// overProof tells whether even the driest friction of the condition loads the thread beyond its proof load, and with what.
func (x joint) overProof() (least float64, over bool) {
	if x.locking() {
		return 0, false // how much of the torque the nut's own grip takes is not known
	}
	least = hardware.Preload(x.most, x.friction.High, x.diameter())
	return least, least > x.proof.Load
}

// share is the part of the proof load that a torque in N·m gives with the usual friction.
func (x joint) share(torque float64) float64 {
	return hardware.Preload(torque, reference.Limit("usual nut factor"), x.diameter()) / x.proof.Load
}

// otherUnits says in words in which units the same number makes sense where the written one does not: "25 lbf·ft would give
// 50 %". Empty when there is none.
func (x joint) otherUnits() string {
	n := x.value.Nominal
	if x.value.Form == quantity.Range {
		n = x.value.High
	}
	var words []string
	for _, u := range quantity.Units() {
		if u.Kind != quantity.Torque || u == x.value.Unit || n.Rat == nil {
			continue
		}
		v := quantity.Exactly(n, u)
		if s := x.share(v.Float()); s >= reference.Limit("unit right from") && s <= reference.Limit("unit right to") {
			words = append(words, v.Running()+" would give "+percent(s))
		}
	}
	return rules.List(words, "or")
}

// doubtful tells whether the unit is likely wrong, and in which units the number makes sense. A value that stands there in two
// units was thought about twice.
func (x joint) doubtful() (meant string, doubt bool) {
	if x.value.Second != nil || x.angle {
		return "", false
	}
	if s := x.share(x.set); s >= reference.Limit("unit doubtful below") && s <= reference.Limit("unit doubtful above") {
		return "", false
	}
	meant = x.otherUnits()
	return meant, meant != ""
}

// thread names the thread with its strength: "M8 8.8".
func (x joint) thread() string { return x.part.Hardware.Thread.Name + " " + x.proof.Class }

// bears says what the thread bears: "its proof load is 21.2 kN".
func (x joint) bears() string {
	load := hardware.Force(x.proof.Load).Running()
	switch {
	case x.proof.Stainless:
		return "it yields at " + load
	case x.proof.Nut:
		return "the proof load of " + x.proof.Class + ", the strongest bolt for that nut, is " + load
	}
	return "its proof load is " + load
}

// sum writes out a preload: "60 N·m ÷ (0.328 × 8 mm) = 22.9 kN".
func (x joint) sum(torque, k float64) string {
	newton, _ := quantity.UnitNamed("N·m")
	t := quantity.Of(new(big.Rat).SetFloat64(torque), newton, 3)
	return fmt.Sprintf("%s ÷ (%s × %s mm) = %s", t.Running(), number(k), number(x.diameter()),
		hardware.Force(hardware.Preload(torque, k, x.diameter())).Running())
}

// bearing writes out a proof load: "36.6 mm² × 580 MPa = 21.2 kN".
func (x joint) bearing() string {
	return fmt.Sprintf("%.1f mm² × %.0f MPa = %s", x.proof.Area, x.proof.Stress, hardware.Force(x.proof.Load).Running())
}

// number prints a figure with three significant places at most.
func number(f float64) string {
	return strconv.FormatFloat(f, 'g', 3, 64)
}

func percent(share float64) string {
	if share < 0.1 {
		return number(share*100) + " %"
	}
	return strconv.Itoa(int(share*100+0.5)) + " %"
}
