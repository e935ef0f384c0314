package rules

// Finder looks for many phrases in one pass over a text. It is made for a first look that saves a slow second one: capitals
// count as small letters, a hyphen and the end of a line as a space, so that it may find more than stands there, never less.
type Finder struct {
	class [256]byte // of a byte: 0 for all that stand in no phrase
	width int       // number of classes
	next  []uint32  // where a state goes: by its place, which is its number × width, and the class; each is a place
	first uint32    // from here on a phrase ends at the state
	ends  []uint64  // by state - first: the groups of the phrases that end there
}

// NewFinder makes a finder from at most 64 groups of phrases. It reports groups: bit 0 stands for the first one.
func NewFinder(groups ...[]string) *Finder {
	f := &Finder{width: 1}
	for _, g := range groups {
		for _, phrase := range g {
			for i := range len(phrase) {
				if c := plainByte(phrase[i]); f.class[c] == 0 {
					f.class[c] = byte(f.width)
					f.width++
				}
			}
		}
	}
	for c := range 256 {
		f.class[c] = f.class[plainByte(byte(c))]
	}
	t := &trie{f: f, next: make([]uint16, f.width), ends: make([]uint64, 1)}
	for k, g := range groups {
		for _, phrase := range g {
			t.add(phrase, 1<<k)
		}
	}
	t.link()
	t.endsLast()
	return f
}

// plainByte is the byte that stands for another: small for a capital, a space for a hyphen and for the end of a line.
func plainByte(c byte) byte {
	switch {
	case 'A' <= c && c <= 'Z':
		return c + 'a' - 'A'
	case c == '-' || c == '\n' || c == '\r' || c == '\t':
		return ' '
	}
	return c
}

// In gives the groups that have a phrase in the text.
func (f *Finder) In(text []byte) (groups uint64) { return in(f, text) }

// InText is In for a string.
func (f *Finder) InText(text string) (groups uint64) { return in(f, text) }

func in[T string | []byte](f *Finder, text T) (groups uint64) {
	at, next, first := uint32(0), f.next, f.first
	for i := range len(text) {
		at = next[at+uint32(f.class[text[i]])]
		if at >= first {
			groups |= f.ends[int(at-first)/f.width]
		}
	}
	return groups
}

// trie is a finder in the making: the states of Aho and Corasick's matcher.
type trie struct {
	f    *Finder
	next []uint16
	ends []uint64 // by state
}

func (t *trie) add(phrase string, bit uint64) {
	state := 0
	for i := range len(phrase) {
		at := state*t.f.width + int(t.f.class[phrase[i]])
		if t.next[at] == 0 {
			t.next[at] = uint16(len(t.ends))
			t.ends = append(t.ends, 0)
			t.next = append(t.next, make([]uint16, t.f.width)...)
		}
		state = int(t.next[at])
	}
	t.ends[state] |= bit
}

// link fills in where each state goes with a byte that does not carry its phrase on.
func (t *trie) link() {
	width := t.f.width
	back := make([]int, len(t.ends)) // the state of the longest end of what was read that begins a phrase
	var queue []int
	for c := range width {
		if s := int(t.next[c]); s > 0 {
			queue = append(queue, s)
		}
	}
	for len(queue) > 0 {
		s := queue[0]
		queue = queue[1:]
		t.ends[s] |= t.ends[back[s]]
		for c := range width {
			to, otherwise := &t.next[s*width+c], t.next[back[s]*width+c]
			if *to == 0 {
				*to = otherwise
				continue
			}
			back[*to] = int(otherwise)
			queue = append(queue, int(*to))
		}
	}
}

// endsLast puts the states at which a phrase ends behind all others, so that one comparison tells them.
func (t *trie) endsLast() {
	f := t.f
	place, n := make([]int, len(t.ends)), 0
	for _, last := range []bool{false, true} {
		if last {
			f.first = uint32(n * f.width)
		}
		for s, groups := range t.ends {
			if (groups != 0) == last {
				place[s] = n
				n++
				if last {
					f.ends = append(f.ends, groups)
				}
			}
		}
	}
	f.next = make([]uint32, len(t.next))
	for s := range t.ends {
		for c := range f.width {
			f.next[place[s]*f.width+c] = uint32(place[t.next[s*f.width+c]] * f.width)
		}
	}
}
