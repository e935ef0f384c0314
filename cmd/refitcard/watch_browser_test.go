package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"refitcard/render/html/browsertest"
)

// In this file a real browser looks at the page of watch.

// saveByRename saves as editors do: a new file, put in the old one's place.
func saveByRename(t testing.TB, name, text string) {
	t.Helper()
	next := filepath.Join(filepath.Dir(name), ".#"+filepath.Base(name)+"~")
	if err := os.WriteFile(next, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(next, name); err != nil {
		t.Fatal(err)
	}
}

func readText(t testing.TB, name string) string {
	t.Helper()
	raw, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}

// looked leaves a picture of the page in the folder that REFITCARD_LOOK names, for people to look at.
func looked(t testing.TB, p *browsertest.Page, name string) {
	t.Helper()
	if dir := os.Getenv("REFITCARD_LOOK"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, name+".png"), p.Picture(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// orderly fails the test where the page has raised an error, broken its policy or asked for anything but what is served to it.
func orderly(t testing.TB, p *browsertest.Page, address string) {
	t.Helper()
	for _, name := range []string{"Runtime.exceptionThrown", "Log.entryAdded", "Runtime.consoleAPICalled"} {
		for _, e := range p.Events(name) {
			t.Errorf("%s: %.400s", name, e)
		}
	}
	asked := 0
	for _, e := range p.Events("Network.requestWillBeSent") {
		var r struct{ Request struct{ URL string } }
		if err := json.Unmarshal(e, &r); err != nil {
			t.Fatal(err)
		}
		asked++
		if !strings.HasPrefix(r.Request.URL, address) {
			t.Errorf("the page asked for %.80q", r.Request.URL)
		}
	}
	if asked < 5 {
		t.Errorf("only %d requests were seen", asked)
	}
}

// pageSeen is what stands on the page.
type pageSeen struct {
	Count, Made, Place, Mark, Title string
	Lines, Parts, Findings          []string // those that are chosen: numbers, labels, messages
	Stale                           bool
	Card, Told, Source              float64 // how far the panes are scrolled
	Focus                           string
}

const pageLook = `(() => {
  const id = (x) => document.getElementById(x), all = (s) => [...document.querySelectorAll(s)];
  return {
    Count: id("count").textContent, Made: id("made").textContent, Place: id("place").textContent, Title: document.title,
    Mark: all("#lines mark").map((m) => m.textContent).join("|"),
    Lines: all(".line.chosen .number").map((n) => n.textContent), Parts: all(".part.chosen").map((p) => p.getAttribute("aria-label")),
    Findings: all(".finding.chosen .message").map((m) => m.textContent), Stale: id("card").classList.contains("stale"),
    Card: id("pages").scrollTop, Told: id("told").scrollTop, Source: id("lines").scrollTop,
    Focus: document.activeElement.getAttribute("aria-label") ?? document.activeElement.className,
  };
})()`

func seenOn(p *browsertest.Page) (s pageSeen) {
	p.Eval(&s, pageLook)
	return s
}

// What is right in the sample, and what is put in its place.
const good, bad = "{Install 12 cover bolts}", "{Install 10 cover bolts}"

// A writer's hour: the card is looked at, a step is clicked, the file is broken, the finding is clicked, lines are put before
// it, it is mended, and the program ends.
func TestWatchInABrowser(t *testing.T) {
	b := browsertest.Start(t, "that the page of watch shows card, findings and source, and keeps its place")
	file := filepath.Join(libraryCopy(t), "rake-winch-end-cover.md")
	text := readText(t, file)
	w := startWatch(t, file)
	p := b.Open(w.address, 1280, 800, "")
	p.Wait(`document.querySelectorAll(".part").length > 20`)
	looked(t, p, "good")
	if s := seenOn(p); s.Count != "nothing to report" || s.Stale || !strings.HasPrefix(s.Title, "nothing to report – ") {
		t.Errorf("a clean one is shown as %+v", s)
	}

	p.Click(`.part[aria-label*="Remove 12 cover bolts"]`)
	s := seenOn(p)
	if s.Place != file+":47:4" || !slices.Equal(s.Lines, []string{"47"}) || !strings.HasPrefix(s.Mark, "Sling the cover") || len(s.Parts) != 1 {
		t.Errorf("a click on an act chooses %+v", s)
	}
	looked(t, p, "chosen")

	before := seenOn(p)
	saveByRename(t, file, strings.Replace(text, good, bad, 1))
	p.Wait(`document.querySelectorAll(".finding").length === 1`)
	s = seenOn(p)
	if s.Count != "1 error" || !s.Stale || !strings.HasSuffix(s.Made, ", before the errors") || !strings.HasPrefix(s.Made, "of ") {
		t.Errorf("a broken one is shown as %+v", s)
	}
	if s.Card != before.Card || s.Place != before.Place || s.Mark != before.Mark || !slices.Equal(s.Parts, before.Parts) {
		t.Errorf("its place was lost: %+v, before %+v", s, before)
	}
	sameWordsAsCheck(t, p, file)

	p.Click(".head-line")
	s = seenOn(p)
	if s.Place != file+":53:5" || s.Mark != "Install 10 cover bolts" || len(s.Findings) != 1 {
		t.Errorf("a click on the finding chooses %+v", s)
	}
	if !slices.ContainsFunc(s.Parts, func(l string) bool { return strings.HasPrefix(l, "step 6, line 53") }) {
		t.Errorf("it marks on the card %q", s.Parts)
	}
	looked(t, p, "broken")
	p.Click(".row button")
	if s := seenOn(p); s.Mark != "Remove 12 cover bolts" || !slices.Equal(s.Lines, []string{"47"}) {
		t.Errorf("a click on the related place chooses %+v", s)
	}
	p.Click("summary")
	p.Wait(`document.querySelector("pre")?.textContent.startsWith("refit/left-off: ")`)
	looked(t, p, "explained")

	p.Click(".head-line")
	theRestOfTheHour(t, p, file, text)
	orderly(t, p, w.address)
	w.stop()
	p.Wait(`document.getElementById("lost").textContent.startsWith("Connection lost at ")`)
	looked(t, p, "lost")
}

// theRestOfTheHour goes on where a finding is chosen and the text on its check is open.
func theRestOfTheHour(t *testing.T, p *browsertest.Page, file, text string) {
	t.Helper()
	saveByRename(t, file, strings.Replace(strings.Replace(text, good, bad, 1), "\n## Parts", "\nOne more line.\n\n## Parts", 1))
	p.Wait(`document.querySelector(".where").textContent.endsWith(":55:5")`)
	if s := seenOn(p); s.Place != file+":55:5" || s.Mark != "Install 10 cover bolts" || !slices.Equal(s.Lines, []string{"55"}) || len(s.Findings) != 1 {
		t.Errorf("with lines before it the chosen place is %+v", s)
	}
	var open bool
	if p.Eval(&open, `document.querySelector("details").open`); !open {
		t.Error("what was opened is shut again")
	}

	saveByRename(t, file, strings.Replace(text, "Remove 12 cover bolts", "remove 12 cover bolts", 1))
	p.Wait(`!document.getElementById("card").classList.contains("stale")`)
	if s := seenOn(p); s.Count != "nothing to report" || strings.Contains(s.Made, "before") {
		t.Errorf("mended, it is shown as %+v", s)
	}
	p.Wait(`[...document.querySelectorAll(".page text")].some((t) => t.textContent.includes("remove "))`)

	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	p.Wait(`document.getElementById("made").textContent.endsWith(", before the file went")`)
	looked(t, p, "gone")
	saveByRename(t, file, text)
	p.Wait(`document.getElementById("count").textContent === "nothing to report"`)
}

// sameWordsAsCheck holds the findings on the page against those that check prints.
func sameWordsAsCheck(t *testing.T, p *browsertest.Page, file string) {
	t.Helper()
	var told []string
	p.Eval(&told, `[...document.querySelectorAll(".finding")].flatMap((f) => [
	  f.querySelector(".where").textContent + "  " + f.querySelector(".weight").textContent + "  " + f.querySelector(".message").textContent,
	  ...[...f.querySelectorAll(".row")].map((r) => "      " + r.firstChild.textContent.padEnd(10) + " " + r.lastChild.textContent),
	  f.querySelector("summary").textContent.replace(/^more: /, "      more       refitcard explain "),
	])`)
	printed, _ := run(t, found, "check", file)
	var want []string
	for line := range strings.Lines(printed) {
		line = strings.TrimSuffix(line, "\n")
		if line != "" && !strings.Contains(line, "| ") && !strings.Contains(line, " in 1 of 1 ") {
			want = append(want, line)
		}
	}
	if !slices.Equal(told, want) {
		t.Errorf("the page tells\n%q\ncheck tells\n%q", told, want)
	}
}

// Without a mouse: Tab reaches the card, the arrow keys its parts, Enter the source; a renewal keeps the keys where they are.
func TestWatchByKeysAlone(t *testing.T) {
	b := browsertest.Start(t, "that the page of watch can be used without a mouse")
	file := filepath.Join(libraryCopy(t), "rake-winch-end-cover.md")
	text := readText(t, file)
	w := startWatch(t, file)
	p := b.Open(w.address, 1280, 800, "")
	p.Wait(`document.querySelectorAll(".part").length > 20`)
	for n := 0; !strings.Contains(seenOn(p).Focus, "line "); n++ {
		if n > 10 {
			t.Fatalf("Tab does not reach the card, but %q", seenOn(p).Focus)
		}
		p.Key("Tab")
	}
	first := seenOn(p).Focus
	p.Key("ArrowDown")
	p.Key("ArrowDown")
	s := seenOn(p)
	if s.Focus == first || !strings.Contains(s.Focus, "line ") {
		t.Errorf("the arrow keys go from %q to %q", first, s.Focus)
	}
	p.Key("Enter")
	if s := seenOn(p); len(s.Parts) != 1 || s.Parts[0] != s.Focus || len(s.Lines) == 0 {
		t.Errorf("Enter chooses %+v", s)
	}
	held := seenOn(p).Focus
	saveByRename(t, file, strings.Replace(text, good, bad, 1))
	p.Wait(`document.querySelectorAll(".finding").length === 1`)
	if s := seenOn(p); s.Focus != held {
		t.Errorf("a renewal moves the keys from %q to %q", held, s.Focus)
	}
	p.Key("Tab")
	if s := seenOn(p); s.Focus != "head-line" {
		t.Errorf("behind the card Tab reaches %q", s.Focus)
	}
	p.Key("Enter")
	if s := seenOn(p); s.Mark != "Install 10 cover bolts" {
		t.Errorf("Enter on the finding chooses %+v", s)
	}
	for n := 0; !strings.HasPrefix(seenOn(p).Focus, "Lines of the source"); n++ {
		if n > 10 {
			t.Fatalf("Tab does not reach the source, but %q", seenOn(p).Focus)
		}
		p.Key("Tab")
	}
	p.Key("ArrowDown")
	if s := seenOn(p); !slices.Equal(s.Lines, []string{"54"}) || s.Place != file+":54:1" {
		t.Errorf("the arrow key chooses %+v", s)
	}
	orderly(t, p, w.address)
}

// On a telephone nothing stands beyond the edge, at night as by day.
func TestWatchOnASmallScreen(t *testing.T) {
	b := browsertest.Start(t, "that the page of watch fits a small screen")
	dir := libraryCopy(t)
	file := filepath.Join(dir, "flap-valve.md")
	saveByRename(t, file, strings.Replace(readText(t, file), "{Insert 3 stop logs}", "{Insert 3 stop logs} and {insert the flap", 1))
	for name, address := range map[string]string{"procedure": startWatch(t, file).address, "list": startWatch(t, dir).address} {
		p := b.Open(address, 320, 640, "")
		p.Wait(`document.querySelectorAll(".finding, #procedures li").length > 0`)
		for _, light := range []string{"light", "dark"} {
			p.Do("Emulation.setEmulatedMedia", browsertest.Params{"features": []map[string]string{{"name": "prefers-color-scheme", "value": light}}})
			var wide int
			if p.Eval(&wide, `document.documentElement.scrollWidth`); wide > 320 {
				t.Errorf("%s: it is %d wide on a screen of 320", name, wide)
			}
			looked(t, p, name+"-small-"+light)
		}
		p.Size(1280, 800)
		looked(t, p, name+"-wide-dark")
		orderly(t, p, address)
	}
}
