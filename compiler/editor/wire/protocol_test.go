package wire

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// frame is one message as it stands on the wire.
func frame(body string) string { return fmt.Sprintf("Content-Length: %d\r\n\r\n%s", len(body), body) }

const (
	helloFrame = `{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"capabilities":{}}}`
	byeFrame   = `{"jsonrpc":"2.0","id":99,"method":"shutdown"}`
	exitFrame  = `{"jsonrpc":"2.0","method":"exit"}`
)

// talk plays a whole session and gives the answers in order, without what the server says by itself, and the exit code.
func talk(t *testing.T, stream string) (answers []message, code int) {
	t.Helper()
	var out bytes.Buffer
	code, err := Serve(context.Background(), strings.NewReader(stream), &out, hostOf(fstest.MapFS{}))
	if err != nil {
		t.Fatal(err)
	}
	f := newFrames(&out)
	for {
		body, err := f.next()
		if err != nil {
			if !errors.Is(err, io.EOF) {
				t.Fatal(err)
			}
			return answers, code
		}
		var m message
		if err := json.Unmarshal(body, &m); err != nil || m.Version != "2.0" {
			t.Fatalf("%v: %s", err, body)
		}
		if m.Method == "" {
			answers = append(answers, m)
		}
	}
}

// What comes out of order or broken is answered as the protocol has it, and what follows is answered all the same.
func TestWhatIsBrokenIsAnswered(t *testing.T) {
	for name, c := range map[string]struct {
		sent string
		id   string // of the answer, none for no answer
		code int    // 0 for a result
	}{
		"not JSON":                     {frame(`{"jsonrpc":`), "null", parseError},
		"an empty message":             {frame(``), "null", parseError},
		"a list of messages":           {frame(`[` + byeFrame + `]`), "null", invalidRequest},
		"no method":                    {frame(`{"jsonrpc":"2.0","id":7}`), "7", invalidRequest},
		"a method that is no string":   {frame(`{"jsonrpc":"2.0","id":7,"method":5}`), "7", invalidRequest},
		"an id that is no id":          {frame(`{"jsonrpc":"2.0","id":{},"method":"shutdown"}`), "null", invalidRequest},
		"an id in words":               {frame(`{"jsonrpc":"2.0","id":"seven","method":"textDocument/nothing"}`), `"seven"`, methodNotFound},
		"a negative id":                {frame(`{"jsonrpc":"2.0","id":-7,"method":"textDocument/nothing"}`), "-7", methodNotFound},
		"an unknown request":           {frame(`{"jsonrpc":"2.0","id":7,"method":"textDocument/nothing","params":{}}`), "7", methodNotFound},
		"an unknown optional request":  {frame(`{"jsonrpc":"2.0","id":7,"method":"$/nothing"}`), "7", methodNotFound},
		"an unknown notification":      {frame(`{"jsonrpc":"2.0","method":"$/setTrace","params":{"value":"off"}}`), "", 0},
		"a request as a notification":  {frame(`{"jsonrpc":"2.0","method":"textDocument/hover","params":{}}`), "", 0},
		"a notification as a request":  {frame(`{"jsonrpc":"2.0","id":7,"method":"textDocument/didSave","params":{"textDocument":{"uri":"file:///shop/a.md"}}}`), "7", 0},
		"an answer that nobody waits":  {frame(`{"jsonrpc":"2.0","id":7,"result":null}`), "", 0},
		"params of another shape":      {frame(`{"jsonrpc":"2.0","id":7,"method":"textDocument/hover","params":[1]}`), "7", invalidParams},
		"no params":                    {frame(`{"jsonrpc":"2.0","id":7,"method":"textDocument/hover"}`), "7", invalidParams},
		"a document that is not open":  {frame(`{"jsonrpc":"2.0","id":7,"method":"textDocument/hover","params":{"textDocument":{"uri":"file:///shop/a.md"},"position":{"line":0,"character":0}}}`), "7", invalidParams},
		"a change of what is not open": {frame(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"file:///shop/a.md","version":2},"contentChanges":[{"text":"x"}]}}`), "", 0},
		"a close of what is not open":  {frame(`{"jsonrpc":"2.0","method":"textDocument/didClose","params":{"textDocument":{"uri":"file:///shop/a.md"}}}`), "", 0},
		"initialize a second time":     {frame(strings.Replace(helloFrame, `"id":1`, `"id":7`, 1)), "7", invalidRequest},
		"lines that are no header":     {"hello\r\nContent-Type: x\r\n\r\nmore\n\n", "", 0},
		"a length that is no number":   {"Content-Length: many\r\n\r\n", "", 0},
		"a negative length":            {"Content-Length: -5\r\n\r\n", "", 0},
		"a header in small letters":    {strings.Replace(frame(`{"jsonrpc":"2.0","id":7,"method":"x"}`), "Content-Length: ", "content-length:", 1), "7", methodNotFound},
		"a header without returns":     {strings.ReplaceAll(frame(`{"jsonrpc":"2.0","id":7,"method":"x"}`), "\r", ""), "7", methodNotFound},
		"a header of another kind too": {"Content-Type: application/json\r\n" + frame(`{"jsonrpc":"2.0","id":7,"method":"x"}`), "7", methodNotFound},
		"a line without end":           {strings.Repeat("x", 1<<20) + "\n", "", 0},
		"a message that is too long":   {"Content-Length: 20000000\r\n\r\n" + strings.Repeat(" ", 20_000_000), "null", invalidRequest},
		"deep nesting":                 {frame(`{"jsonrpc":"2.0","id":7,"method":"x","params":` + strings.Repeat("[", 20_000) + strings.Repeat("]", 20_000) + `}`), "null", parseError},
	} {
		t.Run(name, func(t *testing.T) {
			got, code := talk(t, frame(helloFrame)+c.sent+frame(byeFrame)+frame(exitFrame))
			if code != 0 || len(got) < 2 || string(got[0].ID) != "1" || string(got[len(got)-1].ID) != "99" || got[len(got)-1].Error != nil {
				t.Fatalf("exit %d, the session was not kept up: %v", code, got)
			}
			got = got[1 : len(got)-1]
			if c.id == "" {
				if len(got) > 0 {
					t.Errorf("answered with %v", got)
				}
				return
			}
			if len(got) != 1 || string(got[0].ID) != c.id {
				t.Fatalf("answered with %v", got)
			}
			if bad := got[0].Error; (bad == nil) != (c.code == 0) || bad != nil && (bad.Code != c.code || bad.Message == "") {
				t.Errorf("answered with %+v", bad)
			}
		})
	}
}

func TestASessionBeginsAndEndsByTheRules(t *testing.T) {
	for name, c := range map[string]struct {
		sent  string
		codes []int // of the answers
		exit  int
	}{
		"by the rules":              {frame(helloFrame) + frame(byeFrame) + frame(exitFrame), []int{0, 0}, 0},
		"before initialize":         {frame(byeFrame) + frame(helloFrame) + frame(byeFrame) + frame(exitFrame), []int{notInitialized, 0, 0}, 0},
		"a document before it":      {frame(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{}}`) + frame(helloFrame) + frame(byeFrame) + frame(exitFrame), []int{0, 0}, 0},
		"after shutdown":            {frame(helloFrame) + frame(byeFrame) + frame(byeFrame) + frame(exitFrame), []int{0, 0, invalidRequest}, 0},
		"exit without shutdown":     {frame(helloFrame) + frame(exitFrame), []int{0}, 1},
		"exit at once":              {frame(exitFrame), nil, 1},
		"hung up":                   {frame(helloFrame), []int{0}, 1},
		"hung up after shutdown":    {frame(helloFrame) + frame(byeFrame), []int{0, 0}, 0},
		"hung up within a header":   {frame(helloFrame) + "Content-Len", []int{0}, 1},
		"hung up within a message":  {frame(helloFrame) + frame(byeFrame)[:40], []int{0}, 1},
		"nothing at all":            {"", nil, 1},
		"initialize without params": {frame(`{"jsonrpc":"2.0","id":1,"method":"initialize"}`) + frame(byeFrame) + frame(exitFrame), []int{0, 0}, 0},
	} {
		t.Run(name, func(t *testing.T) {
			got, exit := talk(t, c.sent)
			var codes []int
			for _, m := range got {
				code := 0
				if m.Error != nil {
					code = m.Error.Code
				}
				codes = append(codes, code)
			}
			if !slices.Equal(codes, c.codes) || exit != c.exit {
				t.Errorf("answers %v, exit %d", codes, exit)
			}
		})
	}
}

// A length is only a promise: memory is taken for what has come.
func TestAHugeLengthTakesNoMemory(t *testing.T) {
	for _, length := range []string{"16777216", "9000000000000000000"} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		got, exit := talk(t, frame(helloFrame)+"Content-Length: "+length+"\r\n\r\n{}")
		runtime.ReadMemStats(&after)
		if len(got) != 1 || exit != 1 {
			t.Errorf("%s: answers %v, exit %d", length, got, exit)
		}
		if taken := after.TotalAlloc - before.TotalAlloc; taken > 4<<20 {
			t.Errorf("%s: %d bytes were taken", length, taken)
		}
	}
}

// broken is a stream that takes nothing more.
type broken struct{ left int }

func (b *broken) Write(p []byte) (int, error) {
	if b.left--; b.left < 0 {
		return 0, io.ErrClosedPipe
	}
	return len(p), nil
}

func TestAnEditorThatDoesNotListenEndsTheSession(t *testing.T) {
	_, err := Serve(context.Background(), strings.NewReader(frame(helloFrame)+strings.Repeat(frame(byeFrame), 100)), &broken{left: 2}, hostOf(fstest.MapFS{}))
	if !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("ended with %v", err)
	}
}

func TestTheEndOfTheProgramEndsTheSession(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	in, _ := io.Pipe()
	cancel()
	if code, err := Serve(ctx, in, io.Discard, hostOf(fstest.MapFS{})); code != 1 || err != nil {
		t.Errorf("exit %d, %v", code, err)
	}
}

// held is a host whose first compile does not end before the test says so.
func held(t *testing.T) (host Host, waits chan time.Time, release func()) {
	gate, waits := make(chan struct{}), make(chan time.Time)
	host = hostOf(slow{gate})
	host.Patience = func() <-chan time.Time { return waits }
	var once bool
	release = func() {
		if !once {
			once = true
			close(gate)
		}
	}
	t.Cleanup(release)
	return host, waits, release
}

// A request that waits can be taken back; one that is answered already can't, and nothing comes of it.
func TestRequestsAreTakenBack(t *testing.T) {
	host, _, release := held(t)
	c := start(t, host)
	c.hello(utf16)
	c.open("job.md", withPicture(job))
	busy := c.request("textDocument/hover", placeParams{TextDocument: documentID{URI: uri("job.md")}}) // waits for the picture
	back := c.request("textDocument/hover", placeParams{TextDocument: documentID{URI: uri("job.md")}})
	c.notify("$/cancelRequest", cancelParams{json.RawMessage(fmt.Sprint(back))})
	c.notify("$/cancelRequest", cancelParams{json.RawMessage("12345")})
	c.notify("$/cancelRequest", map[string]any{})
	c.notify("textDocument/didSave", documentParams{documentID{URI: "file:///shop/other.md"}}) // the reader is behind the cancelling now
	release()
	if m := c.answer(busy); m.Error != nil {
		t.Error(m.Error)
	}
	if m := c.answer(back); m.Error == nil || m.Error.Code != requestCancelled {
		t.Errorf("answered with %+v", m)
	}
	c.notify("$/cancelRequest", cancelParams{json.RawMessage(fmt.Sprint(back))})
	if bad := c.call("textDocument/hover", placeParams{TextDocument: documentID{URI: uri("job.md")}}, nil); bad != nil {
		t.Error(bad)
	}
}
