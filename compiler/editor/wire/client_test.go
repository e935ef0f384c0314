package wire

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// client is an editor as the tests play it: it keeps the texts it has open, and what the server told it to show.
type client struct {
	t     testing.TB
	in    *io.PipeWriter
	ended chan int
	seq   int

	shown  map[string]publishParams // by URI
	lines  []string                 // of showMessage
	asked  []message                // requests of the server
	events chan message
	seen   func(publishParams)
	quiet  chan int // how much the server had taken in when it came to rest
	sent   int
}

// never is a clock on which nothing takes too long.
func never() <-chan time.Time { return nil }

// hostOf gives a host whose files lie in memory, all below /shop.
func hostOf(fsys fs.FS) Host {
	return Host{
		Version: "test", Root: func(string) string { return filepath.FromSlash("/shop") },
		Open: func(string) (fs.FS, error) { return fsys, nil }, Patience: never,
	}
}

func uri(path string) string { return "file:///shop/" + path }

// start begins a session that is not initialized yet.
func start(t testing.TB, host Host) *client {
	t.Helper()
	fromEditor, in := io.Pipe()
	out, toEditor := io.Pipe()
	c := &client{t: t, in: in, ended: make(chan int, 1), shown: map[string]publishParams{}, events: make(chan message, 1000), quiet: make(chan int, 1)}
	host.quiet = func(taken int) {
		select {
		case <-c.quiet: // nobody wants to know of an earlier rest
		default:
		}
		c.quiet <- taken
	}
	go func() {
		code, err := Serve(context.Background(), fromEditor, toEditor, host)
		if err != nil {
			code = -1
		}
		toEditor.Close()
		fromEditor.Close()
		c.ended <- code
	}()
	go c.listen(out)
	t.Cleanup(func() { in.Close(); out.Close(); <-c.ended })
	return c
}

func (c *client) listen(out io.Reader) {
	defer close(c.events)
	r := bufio.NewReader(out)
	for {
		head, err := r.ReadString('\n')
		if err != nil {
			return
		}
		n, err := strconv.Atoi(strings.TrimSpace(strings.TrimPrefix(head, "Content-Length:")))
		if err != nil {
			panic("not a header: " + head)
		}
		if blank, _ := r.ReadString('\n'); blank != "\r\n" {
			panic("not the end of a header: " + blank)
		}
		body := make([]byte, n)
		if _, err := io.ReadFull(r, body); err != nil {
			return
		}
		var m message
		if err := json.Unmarshal(body, &m); err != nil || m.Version != "2.0" {
			panic("not a message: " + string(body))
		}
		c.events <- m
	}
}

// raw writes bytes as they are.
func (c *client) raw(text string) {
	if _, err := io.WriteString(c.in, text); err != nil {
		c.t.Fatal(err)
	}
}

func (c *client) write(body any) {
	text, err := json.Marshal(body)
	if err != nil {
		c.t.Fatal(err)
	}
	c.raw(fmt.Sprintf("Content-Length: %d\r\n\r\n%s", len(text), text))
	c.sent++
}

func (c *client) notify(method string, params any) {
	c.write(map[string]any{"jsonrpc": "2.0", "method": method, "params": params})
}

// request sends a request without waiting for its answer.
func (c *client) request(method string, params any) (id int) {
	c.seq++
	c.write(map[string]any{"jsonrpc": "2.0", "id": c.seq, "method": method, "params": params})
	return c.seq
}

// answer waits for the answer to a request, taking in what else comes before it.
func (c *client) answer(id int) message {
	c.t.Helper()
	for m := range c.events {
		switch {
		case m.Method != "":
			c.takeIn(m)
		case string(m.ID) == strconv.Itoa(id) || id < 0:
			return m
		default:
			c.t.Fatalf("an answer to %s came, waiting for %d", m.ID, id)
		}
	}
	c.t.Fatal("the server hung up")
	return message{}
}

// takeIn takes in what the server says by itself.
func (c *client) takeIn(m message) {
	c.t.Helper()
	switch m.Method {
	case "textDocument/publishDiagnostics":
		var p publishParams
		if err := json.Unmarshal(m.Params, &p); err != nil {
			c.t.Fatal(err)
		}
		if c.shown[p.URI] = p; c.seen != nil {
			c.seen(p)
		}
	case "window/showMessage":
		var p shown
		if err := json.Unmarshal(m.Params, &p); err != nil {
			c.t.Fatal(err)
		}
		c.lines = append(c.lines, p.Message)
	default:
		c.asked = append(c.asked, m)
	}
}

// call asks and waits; into is filled with the result.
func (c *client) call(method string, params, into any) *Failure {
	c.t.Helper()
	m := c.answer(c.request(method, params))
	if m.Error == nil && into != nil {
		if err := json.Unmarshal(m.Result, into); err != nil {
			c.t.Fatalf("%s: %v in %s", method, err, m.Result)
		}
	}
	return m.Error
}

// full is what an editor of today says that it can do.
const full = `{"capabilities": {"general": {"positionEncodings": ["utf-8", "utf-16"]}, "workspace": {"workspaceEdit": {"documentChanges": true}},
	"textDocument": {"publishDiagnostics": {"relatedInformation": true}, "codeAction": {"isPreferredSupport": true, "codeActionLiteralSupport": {}},
	"documentSymbol": {"hierarchicalDocumentSymbolSupport": true}}}}`

func (c *client) hello(scale scale) {
	c.t.Helper()
	params := full
	if scale == utf16 {
		params = strings.Replace(full, `"utf-8", `, "", 1)
	}
	var got struct {
		Capabilities struct {
			PositionEncoding string `json:"positionEncoding"`
		} `json:"capabilities"`
	}
	if bad := c.call("initialize", json.RawMessage(params), &got); bad != nil {
		c.t.Fatal(bad)
	}
	if got.Capabilities.PositionEncoding != string(scale) {
		c.t.Fatalf("the server counts in %q", got.Capabilities.PositionEncoding)
	}
	c.notify("initialized", map[string]any{})
}

func (c *client) open(path, text string) {
	c.notify("textDocument/didOpen", openParams{documentItem{URI: uri(path), Version: 1, Text: text}})
}

func (c *client) change(path string, version int, changes ...change) {
	c.notify("textDocument/didChange", changeParams{documentID{uri(path), &version}, changes})
}

// rest waits until the server has done all that it was told so far, findings shown.
func (c *client) rest() {
	c.t.Helper()
	nothing := func() {
		c.answer(c.request("textDocument/hover", placeParams{TextDocument: documentID{URI: "file:///nobody"}}))
	}
	nothing()
	for taken := range c.quiet {
		if taken >= c.sent {
			break
		}
	}
	nothing() // what was shown has come before that answer
}

// findings tells what is shown in a file, a line each: "line:column-line:column rule".
func (c *client) findings(path string) []string {
	var all []string
	for _, d := range c.shown[uri(path)].Diagnostics {
		all = append(all, fmt.Sprintf("%d:%d-%d:%d %s", d.Range.Start.Line, d.Range.Start.Character, d.Range.End.Line, d.Range.End.Character, d.Code))
	}
	return all
}

// cases reads the texts of a folder of cases, their marks cut off.
func cases(t testing.TB, folder string) map[string][]byte {
	t.Helper()
	root := filepath.Join("..", "..", "..", folder)
	all := map[string][]byte{}
	err := filepath.WalkDir(root, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || filepath.Ext(name) != ".md" {
			return err
		}
		raw, err := os.ReadFile(name)
		rel, _ := filepath.Rel(root, name)
		all[filepath.ToSlash(rel)] = raw
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 10 {
		t.Fatalf("only %d cases in %s", len(all), folder)
	}
	return all
}

// names lists the keys of a map in order.
func names[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// job is a procedure with one slip: 2 of 12 bolts do not go back.
const job = `---
title: Reseal the end cover
number: SD-1
revision: A
---

Covers the end cover.

## Parts

| Part         | Qty | Spec            | Use     | Place           | Torque |
|:-------------|----:|:----------------|:--------|:----------------|:-------|
| cover bolt   |  12 | M8×30 8.8 socket | reuse   | holds end cover | 22 N·m |
| end cover    |   1 | 18 kg           | reuse   |                 |        |
| cover gasket |   1 |                 | replace | behind end cover |       |

## Tools

- 6 mm hex key
- 6 mm hex bit socket
- torque wrench, 5–50 N·m

## Supplies

- none

## Strip

1. {Remove 12 cover bolts} with the {tool 6 mm hex key}.
2. {Remove the end cover}, then {remove the cover gasket}.

## Refit

1. {Install a new cover gasket}, then {install the end cover}.
2. {Install 12 cover bolts} finger-tight.
3. {Torque 12 cover bolts to 22 N·m crosswise in 3 passes} with the {tool torque wrench} and {tool 6 mm hex bit socket}.
4. {Check the cover is dry}.
`

// faulty is job with the slip.
var faulty = strings.Replace(job, "{Install 12 cover bolts}", "{Install 10 cover bolts}", 1)

var shop = fstest.MapFS{}
