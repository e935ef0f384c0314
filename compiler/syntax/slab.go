package syntax

// slab hands out values from pieces of memory that hold many of them: a tree has thousands of small nodes, and they live as long
// as it does. The pieces grow, so that a small file takes little.
type slab[T any] struct {
	free []T
	size int // of the last piece
}

// biggest is how many values a piece of a slab holds at most.
const biggest = 64

// more makes sure that n values are free in a row.
func (s *slab[T]) more(n int) {
	if len(s.free) < n {
		s.size = min(max(8, 2*s.size), biggest)
		s.free = make([]T, max(s.size, n))
	}
}

// one gives a new value.
func (s *slab[T]) one() *T {
	s.more(1)
	p := &s.free[0]
	s.free = s.free[1:]
	return p
}

// keep copies a list; nil when it is empty.
func (s *slab[T]) keep(list []T) []T {
	if len(list) == 0 {
		return nil
	}
	s.more(len(list))
	kept := s.free[:len(list):len(list)]
	copy(kept, list)
	s.free = s.free[len(list):]
	return kept
}
