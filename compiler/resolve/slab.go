package resolve

// slab hands out values of one kind from pieces of memory that hold many. A procedure has hundreds of small values that live
// as long as it does: had one by one, each would cost more than what stands in it.
type slab[T any] struct {
	free []T
	size int // of the last piece
}

const (
	leastPiece = 4
	mostPiece  = 64
)

// expect makes room for as many values as there will most likely be.
func (s *slab[T]) expect(n int) {
	if n > len(s.free) {
		s.free, s.size = make([]T, n), n/8
	}
}

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
	s.size = max(n, min(max(s.size+s.size/2, leastPiece), mostPiece))
	s.free = make([]T, s.size)
}

// one gives a zero value.
func (s *slab[T]) one() *T { return &s.take(1)[0] }

// begin gives an empty list that may be filled up to its end; it has to be ended before another one is begun. A slab of lists
// that are filled serves for nothing else: one that grew too long leaves behind what stood in it.
func (s *slab[T]) begin() []T {
	if len(s.free) < leastPiece {
		s.more(2 * leastPiece)
	}
	return s.free[:0]
}

// end gives a list that was begun and filled, or one that was ended before and grew; nil when nothing stands in it.
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
