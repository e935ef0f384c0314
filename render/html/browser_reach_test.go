package html_test

import (
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"refitcard/render/document"
	"refitcard/render/html/browsertest"
)

// In this file it is looked at who can use the page, and on what: keyboard, small screen, paper, night, aids.

// With the keyboard alone every box is reached and ticked, the focus is seen each time, and nothing covers it.
func TestKeyboardAlone(t *testing.T) {
	b := browsertest.Start(t, "that the keyboard alone will do")
	for _, name := range []string{"filter-pack", "sling-inspection"} {
		c := libraryCards(t)[name]
		address := onDisk(t, name, c)
		p := b.Open(address, 420, 800, "")
		ticked, reached := 0, map[string]bool{}
		for range 400 {
			p.Key("Tab")
			var f struct {
				ID, Kind, Words string
				Outline         string
				Covered, Box    bool
			}
			p.Eval(&f, `(() => { const e = document.activeElement, r = e.getBoundingClientRect(), bar = document.querySelector(".bar");
				const at = document.elementFromPoint(r.left + r.width / 2, r.top + r.height / 2);
				return { id: e.id, kind: e.tagName, words: e.textContent.slice(0, 30), outline: getComputedStyle(e).outlineStyle + getComputedStyle(e).outlineWidth,
					box: e.type === "checkbox", covered: !(at && (e.contains(at) || at.contains(e))) || (at !== null && bar.contains(at) && !bar.contains(e)) }; })()`)
			if f.Kind == "BODY" || reached[f.Kind+f.ID+f.Words] && f.ID == "" {
				break
			}
			reached[f.Kind+f.ID+f.Words] = true
			if f.Outline != "solid4px" || f.Covered {
				t.Errorf("%s: focus on %s %q: outline %q, covered %v", name, f.Kind, f.ID+f.Words, f.Outline, f.Covered)
			}
			if f.Box && !strings.HasSuffix(f.ID, "-not") {
				p.Key(" ")
				ticked++
			}
		}
		s := look(p, "")
		if want := fmt.Sprintf("%d of %d done", c.End.Boxes, c.End.Boxes); s.Count != want || ticked == 0 {
			t.Errorf("%s: %q with %d boxes ticked by key, want %q", name, s.Count, ticked, want)
		}
		for _, id := range []string{"box2", "remarks", "show", "save", "clear", "next", "light"} {
			found := false
			for r := range reached {
				found = found || strings.HasPrefix(r, "BUTTON"+id) || strings.HasPrefix(r, "INPUT"+id) || strings.HasPrefix(r, "TEXTAREA"+id)
			}
			if !found {
				t.Errorf("%s: %q is not reached", name, id)
			}
		}
		quiet(t, p, address)
	}
}

// filled types, ticks and opens all that a page can show.
const filled = `boxes().forEach((e, i) => { if (i % 2) e.click(); });
	document.querySelectorAll(".reading input").forEach((e, i) => type(e, ["123456,789", "0.01", "x"][i % 3]));
	document.querySelectorAll(".hold input").forEach((e) => type(e, "R. Toller"));
	document.querySelectorAll(".wait button").forEach((e) => e.click());
	type(id("remarks"), "The flap was stiff."); id("clear").click(); id("show").click()`

// No card scrolls sideways on 320 pixels (WCAG 2.2, 1.4.10), empty or filled, and whatever a finger aims at is 48 pixels high
// and wide.
func TestNarrowScreen(t *testing.T) {
	b := browsertest.Start(t, "that cards fit a screen of 320 pixels")
	cards := allCards(t)
	for _, name := range slices.Sorted(maps.Keys(cards)) {
		p := b.Open(onDisk(t, name, cards[name]), 320, 640, "")
		for _, state := range []string{"", filled} {
			look(p, state)
			var got struct {
				Wide  float64
				Over  []string
				Small []string
			}
			p.Eval(&got, `({
				wide: document.documentElement.scrollWidth,
				over: Array.from(document.querySelectorAll("body *")).filter((e) => !e.closest(".unseen, .skip") && e.getBoundingClientRect().right > 320.5).map((e) => e.tagName + " " + e.className + " " + e.textContent.slice(0, 20)).slice(0, 5),
				small: Array.from(document.querySelectorAll("button, input, textarea")).filter((e) => { const r = e.getBoundingClientRect(); return r.width && (r.height < 47.9 || r.width < 47.9); }).map((e) => e.tagName + " " + e.id + " " + e.textContent).slice(0, 5),
			})`)
			if got.Wide > 320 || len(got.Over) > 0 || len(got.Small) > 0 {
				t.Errorf("%s: %g wide, over the edge %q, too small %q", name, got.Wide, got.Over, got.Small)
			}
		}
	}
}

// On paper stand the same steps and boxes as on the card, and nothing of the screen.
func TestPrintsLikeTheCard(t *testing.T) {
	b := browsertest.Start(t, "that the page prints like the card")
	pdftotext, _ := exec.LookPath("pdftotext")
	cards := libraryCards(t)
	for _, name := range []string{"rake-winch-end-cover", "winch-brakeRW40", "coupling-alignment"} {
		c := cards[name]
		p := b.Open(onDisk(t, name, c), 800, 1000, "")
		p.Do("Emulation.setEmulatedMedia", browsertest.Params{"media": "print"})
		var got struct {
			Steps, Boxes int
			Screen       []string
		}
		p.Eval(&got, `(() => { const seen = (e) => e.getClientRects().length > 0; const all = (s) => Array.from(document.querySelectorAll(s)).filter(seen);
			return { steps: all(".step h3").length, boxes: all("input[type=checkbox]").length, screen: all("button, .bar, .wait, .told, #record").map((e) => e.tagName + e.id) }; })()`)
		if got.Steps != c.End.Steps || got.Boxes != c.End.Boxes || len(got.Screen) > 0 {
			t.Errorf("%s: %d steps and %d boxes on paper, want %d and %d; of the screen %q", name, got.Steps, got.Boxes, c.End.Steps, c.End.Boxes, got.Screen)
		}
		p.Do("Emulation.setEmulatedMedia", browsertest.Params{"media": ""})
		raw := p.PDF()
		if pdftotext == "" {
			t.Log("pdftotext is not installed, so not checked: the words of the printed file")
			continue
		}
		file := filepath.Join(t.TempDir(), "card.pdf")
		if err := os.WriteFile(file, raw, 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(pdftotext, "-layout", file, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		pages := strings.Split(strings.TrimRight(string(out), "\f\n "), "\f")
		for i, text := range pages {
			for _, want := range []string{c.Header.Number, c.Header.Title, c.Header.Digest, c.Foot.Lead, fmt.Sprintf("page %d of %d", i+1, len(pages))} {
				if !strings.Contains(text, want) {
					t.Errorf("%s, page %d: no %q", name, i+1, want)
				}
			}
		}
		scanned(t, file, len(pages), c.Header.Payload)
		var steps []string
		for _, m := range regexp.MustCompile(`(?m)^\s{0,4}(\d+[a-z]?)\s`).FindAllStringSubmatch(string(out), -1) {
			steps = append(steps, m[1])
		}
		for _, blk := range c.Blocks {
			if s, ok := blk.(document.Step); ok && !slices.Contains(steps, s.Name) {
				t.Errorf("%s: step %s is not on paper, only %q", name, s.Name, steps)
			}
		}
	}
}

// scanned reads the scan code back from each page of a printed file.
func scanned(t *testing.T, file string, pages int, want string) {
	t.Helper()
	pdftoppm, err1 := exec.LookPath("pdftoppm")
	zbarimg, err2 := exec.LookPath("zbarimg")
	if err1 != nil || err2 != nil {
		t.Log("pdftoppm or zbarimg is not installed, so not checked: the scan code of the printed file")
		return
	}
	base := strings.TrimSuffix(file, ".pdf")
	if out, err := exec.Command(pdftoppm, "-r", "150", "-png", file, base).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	pictures, err := filepath.Glob(base + "-*.png")
	if err != nil || len(pictures) != pages {
		t.Fatalf("%d pictures of %d pages, %v", len(pictures), pages, err)
	}
	for _, name := range pictures {
		out, err := exec.Command(zbarimg, "-q", "--raw", name).Output()
		if got := strings.TrimSpace(string(out)); err != nil || got != want {
			t.Errorf("%s: the scan code says %q, want %q (%v)", filepath.Base(name), got, want, err)
		}
	}
}

// Day and night follow the tablet until the switch is pressed; that is kept.
func TestDayAndNight(t *testing.T) {
	b := browsertest.Start(t, "that day and night can be switched")
	address := onDisk(t, "card", full())
	p := b.Open(address, 800, 1000, "")
	ground := func() (s string) {
		p.Eval(&s, `getComputedStyle(document.body).backgroundColor + " " + document.getElementById("light").getAttribute("aria-pressed")`)
		return s
	}
	prefers := func(v string) {
		p.Do("Emulation.setEmulatedMedia", browsertest.Params{"features": []any{browsertest.Params{"name": "prefers-color-scheme", "value": v}}})
	}
	const day, night = "rgb(236, 236, 236) false", "rgb(27, 27, 27) true"
	press := func() { p.Eval(nil, `document.getElementById("light").click()`) }
	for i, c := range []struct {
		do   func()
		want string
	}{
		{func() { prefers("light") }, day},
		{func() { prefers("dark") }, night},
		{press, day},
		{func() { p.Go(address) }, day},
		{press, night},
		{func() { prefers("light") }, night},
	} {
		c.do()
		got := ground()
		for end := time.Now().Add(5 * time.Second); got != c.want && time.Now().Before(end); got = ground() {
			time.Sleep(20 * time.Millisecond)
		}
		if got != c.want {
			t.Errorf("%d: %q, want %q", i, got, c.want)
		}
	}
}

// axeLook is one way of looking at a card: on a screen that wide, by day or night, after a script has run.
type axeLook struct {
	width         int
	light, script string
}

// axe-core, a program that looks for what keeps people out (Deque Systems, MPL 2.0), finds nothing by day on a wide screen, nor by
// night on a narrow one with everything filled in and opened.
func TestAxeFindsNothing(t *testing.T) {
	axe := browsertest.Axe(t)
	b := browsertest.Start(t, "what axe-core finds")
	t.Log(b.Version())
	cards := allCards(t)
	ways := []axeLook{{1000, "light", ""}, {320, "dark", filled}}
	for i, name := range slices.Sorted(maps.Keys(cards)) {
		looks := ways[i%2 : i%2+1] // each takes seconds: a card of the library is looked at in one way, and every third one at all
		switch {
		case name == "full" || os.Getenv("REFITCARD_LONG") != "":
			looks = ways
		case i%3 != 0:
			continue
		}
		address := onDisk(t, name, cards[name])
		for _, how := range looks {
			p := b.Open(address, how.width, 24000, "") // so high that the bar covers nothing: axe-core can't see below it
			p.Do("Emulation.setEmulatedMedia", browsertest.Params{"features": []any{browsertest.Params{"name": "prefers-color-scheme", "value": how.light}}})
			look(p, how.script)
			f := p.Axe(axe)
			for _, v := range f.Violations {
				t.Errorf("%s, %+v: %s: %s: %d times, %.300s %.400s", name, how, v.ID, v.Help, len(v.Nodes), v.Nodes[0].HTML, v.Nodes[0].FailureSummary)
			}
			if f.Passes < 20 {
				t.Errorf("%s: only %d rules were tried", name, f.Passes)
			}
			for _, u := range f.Unsure {
				t.Errorf("%s, %+v: not decided: %.300s", name, how, u)
			}
			p.Eval(nil, `localStorage.clear()`)
		}
	}
	p := b.Open(onDisk(t, "spoilt", full()), 800, 800, "")
	p.Eval(nil, `document.querySelector("label[for=s1-a1]").remove(); document.querySelector("h1").style.color = "#ccc"`)
	if f := p.Axe(axe); len(f.Violations) < 2 {
		t.Errorf("a label and a contrast are spoilt, and axe-core finds only %d", len(f.Violations))
	}
}
