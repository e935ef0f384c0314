package hardware

import (
	"math"
	"math/big"
	"strings"

	"refitcard/compiler/quantity"
	"refitcard/compiler/reference"
)

// strengthPrefix reads 8.8, A2-70, grade 5, class 8 and gives the length.
func strengthPrefix(s string) int {
	if s != "" && isDigit(s[0]) {
		for _, known := range reference.Strengths() {
			if w := known.Name; strings.HasPrefix(s, w) && known.Standard == "ISO 898-1" && ends(s[len(w):]) {
				return len(w)
			}
		}
		return 0
	}
	if len(s) >= 4 && (s[0] == 'A' || s[0] == 'F' || s[0] == 'C') && isDigit(s[1]) && s[2] == '-' {
		n := 3
		for n < len(s) && isDigit(s[n]) {
			n++
		}
		if n > 3 && ends(s[n:]) {
			return n
		}
	}
	for _, w := range []string{"grade ", "class "} {
		if len(s) > len(w) && s[0]|0x20 == w[0] && strings.EqualFold(s[:len(w)], w) {
			n := len(w)
			for n < len(s) && (isDigit(s[n]) || s[n] == '.' && n+1 < len(s) && isDigit(s[n+1])) {
				n++
			}
			if n > len(w) {
				return n
			}
		}
	}
	return 0
}

// Proof is what a thread of a strength bears.
type Proof struct {
	Class     string  // of the bolt: "8.8"
	Nut       bool    // the strength is a nut's, and Class that of the strongest bolt that goes with it
	Stainless bool    // there is no proof load: Stress is the 0.2 % limit, the load at which it yields
	Area      float64 // tensile stress area, mm²
	Stress    float64 // MPa
	Load      float64 // Area × Stress, N
}

func (s *Spec) proofLoad() (p Proof, ok bool) {
	if s.Thread == nil || s.Strength == "" {
		return Proof{}, false
	}
	p = Proof{Class: strings.ToLower(s.Strength), Area: s.Thread.Area()}
	if number, is := strings.CutPrefix(p.Class, "class "); is {
		p.Class = number
		if !strings.Contains(number, ".") {
			p.Class, p.Nut = reference.NutPartner("class "+number), true
		}
	} else if number, is := strings.CutPrefix(p.Class, "grade "); is && strings.Contains(number, ".") && !s.Thread.Inch {
		p.Class = number // "grade 8.8" is said for class 8.8
	}
	for _, r := range reference.Strengths() {
		if !strings.EqualFold(r.Name, p.Class) || !r.Sure || s.Thread.Diameter <= r.Over || r.To > 0 && s.Thread.Diameter > r.To {
			continue
		}
		if r.Standard == "SAE J429" && !s.Thread.Inch {
			continue // a grade of titanium, or a slip: there are no metric bolts by that standard
		}
		p.Class, p.Stainless, p.Stress = r.Name, r.Stainless, r.Proof
		p.Load = p.Area * p.Stress
		return p, p.Area > 0
	}
	return Proof{}, false
}

// Area is the tensile stress area in mm²: the circle through the mean of pitch and minor diameter. Metric threads by ISO 898-1,
// π/4 × ((d2 + d3)/2)² with d2 = d − 3/4 H, d3 = d − 17/12 H and H = √3/2 × P; unified threads by ASME B1.1, d − 9√3/16 × P in
// place of the mean. 0 when the pitch is not known.
func (t Thread) Area() float64 {
	p := t.PitchMM()
	if p == 0 {
		return 0
	}
	h := math.Sqrt(3) / 2 * p
	mean := t.Diameter - (3.0/4+17.0/12)/2*h
	if t.Inch {
		mean = t.Diameter - 9*math.Sqrt(3)/16*p
	}
	return math.Pi / 4 * mean * mean
}

// PitchMM is the pitch in mm; where none is written that of the coarse thread, 0 when the tables have none.
func (t Thread) PitchMM() float64 {
	if t.Pitch > 0 {
		return t.Pitch
	}
	for _, r := range reference.Threads() {
		if !r.Inch && r.Series == "coarse" && near(r.Diameter, t.Diameter) {
			return r.Pitch
		}
	}
	return 0
}

func near(a, b float64) bool { return math.Abs(a-b) < 0.005 }

// Friction is the range of the nut factor K of T = K × F × d, from the most slippery to the driest.
type Friction struct {
	Condition string // as the message says it: "oiled", "with no condition stated"
	Low, High float64
}

func (s *Spec) frictions() Friction {
	f := Friction{Condition: strings.Join(s.Condition, ", ")}
	wanted := append([]string{}, s.Condition...)
	if p, ok := s.ProofLoad(); ok && p.Stainless || strings.HasPrefix(s.Strength, "A") {
		wanted = append(wanted, "stainless")
		f.Condition = strings.TrimSuffix("stainless, "+f.Condition, ", ")
	}
	if len(wanted) == 0 {
		wanted, f.Condition = []string{"not stated"}, "with no condition stated"
	}
	for _, r := range reference.Frictions() {
		for _, w := range wanted {
			if r.Condition != w {
				continue
			}
			if f.Low == 0 || r.Low < f.Low {
				f.Low = r.Low
			}
			f.High = max(f.High, r.High)
		}
	}
	return f
}

// Preload is the force in N that a torque in N·m gives a thread: T / (K × d), d in mm.
func Preload(torque, k, diameter float64) float64 { return torque / (k * diameter / 1000) }

// TorqueFor is the torque in N·m for a force in N: K × F × d.
func TorqueFor(force, k, diameter float64) float64 { return k * force * diameter / 1000 }

// Setting is what to dial on a torque wrench with an adapter: T × L / (L + E × cos a). L reaches from the centre of the grip to
// the centre of the drive, E from there to the centre of the fastener, a is the angle between the two: 0 in line, 90° no change,
// 180° pointing back (US Army TM 1-1500-204-23-9 figures 8-16 and 8-17, TM 9-254 figure 4-6; AC 43.13-1B par. 7-40 h). The unit
// is that of the torque; both lengths are in one unit.
func Setting(torque, wrench, adapter, degrees float64) float64 {
	return torque * wrench / (wrench + adapter*math.Cos(degrees*math.Pi/180))
}

// WorkingFrom is the least torque that a wrench of a capacity is used for, in the unit of the capacity (US Army
// TM 1-1500-204-23-9 table 8-1; ISO 6789:2003 checks a wrench from there).
func WorkingFrom(capacity float64) float64 { return capacity * reference.Limit("wrench from") }

// Force makes a quantity of a force in N, printed in kN with three figures.
func Force(newtons float64) quantity.Value {
	kilo, _ := quantity.UnitNamed("kN")
	return quantity.Of(new(big.Rat).SetFloat64(newtons), kilo, 3)
}

// Grip says in words below which torque a locking nut of the thread is not used again, by every source that has it: "8 lbf·in running
// (FAA AC 43.13-1B Table 7-2)". Empty when none has.
func (t Thread) Grip() string {
	var words []string
	for _, n := range reference.LockingNuts() {
		if t.Inch && near(n.Diameter, t.Diameter) && near(n.Pitch, t.PitchMM()) {
			words = append(words, n.Least+" lbf·in "+n.Kind+" ("+n.Source+")")
		}
	}
	return strings.Join(words, ", ")
}
