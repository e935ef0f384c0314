package procedure

// EachStep visits the steps of all stages in order, sub-steps behind their parents.
func (p *Procedure) EachStep(visit func(*Step)) {
	for _, s := range p.Stages {
		s.EachStep(visit)
	}
}

// EachStep visits the steps of the stage in order, sub-steps behind their parents.
func (s *Stage) EachStep(visit func(*Step)) {
	eachStep(s.Steps, visit)
}

func eachStep(steps []*Step, visit func(*Step)) {
	for _, s := range steps {
		visit(s)
		eachStep(s.Steps, visit)
	}
}

// Figures lists the figures of the procedure, in the order in which they stand in it.
func (p *Procedure) Figures() []*Figure {
	var all []*Figure
	take := func(list []Remark) {
		for _, m := range list {
			if m.Figure != nil {
				all = append(all, m.Figure)
			}
		}
	}
	take(p.Intro)
	for _, stage := range p.Stages {
		stage.EachStep(func(s *Step) {
			take(s.Before)
			take(s.Notes)
		})
		take(stage.Tail)
	}
	return all
}
