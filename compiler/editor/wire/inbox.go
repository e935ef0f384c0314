package wire

import (
	"encoding/json"
	"sync"
)

// mostWaiting bounds the bytes of the messages that wait to be handled; the editor has to wait beyond that.
const mostWaiting = 32 << 20

// incoming is something that came in: a message, the failure to read one, the end of the stream, or a compile that is done.
type incoming struct {
	message
	bad  *Failure // the message can't be read
	end  error    // the stream has ended
	wake bool     // nothing came in; look again

	changes string // the document whose text it changes, empty for none
	size    int
}

// inbox is what has come in and waits, in order. Requests in it can be taken back.
type inbox struct {
	mu        sync.Mutex
	changed   sync.Cond
	list      []incoming
	bytes     int
	shut      bool
	cancelled map[string]bool // of the requests that wait
}

func newInbox() *inbox {
	b := &inbox{cancelled: map[string]bool{}}
	b.changed.L = &b.mu
	return b
}

// fill reads the stream to its end.
func (b *inbox) fill(f *frames) {
	for {
		body, err := f.next()
		in := incoming{size: len(body)}
		switch {
		case err == errTooLong:
			in.message, in.bad = message{ID: null}, &Failure{invalidRequest, "the message is too long"}
		case err != nil:
			b.push(incoming{end: err})
			return
		default:
			in.message, in.bad = understood(body)
		}
		if in.bad == nil && in.Method == "$/cancelRequest" {
			b.cancel(in.message)
			continue
		}
		if in.bad == nil && in.Method == "textDocument/didChange" {
			var p documentParams
			if json.Unmarshal(in.Params, &p) == nil {
				in.changes = p.TextDocument.URI
			}
		}
		if !b.push(in) {
			return
		}
	}
}

// push puts something behind what waits; false when nobody takes it any more.
func (b *inbox) push(in incoming) bool {
	b.mu.Lock()
	defer b.mu.Unlock()
	for !b.shut && !in.wake && len(b.list) > 0 && b.bytes+in.size > mostWaiting {
		b.changed.Wait()
	}
	if b.shut {
		return false
	}
	b.list = append(b.list, in)
	b.bytes += in.size
	b.changed.Broadcast()
	return true
}

// pop takes the first that waits. Where nothing does it waits, or gives false when it may not.
func (b *inbox) pop(wait bool) (in incoming, cancelled, ok bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for len(b.list) == 0 {
		if !wait {
			return incoming{}, false, false
		}
		b.changed.Wait()
	}
	in = b.list[0]
	b.list[0] = incoming{}
	b.list = b.list[1:]
	b.bytes -= in.size
	if in.isRequest() {
		cancelled = b.cancelled[string(in.ID)]
		delete(b.cancelled, string(in.ID))
	}
	b.changed.Broadcast()
	return in, cancelled, true
}

// cancel takes a request back that still waits. One that is answered already, or never came, is nobody's loss.
func (b *inbox) cancel(m message) {
	var p cancelParams
	if m.read(&p) != nil {
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, in := range b.list {
		if in.isRequest() && string(in.ID) == string(p.ID) {
			b.cancelled[string(p.ID)] = true
		}
	}
}

// overtaken tells whether a newer text of a document waits.
func (b *inbox) overtaken(uri string) bool {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, in := range b.list {
		if in.changes == uri {
			return true
		}
	}
	return false
}

// close lets the reader end.
func (b *inbox) close() {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.shut, b.list = true, nil
	b.changed.Broadcast()
}
