package rules

import "refitcard/compiler/procedure"

// Parts is a set of declared parts.
type Parts struct{ has []bool } // by where a part stands in the list

// NoParts makes a set for the parts of a job.
func (j *Job) NoParts() Parts { return Parts{make([]bool, len(j.Proc.Parts))} }

// Add puts a part into the set.
func (s Parts) Add(p *procedure.Part) { s.has[p.Stands] = true }

// Drop takes it out.
func (s Parts) Drop(p *procedure.Part) { s.has[p.Stands] = false }

// Has tells whether a part stands in the set; nil stands in none.
func (s Parts) Has(p *procedure.Part) bool { return p != nil && s.has[p.Stands] }
