package hardware

import (
	"math"

	"refitcard/compiler/reference"
)

// Guide is what a screw may be tightened to where its maker says nothing.
type Guide struct {
	Mu      float64 // coefficient of friction in the thread and under the head
	Preload float64 // N
	Torque  float64 // N·m
}

// guided is the share of the 0.2 % limit that tension and twist together take up at the guide value (VDI 2230 sheet 1).
const guided = 0.9

// Guides gives preload and torque at each coefficient of friction for a hexagon or socket head on steel, by VDI 2230 sheet 1:
//
//	F = 0.9 × R × A / √(1 + 3 × (3/2 × d2/d0 × (P/(π × d2) + 1.155 × µ))²)
//	T = F × (0.16 × P + 0.58 × d2 × µ + Dk/2 × µ)
//
// R is the least 0.2 % limit, A the stress area with d0 its diameter, Dk the mean diameter of the face under the head: half-way
// between the width across flats and the clearance hole, both close to 1.5 d and 1.1 d. The list is empty without a metric
// thread and a strength of a bolt that the tables have.
func (s *Spec) Guides(mus ...float64) []Guide {
	p, ok := s.ProofLoad()
	if !ok || p.Nut || p.Stainless || s.Thread.Inch {
		return nil
	}
	limit := 0.0
	for _, r := range reference.Strengths() {
		if r.Name == p.Class && r.Sure && s.Thread.Diameter > r.Over && (r.To == 0 || s.Thread.Diameter <= r.To) {
			limit = r.Yield
		}
	}
	if limit == 0 {
		return nil
	}
	d, pitch := s.Thread.Diameter, s.Thread.PitchMM()
	d2 := d - 0.75*math.Sqrt(3)/2*pitch
	d0 := math.Sqrt(4 * p.Area / math.Pi)
	under := (underHead*d + throughHole*d) / 2
	var all []Guide
	for _, mu := range mus {
		twist := 1.5 * d2 / d0 * (pitch/(math.Pi*d2) + 1.155*mu)
		force := guided * limit * p.Area / math.Sqrt(1+3*twist*twist)
		all = append(all, Guide{mu, force, force * (0.16*pitch + 0.58*d2*mu + under/2*mu) / 1000})
	}
	return all
}

// The face under a head, outer and inner diameter as multiples of the thread's: common practice for hexagon and socket heads;
// the guide tables agree within 3 %.
const (
	underHead   = 1.5
	throughHole = 1.1
)
