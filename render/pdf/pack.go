package pdf

import (
	"bytes"
	"compress/zlib"
	"sync"
)

// packer packs bytes. Its writer takes 800 KB, so packers go from sheet to sheet, with the room that they have.
type packer struct {
	writer *zlib.Writer
	out    bytes.Buffer
	page   []byte // room for the operators of a page before they are packed
}

// packers are those at rest. What they packed last is never read again.
var packers = sync.Pool{New: func() any { return &packer{writer: zlib.NewWriter(nil)} }}

// deflate gives the packed bytes.
func (p *packer) deflate(data []byte) []byte {
	p.out.Reset()
	p.writer.Reset(&p.out)
	_, _ = p.writer.Write(data)
	_ = p.writer.Close() // a buffer takes all that is written
	return bytes.Clone(p.out.Bytes())
}
