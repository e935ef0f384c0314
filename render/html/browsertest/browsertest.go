// Package browsertest drives a Chromium that is installed on the machine, for tests. It speaks the browser's own protocol over two
// pipes, so that it needs no port and no library.
package browsertest

import (
	"bufio"
	"context"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"sync"
	"testing"
	"time"
)

// names are what a Chromium is called, in the order in which they are tried.
var names = []string{"chromium", "chromium-browser", "google-chrome"}

// patience is how long one command may take: a machine with two cores may be busy with other tests.
const patience = 60 * time.Second

// Browser is one that runs, with an empty profile of its own, until the test ends.
type Browser struct {
	t        testing.TB
	write    *os.File
	mu       sync.Mutex
	answers  map[int]chan answer
	events   map[string][]json.RawMessage
	last     int
	finished chan struct{}
}

type answer struct {
	Result json.RawMessage `json:"result"`
	Error  *struct {
		Message string `json:"message"`
	} `json:"error"`
}

// Start begins a browser. Without one the test is skipped, and says what is then not checked; where the variable CI is true it
// fails instead, so that a check can't go missing unseen.
func Start(t testing.TB, checks string, options ...string) *Browser {
	t.Helper()
	program := ""
	for _, n := range names {
		if found, err := exec.LookPath(n); err == nil && program == "" {
			program = found
		}
	}
	if program == "" && os.Getenv("CI") == "true" {
		t.Fatalf("no Chromium is installed: it is not checked %s", checks)
	}
	if program == "" {
		t.Skipf("no Chromium is installed: it is not checked %s", checks)
	}
	profile, err := os.MkdirTemp("", "browser") // not the test's own folder: the browser's helpers may still write when it has ended
	if err != nil {
		t.Fatal(err)
	}
	in, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	read, out, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	args := append([]string{
		"--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run", "--disable-extensions", "--hide-scrollbars",
		// A browser that finds no network must not wait for one.
		"--disable-quic", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-default-apps",
		"--remote-debugging-pipe", "--user-data-dir=" + profile,
	}, options...)
	ctx, stop := context.WithCancel(context.Background())
	cmd := exec.CommandContext(ctx, program, append(args, "about:blank")...)
	cmd.ExtraFiles = []*os.File{in, out} // the browser's 3 and 4
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	in.Close()
	out.Close()
	b := &Browser{t: t, write: write, answers: map[int]chan answer{}, events: map[string][]json.RawMessage{}, finished: make(chan struct{})}
	go b.listen(read)
	t.Cleanup(func() {
		_, _ = b.call("", "Browser.close", nil)
		select {
		case <-b.finished:
		case <-time.After(5 * time.Second):
		}
		stop()
		_ = cmd.Wait()
		write.Close()
		read.Close()
		for range 20 {
			if os.RemoveAll(profile) == nil {
				break
			}
			time.Sleep(100 * time.Millisecond)
		}
	})
	return b
}

// listen sorts what the browser says: answers to those who asked, events by page and name.
func (b *Browser) listen(read *os.File) {
	defer close(b.finished)
	r := bufio.NewReaderSize(read, 1<<20)
	for {
		line, err := r.ReadBytes(0)
		if err != nil {
			return
		}
		var m struct {
			ID     int             `json:"id"`
			Method string          `json:"method"`
			Page   string          `json:"sessionId"`
			Params json.RawMessage `json:"params"`
			answer
		}
		if json.Unmarshal(line[:len(line)-1], &m) != nil {
			continue
		}
		b.mu.Lock()
		if m.ID == 0 {
			b.events[m.Page+m.Method] = append(b.events[m.Page+m.Method], m.Params)
		} else if c := b.answers[m.ID]; c != nil {
			c <- m.answer
			delete(b.answers, m.ID)
		}
		b.mu.Unlock()
	}
}

func (b *Browser) call(page, method string, params any) (json.RawMessage, error) {
	if params == nil {
		params = struct{}{}
	}
	b.mu.Lock()
	b.last++
	id, c := b.last, make(chan answer, 1)
	b.answers[id] = c
	message, err := json.Marshal(struct {
		ID     int    `json:"id"`
		Method string `json:"method"`
		Params any    `json:"params"`
		Page   string `json:"sessionId,omitempty"`
	}{id, method, params, page})
	if err == nil {
		_, err = b.write.Write(append(message, 0))
	}
	b.mu.Unlock()
	if err != nil {
		return nil, err
	}
	select {
	case a := <-c:
		if a.Error != nil {
			return nil, fmt.Errorf("%s: %s", method, a.Error.Message)
		}
		return a.Result, nil
	case <-b.finished:
		return nil, errors.New("the browser has ended")
	case <-time.After(patience):
		return nil, fmt.Errorf("%s: no answer", method)
	}
}

// Version names the browser: "Chrome/150.0.1.2".
func (b *Browser) Version() string {
	var v struct{ Product string }
	b.into(&v, "", "Browser.getVersion", nil)
	return v.Product
}

func (b *Browser) into(v any, page, method string, params any) {
	b.t.Helper()
	raw, err := b.call(page, method, params)
	if err == nil && v != nil {
		err = json.Unmarshal(raw, v)
	}
	if err != nil {
		b.t.Fatal(err)
	}
}

// Page is one page that is shown.
type Page struct {
	b  *Browser
	id string
}

// Params are the named values that a command of the protocol takes.
type Params map[string]any

// Open shows an address in a page of its own, wide and high in CSS pixels. Before runs in it before its own scripts; it may be empty.
func (b *Browser) Open(address string, wide, high int, before string) *Page {
	b.t.Helper()
	var target struct{ TargetID string }
	b.into(&target, "", "Target.createTarget", Params{"url": "about:blank"})
	var session struct{ SessionID string }
	b.into(&session, "", "Target.attachToTarget", Params{"targetId": target.TargetID, "flatten": true})
	p := &Page{b, session.SessionID}
	for _, domain := range []string{"Page", "Runtime", "Network", "Log"} {
		p.Do(domain+".enable", nil)
	}
	p.Do("Emulation.setDeviceMetricsOverride", Params{"width": wide, "height": high, "deviceScaleFactor": 1, "mobile": false})
	if before != "" {
		p.Do("Page.addScriptToEvaluateOnNewDocument", Params{"source": before})
	}
	p.Go(address)
	return p
}

// Go shows another address, or the same one again, and waits until it is loaded.
func (p *Page) Go(address string) {
	p.b.t.Helper()
	n := len(p.Events("Page.loadEventFired"))
	p.Do("Page.navigate", Params{"url": address})
	for end := time.Now().Add(patience); len(p.Events("Page.loadEventFired")) <= n; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			p.b.t.Fatalf("%s is not loaded", address)
		}
	}
}

// Do runs a command of the protocol on the page.
func (p *Page) Do(method string, params Params) {
	p.b.t.Helper()
	p.b.into(nil, p.id, method, params)
}

// Events gives what the page has told under a name, in order.
func (p *Page) Events(name string) []json.RawMessage {
	p.b.mu.Lock()
	defer p.b.mu.Unlock()
	return append([]json.RawMessage(nil), p.b.events[p.id+name]...)
}

// Eval runs a script in the page, waits for a promise, and puts its value into v.
func (p *Page) Eval(v any, script string) {
	p.b.t.Helper()
	var out struct {
		Result struct{ Value json.RawMessage }
		Wrong  *struct {
			Text      string
			Exception struct{ Description string }
		} `json:"exceptionDetails"`
	}
	p.b.into(&out, p.id, "Runtime.evaluate", Params{"expression": script, "returnByValue": true, "awaitPromise": true})
	if out.Wrong != nil {
		p.b.t.Fatalf("%s: %s\n%.400s", out.Wrong.Text, out.Wrong.Exception.Description, script)
	}
	if v == nil {
		return
	}
	if err := json.Unmarshal(out.Result.Value, v); err != nil {
		p.b.t.Fatalf("%v: %s\n%.400s", err, out.Result.Value, script)
	}
}

// Wait waits until a script gives true, and fails when it does not for a long time.
func (p *Page) Wait(script string) {
	p.b.t.Helper()
	for end := time.Now().Add(patience); ; time.Sleep(10 * time.Millisecond) {
		var is bool
		if p.Eval(&is, "!!("+script+")"); is {
			return
		}
		if time.Now().After(end) {
			p.b.t.Fatalf("it does not come true that %s", script)
		}
	}
}

// Click presses the mouse on the middle of the first element that a selector finds.
func (p *Page) Click(selector string) {
	p.b.t.Helper()
	quoted, err := json.Marshal(selector)
	if err != nil {
		p.b.t.Fatal(err)
	}
	var at struct{ X, Y float64 }
	p.Eval(&at, `(() => { const e = document.querySelector(`+string(quoted)+`); e.scrollIntoView({block: "nearest"}); const r = e.getBoundingClientRect(); return {X: r.x + r.width / 2, Y: r.y + r.height / 2}; })()`)
	for _, kind := range []string{"mousePressed", "mouseReleased"} {
		p.Do("Input.dispatchMouseEvent", Params{"type": kind, "x": at.X, "y": at.Y, "button": "left", "clickCount": 1})
	}
}

// Size gives the page another width and height in CSS pixels.
func (p *Page) Size(wide, high int) {
	p.b.t.Helper()
	p.Do("Emulation.setDeviceMetricsOverride", Params{"width": wide, "height": high, "deviceScaleFactor": 1, "mobile": false})
}

// Picture is what the page looks like, as PNG.
func (p *Page) Picture() []byte {
	p.b.t.Helper()
	return p.data("Page.captureScreenshot", Params{"format": "png"})
}

// PictureOf is what the first element that a selector finds looks like, drawn so many dots wide, as PNG.
func (p *Page) PictureOf(selector string, dots int) []byte {
	p.b.t.Helper()
	quoted, err := json.Marshal(selector)
	if err != nil {
		p.b.t.Fatal(err)
	}
	var at struct{ X, Y, Width, Height float64 }
	p.Eval(&at, `document.querySelector(`+string(quoted)+`).getBoundingClientRect().toJSON()`)
	clip := Params{"x": at.X, "y": at.Y, "width": at.Width, "height": at.Height, "scale": float64(dots) / at.Width}
	return p.data("Page.captureScreenshot", Params{"format": "png", "clip": clip, "captureBeyondViewport": true})
}

// Key presses and releases a key: "Tab", "Shift+Tab", " ", "Enter", "ArrowDown", "ArrowUp".
func (p *Page) Key(name string) {
	p.b.t.Helper()
	k := map[string]Params{
		"Tab":       {"key": "Tab", "code": "Tab", "windowsVirtualKeyCode": 9},
		"Shift+Tab": {"key": "Tab", "code": "Tab", "windowsVirtualKeyCode": 9, "modifiers": 8},
		" ":         {"key": " ", "code": "Space", "windowsVirtualKeyCode": 32, "text": " "},
		"ArrowDown": {"key": "ArrowDown", "code": "ArrowDown", "windowsVirtualKeyCode": 40},
		"ArrowUp":   {"key": "ArrowUp", "code": "ArrowUp", "windowsVirtualKeyCode": 38},
		"Enter":     {"key": "Enter", "code": "Enter", "windowsVirtualKeyCode": 13, "text": "\r"},
	}[name]
	if k == nil {
		p.b.t.Fatalf("no key %q", name)
	}
	for _, kind := range []string{"keyDown", "keyUp"} {
		k["type"] = kind
		p.Do("Input.dispatchKeyEvent", k)
	}
}

// PDF prints the page to A4.
func (p *Page) PDF() []byte {
	p.b.t.Helper()
	return p.data("Page.printToPDF", Params{"preferCSSPageSize": true, "printBackground": true, "paperWidth": 8.27, "paperHeight": 11.69})
}

func (p *Page) data(method string, params Params) []byte {
	p.b.t.Helper()
	var out struct{ Data string }
	p.b.into(&out, p.id, method, params)
	raw, err := base64.StdEncoding.DecodeString(out.Data)
	if err != nil {
		p.b.t.Fatal(err)
	}
	return raw
}
