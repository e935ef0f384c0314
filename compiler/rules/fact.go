package rules

// Fact is something about a job that several rules ask for: it is worked out once a job, when the first of them asks.
type Fact[T any] struct{ work func(*Job) T }

// NewFact makes a fact from the function that works it out. Rules only read what it gives.
func NewFact[T any](work func(*Job) T) *Fact[T] { return &Fact[T]{work} }

// Of gives the fact about a job.
func (f *Fact[T]) Of(j *Job) T {
	if known, ok := j.facts[f]; ok {
		return known.(T)
	}
	if j.facts == nil {
		j.facts = map[any]any{}
	}
	found := f.work(j)
	j.facts[f] = found
	return found
}
