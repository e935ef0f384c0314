package wire

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"time"

	"refitcard/compiler"
)

// Host is what the server gets from the program around it: the files of this machine, and a clock.
type Host struct {
	Version string
	// Root gives the folder of the library that a file belongs to.
	Root func(file string) string
	// Open gives the files below a folder.
	Open func(root string) (fs.FS, error)
	// Patience gives a channel that tells when a compile takes too long to be waited for.
	Patience func() <-chan time.Time
	// Refit gives a text with the refitting stage that it lacks, and what was written, in a few words; ok is false where none can be
	// written. Nil: it is not offered.
	Refit func(lib *compiler.Library, path string, text []byte) (now []byte, what string, ok bool)
	// Pause is called when all that came in is answered, before the next message is waited for. Nil: nothing is done then.
	Pause func()

	// quiet is told, in tests, when nothing is left to do, with how much has come in so far.
	quiet func(taken int)
}

// mostSkipped is how many results are passed over in a row for newer texts: findings come at least that often.
const mostSkipped = 8

// Server is one session with an editor. All its state belongs to one goroutine.
type Server struct {
	host Host
	out  io.Writer
	in   *inbox
	err  error // of the output

	ready, ended bool // initialized; shut down
	scale        scale
	client       initializeParams

	docs      []*document // in the order in which they were opened
	shelves   map[string]*shelf
	turn      int               // counts the changes of documents
	published map[string]string // what each document shows, as it was sent; without those that show nothing
	affected  map[string]bool   // the URIs of files whose findings may have changed
	asked     int               // requests that were sent
}

// Serve speaks with an editor until it says exit or hangs up. code is what the protocol wants the program to end with. The error is
// that of the output.
func Serve(ctx context.Context, in io.Reader, out io.Writer, host Host) (code int, err error) {
	s := &Server{
		host: host, out: out, in: newInbox(), scale: utf16,
		shelves: map[string]*shelf{}, published: map[string]string{}, affected: map[string]bool{},
	}
	defer s.in.close()
	go s.in.fill(newFrames(in))
	stop := context.AfterFunc(ctx, func() { s.in.push(incoming{end: ctx.Err(), wake: true}) })
	defer stop()
	taken := 0
	for s.err == nil {
		works := s.work()
		if !works && host.quiet != nil {
			host.quiet(taken)
		}
		if !works && host.Pause != nil {
			host.Pause()
		}
		in, cancelled, ok := s.in.pop(!works)
		if ok && !in.wake {
			taken++
		}
		switch {
		case !ok:
			s.renew()
		case in.end != nil:
			return s.code(), nil
		case in.wake:
			s.collect()
		case in.bad != nil:
			s.send(message{ID: in.ID, Error: in.bad})
		case in.Method == "exit":
			return s.code(), nil
		case in.Method == "":
			// the answer to something that was asked of the editor
		case cancelled:
			s.send(message{ID: in.ID, Error: &Failure{requestCancelled, "taken back"}})
		default:
			s.handle(in.message)
		}
	}
	return s.code(), s.err
}

// code is 0 after shutdown, 1 without.
func (s *Server) code() int {
	if s.ended {
		return 0
	}
	return 1
}

// send writes a message; the first error of the output ends the session.
func (s *Server) send(m message) {
	if s.err == nil {
		s.err = writeFrame(s.out, m)
	}
}

// notify tells the editor something.
func (s *Server) notify(method string, params any) {
	raw, err := json.Marshal(params)
	if err == nil {
		s.send(message{Method: method, Params: raw})
	}
}

// show shows the person at the editor a line.
func (s *Server) show(kind int, format string, args ...any) {
	s.notify("window/showMessage", shown{kind, "refitcard: " + fmt.Sprintf(format, args...)})
}

// handle does what a request or a notification asks. A mistake of the program itself ends as the failure of that one request.
func (s *Server) handle(m message) {
	defer func() {
		if r := recover(); r != nil {
			s.fail(m, &Failure{internalError, fmt.Sprintf("the program stumbled (%v): please report what you did", r)})
		}
	}()
	if bad := s.mayCome(m); bad != nil {
		s.fail(m, bad)
		return
	}
	if note := notes()[m.Method]; note != nil {
		if bad := note(s, m); bad != nil {
			s.fail(m, bad)
		} else if m.isRequest() {
			s.reply(m, nil)
		}
		return
	}
	answer := answers()[m.Method]
	switch {
	case answer == nil && m.isRequest():
		s.fail(m, &Failure{methodNotFound, fmt.Sprintf("%q is not known here", m.Method)})
	case answer != nil && m.isRequest(): // a request without an id wants no answer
		result, bad := answer(s, m)
		if bad != nil {
			s.fail(m, bad)
			return
		}
		s.reply(m, result)
	}
}

// mayCome tells what is wrong with the moment at which a message comes.
func (s *Server) mayCome(m message) *Failure {
	switch {
	case m.Method == "initialize" && s.ready:
		return &Failure{invalidRequest, "initialize comes once"}
	case m.Method != "initialize" && !s.ready:
		return &Failure{notInitialized, "initialize comes first"}
	case s.ended:
		return &Failure{invalidRequest, "after shutdown comes exit"}
	}
	return nil
}

// fail answers a request with a failure; a notification that fails is passed over, as the protocol has it.
func (s *Server) fail(m message, f *Failure) {
	if m.isRequest() {
		s.send(message{ID: m.ID, Error: f})
	}
}

func (s *Server) reply(m message, result any) {
	raw, err := json.Marshal(result)
	if err != nil {
		s.fail(m, &Failure{internalError, err.Error()})
		return
	}
	s.send(message{ID: m.ID, Result: raw})
}

// failed puts an error into the protocol's shape.
func failed(err error) *Failure {
	var f *Failure
	if errors.As(err, &f) {
		return f
	}
	return &Failure{requestFailed, err.Error()}
}

// note handles a notification; answer a request.
type (
	note   func(*Server, message) *Failure
	answer func(*Server, message) (any, *Failure)
)

func notes() map[string]note {
	return map[string]note{
		"initialized":                     (*Server).initialized,
		"textDocument/didOpen":            (*Server).opened,
		"textDocument/didChange":          (*Server).changed,
		"textDocument/didClose":           (*Server).closed,
		"textDocument/didSave":            (*Server).saved,
		"workspace/didChangeWatchedFiles": (*Server).watched,
	}
}

func answers() map[string]answer {
	return map[string]answer{
		"initialize":                  (*Server).initialize,
		"shutdown":                    (*Server).shutdown,
		"textDocument/hover":          (*Server).hover,
		"textDocument/completion":     (*Server).completion,
		"textDocument/definition":     (*Server).definition,
		"textDocument/references":     (*Server).references,
		"textDocument/prepareRename":  (*Server).prepareRename,
		"textDocument/rename":         (*Server).rename,
		"textDocument/documentSymbol": (*Server).symbols,
		"textDocument/foldingRange":   (*Server).folds,
		"textDocument/codeAction":     (*Server).actions,
		"textDocument/formatting":     (*Server).formatting,
	}
}

// initialize agrees on what both sides can do.
func (s *Server) initialize(m message) (any, *Failure) {
	if len(m.Params) > 0 {
		if bad := m.read(&s.client); bad != nil {
			return nil, bad
		}
	}
	s.ready = true
	s.scale = chosen(s.client.Capabilities.General.PositionEncodings)
	type object = map[string]any
	return object{
		"capabilities": object{
			"positionEncoding":       s.scale,
			"textDocumentSync":       object{"openClose": true, "change": 2, "save": object{"includeText": false}},
			"hoverProvider":          true,
			"completionProvider":     object{"triggerCharacters": []string{"{", " ", "#", ">", "|", "/"}},
			"definitionProvider":     true,
			"referencesProvider":     true,
			"renameProvider":         object{"prepareProvider": true},
			"documentSymbolProvider": true,
			"foldingRangeProvider":   true,
			"codeActionProvider":     object{"codeActionKinds": []string{kindFix, kindMend, kindRefit}},

			"documentFormattingProvider": true,
		},
		"serverInfo": object{"name": "refitcard", "version": s.host.Version},
	}, nil
}

// initialized asks to be told of changes on the disk, where the editor can tell.
func (s *Server) initialized(message) *Failure {
	if !s.client.Capabilities.Workspace.DidChangeWatchedFiles.DynamicRegistration {
		return nil
	}
	type object = map[string]any
	raw, err := json.Marshal(object{"registrations": []object{{
		"id": "files", "method": "workspace/didChangeWatchedFiles",
		"registerOptions": object{"watchers": []object{{"globPattern": "**/*.{md,yaml,csv,png,jpg,jpeg,svg}"}}},
	}}})
	if err != nil {
		return failed(err)
	}
	s.asked++
	s.send(message{ID: fmt.Appendf(nil, `"ask-%d"`, s.asked), Method: "client/registerCapability", Params: raw})
	return nil
}

func (s *Server) shutdown(message) (any, *Failure) {
	s.ended = true
	return nil, nil
}
