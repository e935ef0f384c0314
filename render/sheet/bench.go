package sheet

// slab hands out pieces of a large slice, so that many small things take few allocations.
type slab[T any] struct {
	room  []T
	least int // how much is taken at a time; 0: what is asked for
}

// take gives an empty slice with room for n.
func (s *slab[T]) take(n int) []T {
	from := len(s.room)
	if n > cap(s.room)-from {
		size := n
		if s.least > 0 {
			size = max(n, s.least, 2*cap(s.room))
		}
		s.room, from = make([]T, 0, size), 0
	}
	s.room = s.room[:from+n]
	return s.room[from : from : from+n]
}

// clear takes back what was handed out.
func (s *slab[T]) clear() {
	clear(s.room)
	s.room = s.room[:0]
}

// bench is the room in which a card is laid out. It goes from card to card: it is larger than what comes of it, and nothing that
// comes of it points there.
type bench struct {
	set          *setter
	drawn, trial pager // of the size that is drawn, and of those that are only measured
}

// benches are those at rest: never more than cards were laid out at the same time. A sync.Pool would lose them whenever garbage is
// collected.
var benches = make(chan *bench, 16)

func getBench() *bench {
	select {
	case b := <-benches:
		return b
	default:
		b := &bench{set: newSetter()}
		b.drawn.said.least, b.trial.said.least = 32, 32
		return b
	}
}

// rest forgets the card.
func (b *bench) rest() {
	b.set.forget()
	b.drawn.clear()
	b.trial.clear()
	select {
	case benches <- b:
	default:
	}
}

// clear forgets the pieces.
func (p *pager) clear() {
	clear(p.ps[:cap(p.ps)])
	p.ps = p.ps[:0]
	p.said.clear()
}
