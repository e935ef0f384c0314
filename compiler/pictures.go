package compiler

import (
	"hash/maphash"
	"sync"
)

// pictures remembers which files of a library were looked into, and what they are: a picture is decoded once, however many
// procedures show it, until there is another one in its place.
type pictures struct {
	seed  maphash.Seed
	known sync.Map // path → looked
}

// looked is what a file was found to be when it had this sum and size.
type looked struct {
	sum  uint64
	size int
	picture
}

func newPictures() *pictures { return &pictures{seed: maphash.MakeSeed()} }

// of is pictureOf for the file at a path, of which these are the bytes.
func (p *pictures) of(path string, raw []byte) picture {
	now := looked{sum: maphash.Bytes(p.seed, raw), size: len(raw)}
	if v, ok := p.known.Load(path); ok {
		if was := v.(looked); was.sum == now.sum && was.size == now.size {
			return was.picture
		}
	}
	now.picture = pictureOf(raw)
	p.known.Store(path, now)
	return now.picture
}
