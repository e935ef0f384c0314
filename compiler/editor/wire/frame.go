// Package wire speaks the language server protocol with an editor: frames and messages, documents that are typed into, and the
// answers of package editor in the protocol's shape. It sees streams and files only as they are handed in.
//
// The framing is our own: a library at hand gives up a whole session over one message that can't be read, and takes a frame of
// any length. Here a broken message is answered and the next one read.
package wire

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// The limits on what is taken in. A procedure has at most 1 MiB; JSON makes it six times as long where it has to.
const (
	mostFrame  = 16 << 20 // bytes of one message
	mostHeader = 4 << 10  // bytes of one line of a header
)

// errTooLong tells that a frame was skipped; what follows it can be read.
var errTooLong = errors.New("the message is too long")

// frames reads messages off a stream.
type frames struct{ in *bufio.Reader }

func newFrames(in io.Reader) *frames { return &frames{bufio.NewReaderSize(in, 64<<10)} }

// next reads the next message. Lines that are no header are passed over. errTooLong is for one that was skipped; any other error is
// the end of the stream.
func (f *frames) next() ([]byte, error) {
	length, err := f.header()
	if err != nil {
		return nil, err
	}
	if length > mostFrame {
		if _, err := io.CopyN(io.Discard, f.in, length); err != nil {
			return nil, err
		}
		return nil, errTooLong
	}
	body := make([]byte, 0, min(length, 64<<10)) // what is said of the length is believed when it has come
	for int64(len(body)) < length {
		n := min(length-int64(len(body)), max(int64(len(body)), 64<<10))
		at := len(body)
		body = append(body, make([]byte, n)...)
		if _, err := io.ReadFull(f.in, body[at:]); err != nil {
			return nil, err
		}
	}
	return body, nil
}

// header reads up to the empty line that ends a header which gives a length.
func (f *frames) header() (length int64, err error) {
	length = -1
	for {
		line, err := f.line()
		if err != nil {
			return 0, err
		}
		if line == "" {
			if length >= 0 {
				return length, nil
			}
			continue
		}
		name, value, _ := strings.Cut(line, ":")
		if !strings.EqualFold(strings.TrimSpace(name), "Content-Length") {
			continue
		}
		if n, err := strconv.ParseInt(strings.TrimSpace(value), 10, 64); err == nil && n >= 0 {
			length = n
		}
	}
}

// line reads one line without its end; of a very long one only the head is kept.
func (f *frames) line() (string, error) {
	var line []byte
	for {
		piece, err := f.in.ReadSlice('\n')
		if len(line) < mostHeader {
			line = append(line, piece[:min(len(piece), mostHeader)]...)
		}
		if err == nil {
			return strings.TrimRight(string(line), "\r\n"), nil
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return "", err
		}
	}
}

// writeFrame writes one message whole, in one call.
func writeFrame(out io.Writer, m message) error {
	m.Version = "2.0"
	body, err := json.Marshal(m)
	if err != nil {
		return err
	}
	_, err = out.Write(append(fmt.Appendf(nil, "Content-Length: %d\r\n\r\n", len(body)), body...))
	return err
}
