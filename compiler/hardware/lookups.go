package hardware

import "sync"

// lookups keep what the tables say of one Spec. The same cells stand in many parts tables, which share what was read of them: each
// question is looked up once, when it is first asked. What is given is shared, and nobody may change it.
type lookups struct {
	proof struct {
		once sync.Once
		is   Proof
		ok   bool
	}
	friction struct {
		once sync.Once
		is   Friction
	}
	takes [8]struct { // by what the name of the part tells
		once     sync.Once
		is       []Fitting
		complete bool
	}
}

// ProofLoad gives what the thread bears by the table of strengths; ok is false when thread or strength are not written, not in
// the tables, or there from memory only.
func (s *Spec) ProofLoad() (p Proof, ok bool) {
	if s.known == nil {
		return s.proofLoad()
	}
	k := &s.known.proof
	k.once.Do(func() { k.is, k.ok = s.proofLoad() })
	return k.is, k.ok
}

// Friction gives the range for the condition that the cell states: the widest of all published rows. Stainless steel adds its
// own, several conditions add up to the range of them all.
func (s *Spec) Friction() Friction {
	if s.known == nil {
		return s.frictions()
	}
	k := &s.known.friction
	k.once.Do(func() { k.is = s.frictions() })
	return k.is
}

// Takes looks up the sizes that turn the fastener: by its Spec, else by any standard in the tables; none when its drive is not
// known. complete tells whether nothing else turns it: only then does another size not fit.
func (f Fastener) Takes() (takes []Fitting, complete bool) {
	if !f.Spec.turned() {
		return nil, false
	}
	told := f.told()
	if f.Spec.known == nil {
		return f.Spec.takes(told)
	}
	k := &f.Spec.known.takes[told.index()]
	k.once.Do(func() { k.is, k.complete = f.Spec.takes(told) })
	return k.is, k.complete
}
