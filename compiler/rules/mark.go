package rules

// Mark is something that rules ask of each passage, such as whether a sentence of it may be long. It turns on the words of the
// passage, its step and the declarations alone, so that it is looked for once, however often the rest of a procedure changes.
type Mark struct {
	bit uint16
	on  func(*Job, *Passage) bool
}

// marks is how many marks there are. They are complete when the program begins.
var marks int

// NewMark makes a mark from the function that looks for it. It belongs at the head of a package.
func NewMark(on func(*Job, *Passage) bool) *Mark {
	if marks == 16 {
		panic("a passage takes 16 marks")
	}
	marks++
	return &Mark{1 << (marks - 1), on}
}

// On tells whether a passage has the mark.
func (m *Mark) On(j *Job, p *Passage) bool {
	if p.looked&m.bit == 0 {
		p.looked |= m.bit
		if m.on(j, p) {
			p.marked |= m.bit
		}
	}
	return p.marked&m.bit != 0
}
