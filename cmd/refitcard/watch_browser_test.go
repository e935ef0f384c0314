package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"refitcard/render/html/browsertest"
	"refitcard/render/pdf/pdftest"
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

	const good, bad = "{Install 12 cover bolts}", "{Install 10 cover bolts}"
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

	orderly(t, p, w.address)
	w.stop()
	p.Wait(`document.getElementById("lost").textContent.startsWith("Connection lost at ")`)
	looked(t, p, "lost")
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
	saveByRename(t, file, strings.Replace(text, "Install 12 cover bolts", "Install 10 cover bolts", 1))
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

// axe-core finds nothing that keeps people out: with a card and with findings, by day and by night, wide and narrow, and in the list.
func TestAxeFindsNothingOnWatch(t *testing.T) {
	axe := browsertest.Axe(t)
	b := browsertest.Start(t, "what axe-core finds on the page of watch")
	dir := libraryCopy(t)
	file := filepath.Join(dir, "rake-winch-end-cover.md")
	good := readText(t, file)
	bad := strings.Replace(good, "{Install 12 cover bolts}", "{Install 10 cover bolts}", 1)
	variants := filepath.Join(dir, "flap-valve.md")
	for _, c := range []struct {
		name, watched, text, light, script string
		wide                               int
	}{
		{"good", file, good, "light", `document.querySelectorAll(".part")[20].click()`, 1280},
		{"variants", variants, good, "dark", `document.querySelectorAll(".part")[20].click()`, 1280},
		{"broken", file, bad, "light", `document.querySelector(".head-line").click(); document.querySelector("summary").click()`, 1280},
		{"broken", file, bad, "dark", `document.querySelector(".head-line").click(); document.querySelector("summary").click()`, 320},
		{"list", dir, bad, "light", "", 1280},
		{"list", dir, bad, "dark", "", 320},
	} {
		saveByRename(t, file, c.text)
		p := b.Open(startWatch(t, c.watched).address, c.wide, 900, "")
		p.Do("Emulation.setEmulatedMedia", browsertest.Params{"features": []any{browsertest.Params{"name": "prefers-color-scheme", "value": c.light}}})
		p.Wait(`document.documentElement.dataset.shown && document.fonts.status === "loaded"`)
		if c.script != "" {
			p.Wait(`document.querySelector(".part, .head-line") !== null`)
			p.Eval(nil, c.script)
		}
		f := p.Axe(axe)
		for _, v := range f.Violations {
			t.Errorf("%+v: %s: %s: %d times, %.300s %.400s", c.name, v.ID, v.Help, len(v.Nodes), v.Nodes[0].HTML, v.Nodes[0].FailureSummary)
		}
		if f.Passes < 12 {
			t.Errorf("%s: only %d rules were tried", c.name, f.Passes)
		}
		for _, u := range f.Unsure {
			t.Logf("%s, %s, %d: not decided: %.300s", c.name, c.light, c.wide, u)
		}
	}
}

// Whatever is written into a procedure is shown as it is written, and nothing of it is done.
func TestWatchShowsHostileTextAsText(t *testing.T) {
	b := browsertest.Start(t, "that hostile text is shown as text")
	const evil = `<img src=x onerror="window.evil=1"><script>window.evil=2</script><svg onload="window.evil=3"><a href="javascript:window.evil=4">x</a>&lt;b&gt;</textarea></style>`
	dir := t.TempDir()
	file := filepath.Join(dir, `a<img src=x onerror=evil=1>'".md`)
	text := strings.NewReplacer("EVIL", evil, "TITLE", strings.ReplaceAll(evil, `"`, "'")).Replace("---\ntitle: \"TITLE\"\nnumber: X-1\nrevision: A\ndate: 2026-11-20\nmachine: Pump\n---\n\n" +
		"> **WARNING** EVIL\n\n## Parts\n\n- none\n\n## Tools\n\n- \\<img src=x onerror=evil=6>\n\n## Supplies\n\n- none\n\n## Look\n\n1. {Check the EVIL}.\n\n2. {Check \u202egnol a}.\n\n3. {Frobnicate the EVIL}.\n")
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, target := range []string{file, dir} {
		w := startWatch(t, target)
		p := b.Open(w.address, 1280, 800, "")
		p.Wait(`document.querySelectorAll(".finding, #procedures a").length > 0`)
		if target == dir {
			p.Click("#procedures a")
			p.Wait(`document.querySelectorAll(".finding").length > 0`)
		}
		p.Eval(nil, `[...document.querySelectorAll(".head-line, .line, .part, summary")].forEach((e) => e.click())`)
		var s struct {
			Evil, Strange int
			Lines         string
		}
		p.Eval(&s, `(() => {
		  return {
		    Evil: window.evil ?? 0, Strange: document.querySelectorAll("img, iframe, object, section script, #lines a, svg a, [onerror], [onload]").length,
		    Lines: [...document.querySelectorAll(".line .text")].map((l) => l.textContent.replace("\u200b", "")).join("\n"),
		  };
		})()`)
		if s.Evil != 0 || s.Strange != 0 {
			t.Errorf("what is written was done: %+v", s)
		}
		if want := strings.TrimSuffix(strings.ReplaceAll(text, "\u202e", "�"), "\n"); strings.TrimSuffix(s.Lines, "\n") != want {
			t.Errorf("the source is shown as %q, want %q", s.Lines, want)
		}
		saveByRename(t, file, strings.NewReplacer("{Frobnicate the", "{Check the", "\u202e", "").Replace(text))
		p.Wait(`document.querySelector(".page text") !== null`)
		p.Eval(nil, `[...document.querySelectorAll(".part")].forEach((e) => e.click())`)
		var words string
		p.Eval(&words, `[...document.querySelectorAll(".page text")].map((t) => t.textContent).join("")`)
		if !strings.Contains(words, `<img src=x onerror="window.evil=1">`) || !strings.Contains(words, `<script>`) {
			t.Errorf("the card says %q", words)
		}
		p.Eval(&s, `({ Evil: window.evil ?? 0, Strange: document.querySelectorAll("img, iframe, object, section script, svg a, svg svg, [onerror], [onload]").length, Lines: "" })`)
		if s.Evil != 0 || s.Strange != 0 {
			t.Errorf("what is written on the card was done: %+v", s)
		}
		looked(t, p, fmt.Sprintf("hostile-%v", target == dir))
		saveByRename(t, file, text)
		orderly(t, p, w.address)
		var refused bool
		p.Eval(&refused, `(() => { try { document.body.insertAdjacentHTML("beforeend", "<i>x</i>"); return false; } catch { return true; } })()`)
		if !refused {
			t.Error("the page would make markup of text")
		}
	}
}

// The card on the page is the printed one: each dark dot of the one has a dark dot of the other within two tenths of a
// millimetre, of which one is what two programs make of an edge.
func TestWatchDrawsThePrintedCard(t *testing.T) {
	b := browsertest.Start(t, "that the card on the page of watch is the printed one")
	pdftoppm := pdftest.Need(t, "pdftoppm", "that the card on the page of watch is the printed one")
	const dots, wide = 10, 148 // to the mm; mm of A5
	for _, name := range []string{"rake-winch-end-cover", "coupling-alignment", "trailer-hub-brake"} {
		dir := libraryCopy(t)
		file := filepath.Join(dir, name+".md")
		pdf := filepath.Join(dir, "card.pdf")
		w := startWatch(t, file, "--paper", "a5")
		p := b.Open(w.address, 700, 900, "")
		p.Wait(`document.querySelectorAll(".page").length > 0 && document.fonts.status === "loaded" && document.fonts.size === 15`)
		var variant string
		p.Eval(&variant, `document.querySelector("#variants [aria-pressed=true]")?.textContent ?? ""`)
		args := []string{"card", file, "--paper", "a5", "-o", pdf}
		if variant != "" {
			args = append(args, "--variant", variant)
		}
		run(t, done, args...)
		printed := pictures(t, []byte(pdftest.Run(t, pdftoppm, "-r", fmt.Sprint(dots*25.4), "-gray", pdf)))
		var pages int
		if p.Eval(&pages, `document.querySelectorAll(".page").length`); pages != len(printed) {
			t.Fatalf("%s: %d pages of %d", name, pages, len(printed))
		}
		for n, want := range printed {
			shot, err := png.Decode(bytes.NewReader(p.PictureOf(fmt.Sprintf(".page:nth-child(%d) svg", n+1), wide*dots)))
			if err != nil {
				t.Fatal(err)
			}
			got := image.NewGray(shot.Bounds())
			draw.Draw(got, got.Rect, shot, got.Rect.Min, draw.Src)
			want = want.SubImage(got.Rect).(*image.Gray) // half a dot more, rounded up
			for what, pair := range map[string][2]*image.Gray{"on the page and not on paper": {got, want}, "on paper and not on the page": {want, got}} {
				if dark, alone := lonely(pair[0], pair[1]); dark < 10000 || alone*2000 > dark {
					t.Errorf("%s, page %d: of %d dark dots %d are %s", name, n+1, dark, alone, what)
				}
			}
		}
	}
}

// lonely counts the dark dots of a picture, and those that have none in another within two dots.
func lonely(a, b *image.Gray) (dark, alone int) {
	for y := range a.Rect.Dy() {
		for x := range a.Rect.Dx() {
			if a.GrayAt(x, y).Y > 90 {
				continue
			}
			dark++
			near := false
			for dy := -2; dy <= 2; dy++ {
				for dx := -2; dx <= 2; dx++ {
					near = near || b.GrayAt(x+dx, y+dy).Y < 160
				}
			}
			if !near {
				alone++
			}
		}
	}
	return dark, alone
}
