package pdf

import (
	"bytes"
	"compress/zlib"
	"image/png"
	"sync"
)

// packer packs bytes. Its writer takes 800 KB, so packers go from sheet to sheet, with the room that they have.
type packer struct {
	writer *zlib.Writer
	out    bytes.Buffer
	page   []byte // room for the operators of a page before they are packed
}

// deflate gives the packed bytes.
func (p *packer) deflate(data []byte) []byte {
	p.out.Reset()
	p.writer.Reset(&p.out)
	_, _ = p.writer.Write(data)
	_ = p.writer.Close() // a buffer takes all that is written
	return bytes.Clone(p.out.Bytes())
}

// mostAtRest is how many packers are kept at most; there are never more than sheets were drawn at the same time. A sync.Pool would
// lose them whenever garbage is collected, which is more often than once for each sheet that is drawn.
const mostAtRest = 16

// packers are those at rest. What they packed last is never read again.
var packers = make(chan *packer, mostAtRest)

func getPacker() *packer {
	select {
	case p := <-packers:
		return p
	default:
		return &packer{writer: zlib.NewWriter(nil)}
	}
}

func (p *packer) rest() {
	select {
	case packers <- p:
	default:
	}
}

// encoders are what PNG files are packed with, as large as a packer. They are seldom wanted: what is known is not packed again.
type encoders struct{ pool sync.Pool }

var pngEncoders encoders

// Get gives one, nil where it has to be made.
func (e *encoders) Get() *png.EncoderBuffer {
	b, _ := e.pool.Get().(*png.EncoderBuffer)
	return b
}

// Put takes one back.
func (e *encoders) Put(b *png.EncoderBuffer) { e.pool.Put(b) }
