package rules

// Fact is something about a job that several rules ask for: it is worked out once a job, when the first of them asks.
type Fact[T any] struct {
	number int // among all facts
	work   func(*Job) T
}

// facts is how many facts there are. They are complete when the program begins.
var facts int

// NewFact makes a fact from the function that works it out. Rules only read what it gives. It belongs at the head of a package.
func NewFact[T any](work func(*Job) T) *Fact[T] {
	facts++
	return &Fact[T]{facts - 1, work}
}

// Of gives the fact about a job.
func (f *Fact[T]) Of(j *Job) T {
	if j.facts == nil {
		j.facts = make([]any, facts)
	}
	if known, ok := j.facts[f.number].(T); ok {
		return known
	}
	found := f.work(j)
	j.facts[f.number] = found
	return found
}
