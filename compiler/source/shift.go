package source

import (
	"bytes"
	"slices"
)

// Shift tells how text has moved in a file that was edited: what stood at From or behind it stands By bytes further on, or back.
type Shift struct {
	File     *File
	From, By int
}

// Span moves a span. One that ends behind From and begins before it grows.
func (s Shift) Span(at *Span) {
	if at.File != s.File {
		return
	}
	if at.Start >= s.From {
		at.Start += s.By
		at.End += s.By
	} else if at.End > s.From {
		at.End += s.By
	}
}

// Fault moves all places of a fault. Copies of it that were made before stay as they are.
func (s Shift) Fault(f *Fault) {
	s.Span(&f.At)
	f.Related = slices.Clone(f.Related)
	for i := range f.Related {
		s.Span(&f.Related[i].At)
	}
}

// Edit is the piece in which an earlier and a later text differ: bytes From to Was of the one became bytes From to Now of the other.
type Edit struct{ From, Was, Now int }

// Difference finds the piece in which two texts differ.
func Difference(was, now []byte) Edit {
	short := min(len(was), len(now))
	from := 0
	for from+stride <= short && bytes.Equal(was[from:from+stride], now[from:from+stride]) {
		from += stride
	}
	for from < short && was[from] == now[from] {
		from++
	}
	was, now = was[from:], now[from:]
	same := 0
	for same+stride <= short-from && bytes.Equal(was[len(was)-same-stride:len(was)-same], now[len(now)-same-stride:len(now)-same]) {
		same += stride
	}
	for same < short-from && was[len(was)-1-same] == now[len(now)-1-same] {
		same++
	}
	return Edit{from, from + len(was) - same, from + len(now) - same}
}

// stride is how many bytes are compared at once.
const stride = 256
