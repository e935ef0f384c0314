// Package preview shows a procedure in a browser while it is being written: the card as it will print, what check finds,
// and the source, renewed at each save. It serves this machine alone, under an address that nobody can guess.
//
// Everything that a page shows is sent as data and put up as text: no word of a procedure is ever read as markup.
package preview

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"log"
	"net"
	"net/http"
	"strconv"
	"strings"
	"time"

	"refitcard/compiler/diag"
	"refitcard/compiler/source"
	"refitcard/render/sheet"
)

// Maker makes what is shown. Its methods are called one at a time, and anew for each change.
type Maker interface {
	// Anew tells that what was read so far may have changed.
	Anew()
	// Names lists the procedures as people see them, and the folders and files that the list was read from.
	Names() (names, read []string, err error)
	// Make makes one of them.
	Make(name string) Work
	// Explain gives the text on a check: why it matters, and the whole.
	Explain(rule string) (why, whole string)
}

// Work is what came of one procedure.
type Work struct {
	Title    string         // number and title, for the list
	Cards    []Card         // none while errors stand
	Findings []diag.Finding // sorted; waived ones are not shown
	Files    []*source.File // what cards and findings point into, the procedure first
	Read     []string       // absolute paths of all that was read for it since Anew, also of what was missing there
	Wrong    string         // why there is no card, where no finding says it
	Gone     bool           // the file is not there
}

// Card is the card of one variant; the variant is empty where there is but one.
type Card struct {
	Variant string
	Sheet   *sheet.Document
}

// Options say what is watched and how.
type Options struct {
	Maker Maker
	Name  string               // the one procedure; empty for a folder, whose procedures are listed first
	Port  int                  // 0: the system chooses
	Told  func(address string) // called once, when pages can be opened
	poll  bool                 // ask for the state of the files again and again, as where no events come
}

// Serve shows pages until ctx ends; then it gives nil.
func Serve(ctx context.Context, opt Options) error {
	listener, err := listen(opt.Port)
	if err != nil {
		return err
	}
	s := newServer(opt, listener.Addr().String())
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	web := &http.Server{
		Handler:           s,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       10 * time.Second,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    8 << 10,
		ErrorLog:          log.New(nowhere{}, "", 0),
		BaseContext:       func(net.Listener) context.Context { return ctx },
	}
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		s.work(ctx)
	}()
	go func() {
		<-ctx.Done()
		web.Close()
	}()
	if opt.Told != nil {
		opt.Told(s.address())
	}
	err = web.Serve(&bounded{Listener: listener, free: make(chan struct{}, mostConnections)})
	stop()
	<-ended
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// ErrTaken tells that another program listens on the port that was asked for.
var ErrTaken = errors.New("another program has the port")

// listen opens a port that only this machine reaches.
func listen(port int) (net.Listener, error) {
	l, err := net.Listen("tcp4", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if err == nil {
		return l, nil
	}
	if l, err6 := net.Listen("tcp6", net.JoinHostPort("::1", strconv.Itoa(port))); err6 == nil && !strings.Contains(err.Error(), "in use") {
		return l, nil // a machine without the old kind of address
	}
	if port != 0 {
		return nil, fmt.Errorf("%w %d", ErrTaken, port)
	}
	return nil, err
}

// nowhere takes what the web server would print: a visitor's mistakes are no concern of the writer.
type nowhere struct{}

func (nowhere) Write(b []byte) (int, error) { return len(b), nil }

// secret gives 26 letters and figures that nobody can guess, 130 bits.
func secret() string { return strings.ToLower(rand.Text()) }
