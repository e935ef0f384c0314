package pdf

import (
	"crypto/sha256"
	"sync"

	"refitcard/render/sheet"
)

// mostKept is how many bytes of pictures are kept.
const mostKept = 2 << 20

// known keeps pictures as fpdf reads them. The cards of two variants, or of one procedure that is saved again and again while it
// is looked at, show the same ones, and a picture takes as long as all words of a card.
type known struct {
	sync.Mutex
	pictures map[digest]picture
	bytes    int
}

// digest tells pictures apart.
type digest struct {
	kind string
	sum  [sha256.Size]byte
}

type picture struct {
	data []byte
	kind string
}

// shown are the pictures of the last sheets.
var shown known

// readable does what the function of that name does, once for each picture.
func (k *known) readable(m sheet.Image) (data []byte, kind string, err error) {
	d := digest{m.Type, sha256.Sum256(m.Data)}
	k.Lock()
	p, ok := k.pictures[d]
	k.Unlock()
	if ok {
		return p.data, p.kind, nil
	}
	if data, kind, err = readable(m); err != nil {
		return nil, "", err
	}
	k.Lock()
	defer k.Unlock()
	if _, ok := k.pictures[d]; !ok && len(data) <= mostKept {
		if k.bytes += len(data); k.pictures == nil || k.bytes > mostKept {
			k.pictures, k.bytes = map[digest]picture{}, len(data)
		}
		k.pictures[d] = picture{data, kind}
	}
	return data, kind, nil
}
