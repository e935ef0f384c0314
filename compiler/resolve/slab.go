package resolve

// slab hands out values of one kind from pieces of memory that hold many. A procedure has hundreds of small values that live
// as long as it does: had one by one, each would cost more than what stands in it.
type slab[T any] struct {
	free []T
	size int // of the last piece
}

const (
	leastPiece = 16
	mostPiece  = 64
)

// take gives n zero values that nobody else has.
func (s *slab[T]) take(n int) []T {
	if n > len(s.free) {
		s.more(n)
	}
	all := s.free[:n:n]
	s.free = s.free[n:]
	return all
}

// more has a new piece for n values at least.
func (s *slab[T]) more(n int) {
	s.size = max(n, min(max(s.size+s.size/4, leastPiece), mostPiece))
	s.free = make([]T, s.size)
}

// one gives a zero value.
func (s *slab[T]) one() *T { return &s.take(1)[0] }

// keep gives a list of its own for values that stand in a list that is used again; nil for none.
func (s *slab[T]) keep(list []T) []T {
	if len(list) == 0 {
		return nil
	}
	all := s.take(len(list))
	copy(all, list)
	return all
}

// begin gives an empty list that may be filled up to its end; it has to be ended before another one is begun.
func (s *slab[T]) begin() []T {
	if len(s.free) < leastPiece/4 {
		s.more(0)
	}
	return s.free[:0]
}

// end gives a list that was begun and filled; nil when nothing stands in it.
func (s *slab[T]) end(list []T) []T {
	n := len(list)
	switch {
	case n == 0:
		return nil
	case cap(list) == cap(s.free): // it is where it began
		s.free = s.free[n:]
	}
	return list[:n:n]
}

// spare keeps lists that are used again: one is filled while another is still being filled.
type spare[T any] struct{ lists [][]T }

func (s *spare[T]) take() []T {
	n := len(s.lists)
	if n == 0 {
		return make([]T, 0, leastPiece)
	}
	list := s.lists[n-1]
	s.lists = s.lists[:n-1]
	return list
}

func (s *spare[T]) back(list []T) {
	if cap(list) > 0 {
		s.lists = append(s.lists, list[:0])
	}
}
