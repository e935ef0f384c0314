package wire

import (
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// slow is a folder with a picture that does not come before a gate is open.
type slow struct{ gate chan struct{} }

func (s slow) Open(name string) (fs.File, error) {
	if name == "slow.png" {
		<-s.gate
	}
	return fstest.MapFS{}.Open(name)
}

// withPicture puts the slow picture into a procedure.
func withPicture(text string) string {
	return strings.Replace(text, "## Parts", "![the cover](slow.png)\n\n## Parts", 1)
}

// A compile that takes too long holds nobody up: the session goes on, questions about that text are put off, and its findings come
// when it is done.
func TestASlowCompileHoldsNobodyUp(t *testing.T) {
	host, waits, release := held(t)
	c := start(t, host)
	c.hello(utf16)
	c.open("job.md", withPicture(job))
	waits <- time.Time{}
	c.open("other.md", faulty)
	c.rest()
	if len(c.findings("other.md")) == 0 || len(c.shown[uri("job.md")].Diagnostics) > 0 {
		t.Errorf("shown %v", c.shown)
	}
	if len(c.lines) != 1 || !strings.Contains(c.lines[0], "job.md") {
		t.Errorf("said %q", c.lines)
	}
	if bad := c.call("textDocument/hover", placeParams{TextDocument: documentID{URI: uri("job.md")}}, nil); bad == nil || bad.Code != requestFailed {
		t.Errorf("answered with %v", bad)
	}
	release()
	for range 1000 { // it comes by itself
		if c.rest(); len(c.findings("job.md")) > 0 {
			break
		}
	}
	if got := c.findings("job.md"); len(got) != 1 || !strings.Contains(got[0], "figure/missing") {
		t.Errorf("then %q", got)
	}
}

// While somebody types on, the texts between are not compiled: the latest wins.
func TestTheLatestTextWins(t *testing.T) {
	host, _, release := held(t)
	c := start(t, host)
	c.hello(utf16)
	text := withPicture(faulty)
	c.open("job.md", text)
	for i := range 40 {
		c.change("job.md", i+2, change{nil, text + strings.Repeat("5. {Check it again}.\n", i)})
	}
	c.change("job.md", 100, change{nil, job})
	c.notify("$/setTrace", map[string]any{"value": "off"}) // once this is being read, all changes wait
	release()
	published := 0
	c.seen = func(p publishParams) {
		if published++; p.Version == nil || *p.Version != 100 || len(p.Diagnostics) > 0 {
			t.Errorf("shown %v", p)
		}
	}
	c.rest()
	if published == 0 || published > 2 {
		t.Errorf("findings were shown %d times", published)
	}
}

func TestAPauseComesWhenAllIsAnswered(t *testing.T) {
	pauses := make(chan int, 100)
	host := hostOf(fstest.MapFS{})
	host.Pause = func() {
		select {
		case pauses <- 1:
		default:
		}
	}
	c := start(t, host)
	c.hello(utf16)
	c.open("job.md", "---\ntitle: x\n---\n")
	c.rest()
	if len(pauses) == 0 {
		t.Error("no pause came")
	}
}
