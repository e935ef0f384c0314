package wire

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// host is a procedure that takes in the guard of safe.md.
var (
	host = strings.Replace(strings.Replace(job, "## Strip", "## Before\n\n{include shared/safe.md}\n\n## Strip", 1), "{Check the cover is dry}", "{Install the guard}. {Check the cover is dry}", 1)
	safe = "## Parts\n\n| Part | Qty |\n|:--|--:|\n| guard | 1 |\n\n## Make safe\n\n1. {Remove the guard}.\n"
)

func rulesOf(list []string) (rules []string) {
	for _, f := range list {
		_, rule, _ := strings.Cut(f, " ")
		rules = append(rules, rule)
	}
	return rules
}

// What is typed into a file counts at once for the procedures that include it, and findings stand in the file that has the slip.
func TestAnIncludeCountsAsItIsTyped(t *testing.T) {
	c := start(t, hostOf(fstest.MapFS{"shared/safe.md": {Data: []byte(safe)}}))
	c.hello(utf16)
	c.open("job.md", host)
	c.rest()
	if len(c.findings("job.md")) > 0 {
		t.Fatalf("to begin with %v", c.shown)
	}
	slip := strings.Replace(safe, "{Remove the guard}", "{Remove the gaurd}", 1)
	c.open("shared/safe.md", slip)
	c.rest()
	if got := c.findings("shared/safe.md"); !slices.Equal(rulesOf(got), []string{"part/unknown"}) || !strings.HasPrefix(got[0], "8:15-8:20") {
		t.Errorf("in the included file: %q", got)
	}
	c.change("shared/safe.md", 2, change{nil, strings.ReplaceAll(safe, "guard", "screen")})
	c.rest()
	if got := rulesOf(c.findings("job.md")); !slices.Contains(got, "part/unknown") {
		t.Errorf("the part has another name now: %q", got)
	}
	c.notify("textDocument/didClose", documentParams{documentID{URI: uri("shared/safe.md")}})
	c.rest()
	if len(c.findings("job.md"))+len(c.findings("shared/safe.md")) > 0 {
		t.Errorf("closed unsaved, the file on the disk counts: %v", c.shown)
	}
	// Nobody's procedure, and no procedure includes it: nothing is said of it.
	c.open("notes.md", "# Notes\n\n{Remove the gaurd}.\n")
	c.rest()
	if p, ok := c.shown[uri("notes.md")]; ok && len(p.Diagnostics) > 0 {
		t.Errorf("of plain notes it says %v", p.Diagnostics)
	}
}

// A finding points to its related place, also in another file.
func TestRelatedPlacesAreTold(t *testing.T) {
	c := start(t, hostOf(fstest.MapFS{"shared/safe.md": {Data: []byte(safe)}}))
	c.hello(utf16)
	c.open("job.md", strings.Replace(host, "{Install the guard}. ", "", 1))
	c.rest()
	for name, p := range c.shown {
		for _, d := range p.Diagnostics {
			if d.Code == "refit/left-off" {
				if name != uri("shared/safe.md") {
					t.Errorf("it stands in %s", name)
				}
				return
			}
		}
	}
	t.Errorf("shown %v", c.shown)
}

func TestDocumentsComeAndGo(t *testing.T) {
	c := start(t, hostOf(fstest.MapFS{}))
	c.hello(utf8s)
	c.open("job.md", faulty)
	c.open("job.md", job) // opened twice: the second text counts
	c.rest()
	if got := c.findings("job.md"); len(got) > 0 {
		t.Errorf("after the second opening: %q", got)
	}
	c.notify("textDocument/didOpen", openParams{documentItem{URI: "file:///shop/./job.md", Version: 1, Text: faulty}})
	c.rest()
	if len(c.findings("job.md")) > 0 || len(c.shown["file:///shop/./job.md"].Diagnostics) == 0 {
		t.Errorf("by another spelling: %v", c.shown)
	}
	c.notify("textDocument/didOpen", openParams{documentItem{URI: "untitled:Untitled-1", Version: 1, Text: faulty}})
	c.rest()
	if len(c.shown["untitled:Untitled-1"].Diagnostics) == 0 {
		t.Error("nothing is said of a document that lies nowhere")
	}
	// Far beyond the end, before the start, the wrong way round: the nearest place counts.
	for i, at := range []span{
		{position{9000, 0}, position{9001, 5}}, {position{-1, -1}, position{0, -1}}, {position{3, 9000}, position{3, 1}}, {position{5, 2}, position{1, 0}},
	} {
		c.change("./job.md", i+2, change{&at, ""})
	}
	var got []symbol
	if bad := c.call("textDocument/documentSymbol", documentParams{documentID{URI: "file:///shop/./job.md"}}, &got); bad != nil || len(got) != 5 {
		t.Errorf("%v, %d entries", bad, len(got))
	}
}

// A change of the front matter is seen by the other procedures of the library; so are settings, saved or not.
func TestTheLibraryIsSeenAsItIsTyped(t *testing.T) {
	c := start(t, hostOf(fstest.MapFS{"refitcard.yaml": {Data: []byte("shop: Fen Lane\n")}, "a.md": {Data: []byte(job)}, "b.md": {Data: []byte(strings.Replace(job, "SD-1", "SD-2", 1))}}))
	c.hello(utf16)
	c.open("a.md", job)
	c.open("b.md", strings.Replace(job, "SD-1", "SD-2", 1))
	c.rest()
	if len(c.findings("a.md"))+len(c.findings("b.md")) > 0 {
		t.Fatalf("to begin with %v", c.shown)
	}
	c.change("b.md", 2, change{&span{position{2, 11}, position{2, 12}}, "1"})
	c.rest()
	for _, name := range []string{"a.md", "b.md"} {
		if got := rulesOf(c.findings(name)); !slices.Contains(got, "library/number-repeated") {
			t.Errorf("%s: %q", name, got)
		}
	}
	c.change("b.md", 3, change{&span{position{2, 11}, position{2, 12}}, "2"})
	at := where(job, strings.Index(job, "{Check the cover"), utf16)
	c.change("a.md", 2, change{&span{at, at}, "{Set up the trestle}. {Strike down the trestle}. "})
	c.rest()
	if got := rulesOf(c.findings("a.md")); !slices.Contains(got, "tag/unknown-verb") || slices.Contains(got, "library/number-repeated") {
		t.Errorf("before the settings have the verbs: %q", got)
	}
	c.open("refitcard.yaml", "shop: Fen Lane\nverbs:\n  - {verb: set up, undone: strike down}\n")
	c.rest()
	if got := c.findings("a.md"); len(got) > 0 {
		t.Errorf("the settings have the verbs now: %q", got)
	}
	c.change("refitcard.yaml", 2, change{&span{position{0, 0}, position{0, 0}}, "paper: a99\n"})
	c.rest()
	if got := c.findings("refitcard.yaml"); !slices.Equal(got, []string{"0:7-0:10 file/bad-value"}) {
		t.Errorf("a slip in the settings: %q", got)
	}
}

// Where settings come to be written above a document it belongs to their library from then on.
func TestSettingsThatComeLater(t *testing.T) {
	files := fstest.MapFS{"deep/job.md": {Data: []byte(job)}, "job.md": {Data: []byte(job)}}
	host := hostOf(files)
	below := true
	host.Root = func(string) string {
		if below {
			return "/shop/deep"
		}
		return "/shop"
	}
	host.Open = func(root string) (fs.FS, error) { return fs.Sub(files, strings.TrimPrefix(root+"/.", "/shop/")) }
	c := start(t, host)
	c.hello(utf16)
	c.open("deep/job.md", job)
	c.rest()
	if len(c.findings("deep/job.md")) > 0 {
		t.Errorf("alone: %v", c.shown)
	}
	below = false
	files["refitcard.yaml"] = &fstest.MapFile{Data: []byte("shop: Fen Lane\n")}
	c.notify("workspace/didChangeWatchedFiles", map[string]any{"changes": []any{map[string]any{"uri": uri("refitcard.yaml"), "type": 1}}})
	c.rest()
	if got := rulesOf(c.findings("deep/job.md")); !slices.Equal(got, []string{"library/number-repeated"}) {
		t.Errorf("in the library: %q", got)
	}
	if bad := c.call("textDocument/hover", placeParams{TextDocument: documentID{URI: uri("deep/job.md")}}, nil); bad != nil {
		t.Error(bad)
	}
	c.open("crib.csv", "tool,crib\n")
	if bad := c.call("textDocument/hover", placeParams{TextDocument: documentID{URI: uri("crib.csv")}}, nil); bad == nil || !strings.Contains(bad.Message, "is no procedure") {
		t.Errorf("of a list it says %v", bad)
	}
}

// A document that outgrows all limits is given up with a word, and taken on again when its whole text comes.
func TestADocumentThatOutgrowsTheLimits(t *testing.T) {
	c := start(t, hostOf(fstest.MapFS{}))
	c.hello(utf16)
	c.open("job.md", job)
	start := position{7, 0}
	for i := range 3 {
		c.change("job.md", i+2, change{&span{start, start}, strings.Repeat("x", mostText/2)})
	}
	c.rest()
	if len(c.lines) != 1 || !strings.Contains(c.lines[0], "job.md has grown beyond") || len(c.findings("job.md")) > 0 {
		t.Errorf("said %q", c.lines)
	}
	if bad := c.call("textDocument/hover", placeParams{TextDocument: documentID{URI: uri("job.md")}}, nil); bad == nil || bad.Code != requestFailed {
		t.Errorf("answered with %v", bad)
	}
	c.change("job.md", 9, change{nil, faulty})
	c.rest()
	if len(c.findings("job.md")) != 1 {
		t.Errorf("then %v", c.shown)
	}
}

// The edits of fixes, renaming and tidying, made by the editor at the places that they name, give the text that was meant, whatever
// stands before them on the line.
func TestEditsFitTheText(t *testing.T) {
	text := "\ufeff" + strings.ReplaceAll(strings.Replace(job, "1. {Remove 12 cover bolts}", "1. 🔧\té {Remove 12 cover botls}", 1), "\n", "\r\n")
	for _, s := range []scale{utf16, utf8s} {
		c := start(t, hostOf(fstest.MapFS{}))
		c.hello(s)
		c.open("job.md", text)
		line := strings.Count(text[:strings.Index(text, "botls")], "\n")
		here := where(text, strings.Index(text, "botls"), s)
		var actions []codeAction
		if bad := c.call("textDocument/codeAction", actionParams{TextDocument: documentID{URI: uri("job.md")}, Range: span{here, here}}, &actions); bad != nil {
			t.Fatal(bad)
		}
		if len(actions) != 2 || actions[0].Kind != kindFix || !actions[0].IsPreferred || len(actions[0].Diagnostics) != 1 || actions[1].Kind != kindMend {
			t.Fatalf("%+v", actions)
		}
		want := strings.Replace(text, "botls", "bolts", 1)
		for _, a := range actions {
			if got := applied(t, text, a.Edit.DocumentChanges[0].Edits, s); got != want {
				t.Errorf("%s, line %d: %q gives %q", s, line, a.Title, got)
			}
			if v := a.Edit.DocumentChanges[0].TextDocument.Version; v == nil || *v != 1 {
				t.Errorf("%q is of version %v", a.Title, v)
			}
		}
		c.change("job.md", 2, change{nil, want})
		var w workspaceEdit
		place := placeParams{documentID{URI: uri("job.md")}, where(want, strings.Index(want, "bolts}"), s)}
		if bad := c.call("textDocument/rename", renameParams{place, "hatch screw"}, &w); bad != nil {
			t.Fatal(bad)
		}
		named := applied(t, want, w.DocumentChanges[0].Edits, s)
		if named != strings.ReplaceAll(want, "cover bolt", "hatch screw") {
			t.Errorf("%s: renamed %q", s, named)
		}
		var edits []textEdit
		if bad := c.call("textDocument/formatting", documentParams{documentID{URI: uri("job.md")}}, &edits); bad != nil {
			t.Fatal(bad)
		}
		tidied := applied(t, want, edits, s)
		if strings.Count(tidied, "\r\n") != strings.Count(want, "\r\n") || !strings.HasPrefix(tidied, "\ufeff---\r\n") || !strings.Contains(tidied, "| cover bolt   |  12 | M8×30 8.8 socket | reuse   | holds end cover  | 22 N·m |\r\n") {
			t.Errorf("%s: tidied %q", s, tidied)
		}
		if bad := c.call("textDocument/rename", renameParams{place, "end cover"}, nil); bad == nil || bad.Code != requestFailed || !strings.Contains(bad.Message, "is a part already") {
			t.Errorf("refused with %v", bad)
		}
	}
}

// applied makes edits as an editor does: all places are those of the text before.
func applied(t *testing.T, text string, edits []textEdit, s scale) string {
	t.Helper()
	offset := func(p position) int {
		for i := 0; i <= len(text); i++ {
			if where(text, i, s) == p {
				return i
			}
		}
		t.Fatalf("there is no %v", p)
		return 0
	}
	for _, e := range slices.Backward(edits) { // they come in order
		from, to := offset(e.Range.Start), offset(e.Range.End)
		text = text[:from] + e.NewText + text[to:]
	}
	return text
}

// An editor of old, which knows flat outlines and plain edits alone, gets them.
func TestAnEditorOfOld(t *testing.T) {
	c := start(t, hostOf(fstest.MapFS{}))
	if bad := c.call("initialize", json.RawMessage(`{"capabilities":{"textDocument":{"codeAction":{}}}}`), nil); bad != nil {
		t.Fatal(bad)
	}
	c.open("job.md", faulty)
	c.rest()
	if d := c.shown[uri("job.md")].Diagnostics; len(d) != 1 || d[0].Related != nil || !strings.Contains(d[0].Message, "\ncame off: line 29") {
		t.Errorf("%+v", d)
	}
	var flat []symbol
	if bad := c.call("textDocument/documentSymbol", documentParams{documentID{URI: uri("job.md")}}, &flat); bad != nil || len(flat) < 15 || flat[0].Location == nil || flat[0].Range != nil {
		t.Errorf("%v, %+v", bad, flat)
	}
	var w workspaceEdit
	place := placeParams{documentID{URI: uri("job.md")}, where(faulty, strings.Index(faulty, "end cover}"), utf16)}
	if bad := c.call("textDocument/rename", renameParams{place, "lid"}, &w); bad != nil || len(w.Changes[uri("job.md")]) != 5 || w.DocumentChanges != nil {
		t.Errorf("%v, %+v", bad, w)
	}
	var none []codeAction
	if bad := c.call("textDocument/codeAction", actionParams{TextDocument: documentID{URI: uri("job.md")}}, &none); bad != nil || len(none) > 0 {
		t.Errorf("%v, %+v", bad, none)
	}
	var all []location
	if bad := c.call("textDocument/references", map[string]any{"textDocument": documentID{URI: uri("job.md")}, "position": place.Position, "context": map[string]any{"includeDeclaration": false}}, &all); bad != nil || len(all) != 4 {
		t.Errorf("%v, %v", bad, fmt.Sprint(all))
	}
}
