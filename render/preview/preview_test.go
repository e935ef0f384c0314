package preview

import (
	"bufio"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"refitcard/compiler/diag"
	"refitcard/compiler/source"
	"refitcard/render/sheet"
)

// still makes always the same.
type still struct{}

func (still) Anew() {}

func (still) Names() (names, read []string, err error) { return []string{"a.md"}, nil, nil }
func (still) Explain(rule string) (why, whole string)  { return "why " + rule, "all on " + rule }
func (still) Make(name string) Work {
	return Work{Title: "A 1", Files: []*source.File{source.New(name, name, []byte("one\n"))}}
}

// paper makes a card of one line from a file: what stands in it. "ERROR" in it is an error, "look at NAME" reads another file.
type paper struct {
	mu      sync.Mutex
	dir     string
	made    int
	stumble atomic.Bool // the next time
}

func (p *paper) Anew() {}

func (p *paper) Names() (names, read []string, err error) {
	entries, err := os.ReadDir(p.dir)
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".md") {
			names = append(names, e.Name())
		}
	}
	return names, []string{p.dir}, err
}

func (p *paper) Explain(rule string) (why, whole string) { return "why " + rule, "all on " + rule }

func (p *paper) Make(name string) Work {
	p.mu.Lock()
	p.made++
	p.mu.Unlock()
	full := filepath.Join(p.dir, name)
	w := Work{Title: name, Read: []string{full}}
	if p.stumble.Swap(false) {
		panic("a mistake of ours")
	}
	raw, err := os.ReadFile(full)
	if err != nil {
		w.Gone, w.Wrong = os.IsNotExist(err), err.Error()
		return w
	}
	text := string(raw)
	if _, other, ok := strings.Cut(text, "look at "); ok {
		other = filepath.Join(p.dir, strings.Fields(other)[0])
		more, err := os.ReadFile(other)
		w.Read = append(w.Read, other)
		text += fmt.Sprint(string(more), err)
	}
	file := source.New(name, name, raw)
	w.Files = []*source.File{file}
	if at := strings.Index(text, "ERROR"); at >= 0 {
		w.Findings = []diag.Finding{{
			Rule: "part/unknown", Severity: diag.Error, At: file.At(at, at+5), Message: "it is wrong", Do: "mend it", Step: 1,
			Related: []source.Related{{At: file.At(0, 1), Words: "begun"}},
		}, {Rule: "part/unknown", Severity: diag.Error, At: file.At(at, at+5), Message: "let pass", Waived: "known"}}
		return w
	}
	page := sheet.Page{Ops: []sheet.Op{sheet.Text{X: 10, Y: 10, Size: 12, String: text}}, Origins: []sheet.Origin{{X: 10, Y: 6, W: 50, H: 5, At: file.At(0, len(file.Text)), Step: "1"}}}
	w.Cards = []Card{{Sheet: &sheet.Document{Width: 100, Height: 50, Pages: []sheet.Page{page}}}}
	return w
}

// reader reads what a page is told.
type reader struct {
	t    testing.TB
	told chan shownWork
	list chan shownList
}

func follow(t testing.TB, address, query string) *reader {
	t.Helper()
	got, err := http.Get(address + "events" + query)
	if err != nil {
		t.Fatal(err)
	}
	if got.StatusCode != 200 {
		t.Fatalf("status %d", got.StatusCode)
	}
	t.Cleanup(func() { got.Body.Close() })
	r := &reader{t, make(chan shownWork, 100), make(chan shownList, 100)}
	go func() {
		lines := bufio.NewReader(got.Body)
		for {
			line, err := lines.ReadString('\n')
			if err != nil {
				return
			}
			data, ok := strings.CutPrefix(line, "data: {")
			if !ok {
				continue
			}
			var work shownWork
			var list shownList
			if json.Unmarshal([]byte("{"+data), &list) == nil && list.List != nil {
				r.list <- list
			} else if err := json.Unmarshal([]byte("{"+data), &work); err == nil {
				r.told <- work
			}
		}
	}()
	return r
}

// until waits for a state that the page is told; states on the way are passed over.
func (r *reader) until(what string, is func(shownWork) bool) shownWork {
	r.t.Helper()
	late := time.After(long)
	for {
		select {
		case w := <-r.told:
			if is(w) {
				return w
			}
		case <-late:
			r.t.Fatalf("the page is never told that %s", what)
		}
	}
}

func (w shownWork) says() string {
	if len(w.Cards) == 0 {
		return ""
	}
	return fmt.Sprint(w.Cards[0].Pages[0].Ops)
}

func write(t testing.TB, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// renewed puts a new file in the place of the old one, as editors save.
func renewed(t testing.TB, name, text string) {
	t.Helper()
	write(t, name+"~", text)
	if err := os.Rename(name+"~", name); err != nil {
		t.Fatal(err)
	}
}
