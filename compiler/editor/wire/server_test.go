package wire

import (
	"slices"
	"strings"
	"testing"
)

func TestFindingsFollowTheText(t *testing.T) {
	c := start(t, hostOf(shop))
	c.hello(utf16)
	c.open("job.md", faulty)
	c.rest()
	if got := c.findings("job.md"); !slices.Contains(got, "34:4-34:26 refit/left-off") {
		t.Fatalf("got %q", got)
	}
	c.change("job.md", 2, change{&span{position{34, 12}, position{34, 14}}, "12"})
	c.rest()
	if got := c.findings("job.md"); len(got) > 0 || *c.shown[uri("job.md")].Version != 2 {
		t.Fatalf("got %q of version %d", got, *c.shown[uri("job.md")].Version)
	}
	c.notify("textDocument/didClose", documentParams{documentID{URI: uri("job.md")}})
	c.rest()
	if got := c.shown[uri("job.md")]; got.Version != nil || len(got.Diagnostics) > 0 {
		t.Fatalf("a closed document shows %v", got)
	}
	if len(c.lines) > 0 {
		t.Errorf("said %q", strings.Join(c.lines, "\n"))
	}
}
