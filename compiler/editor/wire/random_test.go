package wire

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	text16 "unicode/utf16"
	"unicode/utf8"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// Nothing in this file works out a place as the server does: what it says is held against a second reading of the protocol.

// cut parts a text into lines as the protocol has it: behind \r\n, \n or \r.
func cut(text string) (lines []string) {
	at := 0
	for i := 0; i < len(text); i++ {
		if text[i] == '\n' || text[i] == '\r' && !strings.HasPrefix(text[i+1:], "\n") {
			lines = append(lines, text[at:i+1])
			at = i + 1
		}
	}
	return append(lines, text[at:])
}

// where gives the line and the character of a byte of a text.
func where(text string, offset int, s scale) position {
	lines := cut(text)
	for i, line := range lines {
		if offset < len(line) || i == len(lines)-1 {
			if s == utf8s {
				return position{i, offset}
			}
			return position{i, len(text16.Encode([]rune(line[:offset])))}
		}
		offset -= len(line)
	}
	return position{}
}

// wanted gives what has to be shown in each file: what fresh compiles of all open procedures find there.
func (w *writing) wanted() map[string][]string {
	files := fstest.MapFS{}
	for name, text := range w.disk {
		files[name] = text
	}
	for name, text := range w.open {
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	lib := compiler.Open(files, func(path string) string { return path })
	var found []diag.Finding
	for _, name := range names(w.open) {
		if !strings.HasSuffix(name, ".md") || !strings.HasPrefix(strings.TrimPrefix(w.open[name], "\ufeff"), "---") {
			continue
		}
		r, err := lib.Compile(name, rules.Options{})
		if err != nil {
			w.t.Fatal(err)
		}
		found = append(found, r.Findings...)
	}
	list := map[string][]string{}
	for _, f := range diag.Sort(found) {
		if f.Waived == "" && f.At.Known() {
			path := f.At.File.Path
			if len(f.Variants) > 0 {
				f.Message += " (" + strings.Join(f.Variants, ", ") + ")"
			}
			list[path] = append(list[path], fmt.Sprintf("%v-%v %d %s %s", w.place(f.At.File, f.At.Start), w.place(f.At.File, f.At.End), int(f.Severity), f.Rule, f.Message))
		}
	}
	return list
}

func (w *writing) place(f *source.File, offset int) position {
	text, isOpen := w.open[f.Path]
	if !isOpen {
		text = string(f.Text)
	} else {
		offset += f.Mark
	}
	return where(text, offset, w.scale)
}

// shownIn gives what the editor shows in a file.
func (w *writing) shownIn(path string) (list []string) {
	for _, d := range w.c.shown[uri(path)].Diagnostics {
		message, _, _ := strings.Cut(d.Message, "\ndo: ")
		list = append(list, fmt.Sprintf("%v-%v %d %s %s", d.Range.Start, d.Range.End, 4-d.Severity, d.Code, message))
	}
	return list
}

// writing is somebody who types at random into the documents of a library.
type writing struct {
	t       *testing.T
	c       *client
	r       *rand.Rand
	scale   scale
	disk    fstest.MapFS
	open    map[string]string
	version int
	pieces  []string
}

// odd lists what is seldom typed.
var odd = []string{"\r\n", "\r", "\n", "\t", "🔧", "e\u0301", "\ufeff", "{", "}", "|", "\\", "---\n", "\n\n", "## Parts\n", "{include shared/safe.md}", "- none\n", "×", "\u00a0", "> ", "`", "<!--", "-->", "* ", "1. "}

// edit makes one change of a text at random, and gives it as an editor sends it.
func (w *writing) edit(text string) (string, change) {
	runes := func(at int) int { // the start of a character; the protocol knows no place within the end of a line
		for at < len(text) && (!utf8.RuneStart(text[at]) || at > 0 && text[at-1:at+1] == "\r\n") {
			at++
		}
		return at
	}
	from := runes(w.r.IntN(len(text) + 1))
	to := from
	put := ""
	switch w.r.IntN(6) {
	case 0:
		to = runes(min(from+w.r.IntN(12), len(text)))
	case 1:
		put = odd[w.r.IntN(len(odd))]
	case 2:
		put = string(rune('a' + w.r.IntN(26)))
	case 3:
		to = runes(min(from+w.r.IntN(200), len(text)))
		put = w.pieces[w.r.IntN(len(w.pieces))]
	case 4:
		put = w.pieces[w.r.IntN(len(w.pieces))]
	default:
		to = runes(min(from+1+w.r.IntN(3), len(text)))
		put = string(rune('0' + w.r.IntN(10)))
	}
	return text[:from] + put + text[to:], change{&span{where(text, from, w.scale), where(text, to, w.scale)}, put}
}

func seedOf(t testing.TB) uint64 {
	if n, err := strconv.ParseUint(os.Getenv("REFITCARD_SEED"), 10, 64); err == nil {
		return n
	}
	if os.Getenv("REFITCARD_LONG") != "" {
		return rand.Uint64()
	}
	return 1
}

// After every edit, whatever was typed, what is shown is what a fresh compile of the same texts finds.
func TestFindingsAreThoseOfAFreshCompile(t *testing.T) {
	for _, s := range []scale{utf16, utf8s} {
		t.Run(string(s), func(t *testing.T) {
			seed := seedOf(t)
			t.Logf("REFITCARD_SEED=%d", seed)
			w := &writing{t: t, r: rand.New(rand.NewPCG(seed, 7)), scale: s, disk: fstest.MapFS{}, open: map[string]string{}}
			w.library()
			edits := 150
			if os.Getenv("REFITCARD_LONG") != "" {
				edits = 20_000
			}
			w.c = start(t, hostOf(w.disk))
			w.c.hello(s)
			found := 0
			for range edits {
				w.one()
				w.c.rest()
				found += w.compare()
			}
			if found < edits {
				t.Errorf("only %d findings were shown in all", found)
			}
		})
	}
}

// library lays out some procedures, with what they include, and settings.
func (w *writing) library() {
	for name, text := range cases(w.t, "procedures") {
		w.disk[name] = &fstest.MapFile{Data: text}
		w.pieces = append(w.pieces, strings.SplitAfter(string(text), "\n")...)
	}
	for _, name := range []string{"refitcard.yaml", "crib.csv", "stock.csv"} {
		raw, err := os.ReadFile("../../../procedures/" + name)
		if err != nil {
			w.t.Fatal(err)
		}
		w.disk[name] = &fstest.MapFile{Data: raw}
	}
	slices.Sort(w.pieces)
	w.disk["crlf.md"] = &fstest.MapFile{Data: bytes.ReplaceAll([]byte(faulty), []byte("\n"), []byte("\r\n"))}
	w.disk["mark.md"] = &fstest.MapFile{Data: []byte("\ufeff" + strings.Replace(faulty, "finger-tight", "🔧\tfinger-tight {tool 17 mm}", 1))}
}

// one opens, closes or changes a document.
func (w *writing) one() {
	opened := names(w.open)
	switch k := w.r.IntN(40); {
	case len(opened) == 0 || k == 0 && len(opened) < 5:
		all := names(w.disk)
		name := all[w.r.IntN(len(all))]
		w.open[name] = string(w.disk[name].Data)
		w.c.open(name, w.open[name])
	case k == 1 && len(opened) > 1:
		name := opened[w.r.IntN(len(opened))]
		delete(w.open, name)
		w.c.notify("textDocument/didClose", documentParams{documentID{URI: uri(name)}})
	case k == 2: // begun anew
		name := opened[w.r.IntN(len(opened))]
		w.version++
		w.open[name] = string(w.disk[name].Data)
		w.c.change(name, w.version, change{nil, w.open[name]})
	default:
		name := opened[w.r.IntN(len(opened))]
		w.version++
		var list []change
		for range 1 + w.r.IntN(3) {
			text, c := w.edit(w.open[name])
			w.open[name] = text
			list = append(list, c)
		}
		w.c.change(name, w.version, list...)
	}
}

// compare holds what is shown in every file against fresh compiles, and gives how many findings that are.
func (w *writing) compare() (found int) {
	w.t.Helper()
	paths := map[string]bool{}
	for u := range w.c.shown {
		paths[strings.TrimPrefix(u, uri(""))] = true
	}
	for name := range w.disk {
		paths[name] = true
	}
	fresh := w.wanted()
	for path := range fresh {
		paths[path] = true
	}
	for _, path := range names(paths) {
		want, got := fresh[path], w.shownIn(path)
		if !slices.Equal(want, got) {
			w.t.Fatalf("%s\nshown:\n%s\na fresh compile:\n%s\nopen %q, the text:\n%q", path, strings.Join(got, "\n"), strings.Join(want, "\n"), names(w.open), w.open[path])
		}
		found += len(got)
	}
	return found
}

// A day of typing leaves no more behind than its first hour.
func TestManyEditsDoNotGrowMemory(t *testing.T) {
	edits := 3_000
	if os.Getenv("REFITCARD_LONG") != "" {
		edits = 100_000
	}
	c := start(t, hostOf(fstest.MapFS{}))
	c.hello(utf16)
	c.open("job.md", job)
	heap := func() uint64 {
		c.rest()
		runtime.GC()
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	var early uint64
	for i := range edits {
		// A letter typed and taken back, and one that stays a while.
		if i%2 == 0 {
			c.change("job.md", i, change{&span{position{33 - i%5, 3}, position{33 - i%5, 3}}, "x"})
		} else {
			c.change("job.md", i, change{&span{position{33 - (i-1)%5, 3}, position{33 - (i-1)%5, 4}}, ""})
		}
		if i%50 == 0 {
			c.rest()
		}
		if i == edits/10 {
			early = heap()
		}
	}
	late := heap()
	t.Logf("%d bytes after a tenth of the edits, %d at the end", early, late)
	if late > early+early/4+1<<20 {
		t.Errorf("memory grew from %d to %d bytes in %d edits", early, late, edits)
	}
}
