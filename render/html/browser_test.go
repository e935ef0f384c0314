package html_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"refitcard/render/document"
	"refitcard/render/html/browsertest"
)

// In this file a real browser looks at the page, from a file as on a tablet.

// onDisk writes a card's page into a folder of the test and gives its address.
func onDisk(t *testing.T, name string, c *document.JobCard) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name+".html")
	if err := os.WriteFile(path, []byte(cardText(t, c)), 0o600); err != nil {
		t.Fatal(err)
	}
	return (&url.URL{Scheme: "file", Path: filepath.ToSlash(path)}).String()
}

// quiet fails the test where a page has raised an error, broken its own policy or asked for anything but itself.
func quiet(t *testing.T, p *browsertest.Page, address string) {
	t.Helper()
	for _, name := range []string{"Runtime.exceptionThrown", "Log.entryAdded"} {
		for _, e := range p.Events(name) {
			t.Errorf("%s: %.400s", name, e)
		}
	}
	for _, e := range p.Events("Network.requestWillBeSent") {
		var r struct{ Request struct{ URL string } }
		if err := json.Unmarshal(e, &r); err != nil {
			t.Fatal(err)
		}
		if u := r.Request.URL; u != address && !strings.HasPrefix(u, "data:image/") && !strings.HasPrefix(u, "blob:") {
			t.Errorf("the page asked for %.80q", u)
		}
	}
}

const helpers = `
const id = (x) => document.getElementById(x);
const type = (e, v) => { e.value = v; e.dispatchEvent(new Event("input", { bubbles: true })); };
const boxes = () => Array.from(document.querySelectorAll("input[type=checkbox]"));
const shows = () => ({
  ticked: boxes().filter((e) => e.checked).map((e) => e.id),
  values: Array.from(document.querySelectorAll("input:not([type]), textarea")).map((e) => e.value).filter((v) => v),
  count: id("count").textContent, points: id("open-points").textContent, clocks: id("clocks").textContent,
  refused: !id("refused").hidden, others: id("others").hidden ? "" : id("others").textContent,
  verdicts: Array.from(document.querySelectorAll("output")).map((e) => e.textContent),
});
`

// shown is what the page shows of a job.
type shown struct {
	Ticked, Values, Verdicts      []string
	Count, Points, Clocks, Others string
	Refused                       bool
}

func look(p *browsertest.Page, script string) (s shown) {
	p.Eval(&s, "(() => {"+helpers+script+"; return shows(); })()")
	return s
}

func TestTicksSurviveAReload(t *testing.T) {
	b := browsertest.Start(t, "that ticks, readings, names and timers survive a reload")
	t.Log(b.Version())
	c := full()
	address := onDisk(t, "card", c)
	p := b.Open(address, 800, 1000, "")
	before := look(p, `
		boxes()[3].click(); boxes()[4].click(); boxes()[4].click(); boxes()[5].click();
		type(id("s1-a3-m1"), "12,5"); type(id("s1-a3-m2"), "2.9");
		type(id("s2-a2-n"), "R. Toller <b>"); document.querySelector("[data-now=s2-a2-t]").click();
		document.querySelector(".wait button").click()`)
	if !slices.Equal(before.Ticked, []string{"s1-a1", "s1-a2-p2"}) {
		t.Errorf("ticked: %q", before.Ticked)
	}
	p.Go(address)
	after := look(p, "")
	if !slices.Equal(after.Ticked, before.Ticked) || !slices.Equal(after.Values, before.Values) || !slices.Equal(after.Verdicts, before.Verdicts) {
		t.Errorf("after a reload %+v, before %+v", after, before)
	}
	if len(after.Values) != 4 || after.Values[2] != "R. Toller <b>" || !regexp.MustCompile(`^\d{4}-\d\d-\d\d \d\d:\d\d$`).MatchString(after.Values[3]) {
		t.Errorf("values: %q", after.Values)
	}
	if !regexp.MustCompile(`^step 2: (10:00|9:5\d)$`).MatchString(after.Clocks) {
		t.Errorf("the timer: %q", after.Clocks)
	}
	if after.Count != "2 of 8 done" || after.Refused {
		t.Errorf("count %q, refused %v", after.Count, after.Refused)
	}
	quiet(t, p, address)

	// A later revision begins empty, and says that the other's ticks are still there.
	c.Header.Revision, c.Header.Digest = "B", "WXYZ-0000"
	later := onDisk(t, "later", c)
	q := b.Open(later, 800, 1000, "")
	const others = "revision A, ABCD-EFGH, DN300: 2 ticks"
	s := look(q, "")
	for end := time.Now().Add(20 * time.Second); !strings.Contains(s.Others, others) && time.Now().Before(end); s = look(q, "") {
		time.Sleep(50 * time.Millisecond) // each page has a process of its own, and what one keeps reaches the other a little later
	}
	if len(s.Ticked) != 0 || !strings.Contains(s.Others, others) {
		t.Errorf("a later revision: %q ticked, says %q", s.Ticked, s.Others)
	}
	if s := look(q, `id("clear").click(); id("clear-all").click()`); s.Count != "0 of 8 done" {
		t.Errorf("after clearing: %q", s.Count)
	}
	p.Go(address)
	if s := look(p, `id("clear").click(); id("clear-not").click()`); len(s.Ticked) != 2 {
		t.Errorf("the first card lost its ticks: %q", s.Ticked)
	}
	look(p, `id("clear").click(); id("clear-all").click()`)
	p.Go(address)
	if s := look(p, ""); len(s.Ticked)+len(s.Values) != 0 || s.Clocks != "" {
		t.Errorf("cleared, and after a reload there is %+v", s)
	}
}

func TestRefusedStorageIsSaid(t *testing.T) {
	b := browsertest.Start(t, "that the page says so when nothing can be kept")
	address := onDisk(t, "card", full())
	for name, script := range map[string]string{
		"no storage at all": `Object.defineProperty(window, "localStorage", { get() { throw new DOMException("refused", "SecurityError"); } })`,
		"a full one":        `Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }`,
	} {
		p := b.Open(address, 800, 1000, script)
		s := look(p, `boxes()[3].click()`)
		if !s.Refused || s.Count != "1 of 8 done" {
			t.Errorf("%s: said: %v, count %q", name, s.Refused, s.Count)
		}
		quiet(t, p, address)
	}
	p := b.Open(address, 800, 1000, `localStorage.setItem("refitcard/light", "night")`)
	p.Eval(nil, `localStorage.setItem(document.documentElement.dataset.key, '{"ticks":7,"values":{"remarks":{}},"waits":[1]}')`)
	p.Go(address)
	if s := look(p, ""); s.Refused || s.Count != "0 of 8 done" {
		t.Errorf("a state that can't be read: %+v", s)
	}
	quiet(t, p, address)
}

func TestVerdictsAtOnce(t *testing.T) {
	b := browsertest.Start(t, "that readings are judged")
	p := b.Open(onDisk(t, "card", full()), 800, 1000, "")
	for _, c := range []struct{ field, typed, want string }{
		{"s1-a3-m1", "12", "12 mm is within limits"},
		{"s1-a3-m1", "18,0", "18,0 mm is within limits"},
		{"s1-a3-m1", "18,01", "18,01 mm is TOO HIGH: 12–18 mm"},
		{"s1-a3-m1", "11.999", "11.999 mm is TOO LOW: 12–18 mm"},
		{"s1-a3-m1", " 12 1/2 ", "12 1/2 mm is within limits"},
		{"s1-a3-m1", "−13", "−13 mm is TOO LOW: 12–18 mm"},
		{"s1-a3-m1", "1,234.5", "Not a figure: write 12.5 or 12,5"},
		{"s1-a3-m1", "1e1", "Not a figure: write 12.5 or 12,5"},
		{"s1-a3-m1", "14 mm", "Not a figure: write 12.5 or 12,5"},
		{"s1-a3-m1", "1/0", "Not a figure: write 12.5 or 12,5"},
		{"s1-a3-m1", "", ""},
		{"s1-a3-m2", "3", "3 bar is within limits"},
		{"s1-a3-m2", "2,99", "2,99 bar is TOO LOW: ≥ 3 bar"},
		{"s1-a3-m2", "", ""},
		{"s1-a3-m3", "like new", ""},
	} {
		var got struct {
			Say, Points string
			Bad         bool
		}
		p.Eval(&got, fmt.Sprintf(`(() => {%s; const e = id(%q); type(e, %q);
			return { say: id(e.id + "-v").textContent, bad: e.getAttribute("aria-invalid") === "true", points: id("open-points").textContent }; })()`, helpers, c.field, c.typed))
		bad := strings.Contains(c.want, "TOO") || strings.Contains(c.want, "Not")
		if got.Say != c.want || got.Bad != bad || strings.Contains(c.want, "TOO") != strings.Contains(got.Points, "reading out of limits in step 1") ||
			strings.Contains(c.want, "Not") != strings.Contains(got.Points, "reading that is no figure in step 1") {
			t.Errorf("%q: %q, marked %v, points %q; want %q", c.typed, got.Say, got.Bad, got.Points, c.want)
		}
	}
}

// A step that is not needed is settled by its one box, and a hold that was passed over is told.
func TestProgress(t *testing.T) {
	b := browsertest.Start(t, "that progress is counted")
	p := b.Open(onDisk(t, "card", full()), 800, 1000, "")
	for _, c := range []struct{ do, count, points string }{
		{"", "0 of 8 done", ""},
		{`id("s1-not").click()`, "7 of 8 done", ""}, // the other way, step 2, is left
		{`id("s2-a1").click()`, "8 of 8 done", ""},
		{`id("s2-a1").click(); id("s1-not").click(); boxes().slice(1, -1).forEach((e) => e.click())`, "8 of 8 done", "reading missing in step 1"},
		{`type(id("s1-a3-m1"), "13"); type(id("s1-a3-m2"), "3"); type(id("s1-a3-m3"), "x")`, "8 of 8 done", ""},
	} {
		if s := look(p, c.do); s.Count != c.count || s.Points != c.points {
			t.Errorf("after %s: %q, %q; want %q, %q", c.do, s.Count, s.Points, c.count, c.points)
		}
	}
	passed := full()
	passed.Blocks = append(passed.Blocks, document.Step{Name: "3", Number: 3, Acts: []document.Act{{Runs: []document.Run{{Text: "Close it."}}, Tick: true}}})
	p = b.Open(onDisk(t, "passed", passed), 800, 1000, "")
	if s := look(p, `id("s3-a1").click()`); s.Points != "HOLD in step 2 is not signed" {
		t.Errorf("a hold passed over: %q", s.Points)
	}
	if s := look(p, `type(id("s2-a2-n"), "R. Toller"); type(id("s2-a2-t"), "14:30")`); s.Points != "" {
		t.Errorf("a signed hold: %q", s.Points)
	}
}

// A timer runs down, says when it is over, and goes on over a reload.
func TestTimers(t *testing.T) {
	b := browsertest.Start(t, "that timers run")
	c := full()
	for i, blk := range c.Blocks {
		if s, ok := blk.(document.Step); ok && s.Name == "2" {
			s.Acts[0].Runs[1].Text = "2 s"
			c.Blocks[i] = s
		}
	}
	address := onDisk(t, "card", c)
	p := b.Open(address, 800, 1000, "")
	if s := look(p, `document.querySelector(".wait button").click()`); s.Clocks != "step 2: 0:02" {
		t.Errorf("at the start: %q", s.Clocks)
	}
	p.Go(address)
	time.Sleep(3 * time.Second)
	var title, button string
	p.Eval(&title, "document.title")
	p.Eval(&button, `document.querySelector(".wait button").textContent`)
	if s := look(p, ""); s.Clocks != "step 2: time is up" || !strings.HasPrefix(title, "Time is up") || button != "Stop 2 s" {
		t.Errorf("at the end: %q, %q, %q", s.Clocks, title, button)
	}
	if s := look(p, `document.querySelector(".wait button").click()`); s.Clocks != "" {
		t.Errorf("stopped: %q", s.Clocks)
	}
	quiet(t, p, address)
}

// saved waits for the file that a page saves into a folder and reads it, as the desk does.
func saved(t *testing.T, folder, pattern string) *document.Filled {
	t.Helper()
	var names []string
	for end := time.Now().Add(20 * time.Second); len(names) == 0 && time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		names, _ = filepath.Glob(filepath.Join(folder, pattern))
	}
	if len(names) != 1 {
		t.Fatalf("%d files %s", len(names), pattern)
	}
	var f *document.Filled
	var err error
	for end := time.Now().Add(20 * time.Second); f == nil && time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		raw, _ := os.ReadFile(names[0])
		if f, err = document.ReadFilled(bytes.NewReader(raw)); err != nil {
			f = nil // it may be half written yet
		}
	}
	if f == nil {
		t.Fatal(err)
	}
	return f
}

// What is filled in can be taken along as a file and seen as a record.
func TestTheRecordIsSaved(t *testing.T) {
	b := browsertest.Start(t, "that a filled record can be saved")
	folder := t.TempDir()
	address := onDisk(t, "card", full())
	p := b.Open(address, 800, 1000, "")
	p.Do("Browser.setDownloadBehavior", browsertest.Params{"behavior": "allow", "downloadPath": folder})
	look(p, `boxes().slice(1).forEach((e) => e.click()); type(id("s1-a3-m1"), "12,5"); type(id("s1-a3-m2"), "2,5"); type(id("s1-a3-m2-l"), "3.1");
		type(id("s2-a2-n"), "R. <i>Toller"); type(id("s2-a2-t"), "14:30"); type(id("box2"), "A. Winder"); type(id("line5-1"), "W-12");
		type(id("line8-2"), "B. Reed"); type(id("remarks"), "</script>"); id("save").click(); id("show").click()`)
	r := saved(t, folder, "FV-1-A-DN300-record-????-??-??-????.json")
	if r.Card.Number != "FV-1" || r.Card.Revision != "A" || r.Card.Digest != "ABCD-EFGH" || r.Card.Variant != "DN300" || r.Remarks != "</script>" ||
		!slices.Equal(r.Boxes, []document.FilledBox{{Label: "Serial number"}, {Label: "Technician", Typed: "A. Winder"}, {Label: "Finished, date and time"}}) {
		t.Errorf("the head: %+v", r)
	}
	if len(r.Ticks) != 8 || r.Ticks[0].Ticked != nil || !r.Ticks[0].Settled || r.Ticks[7].Ticked == nil || r.Ticks[7].Box != "Wait 10 min." ||
		r.Ticks[4].Box != "Torque 4 flap boltsP-7 by hand Pass 1" || r.Ticks[3].Line != 4 {
		t.Errorf("ticks: %+v", r.Ticks)
	}
	if len(r.Readings) != 3 {
		t.Fatalf("readings: %+v", r.Readings)
	}
	one, two := r.Readings[0], r.Readings[1]
	if one.Found.Typed != "12,5" || one.Found.Value == nil || *one.Found.Value != 12.5 || one.Found.Verdict != document.Within || one.Place != "1" || one.Limits != "12–18" || one.Line != 1 ||
		one.Left.Verdict != document.NoReading || two.Found.Verdict != document.TooLow || two.Left.Typed != "3.1" || two.Left.Verdict != document.Within || two.Unit != "bar" ||
		r.Readings[2].Found.Verdict != document.NoReading {
		t.Errorf("readings: %+v", r.Readings)
	}
	if want := (document.FilledHold{Line: 7, Step: "2", For: "the supervisor", Name: "R. <i>Toller", Time: "14:30"}); len(r.Holds) != 1 || r.Holds[0] != want {
		t.Errorf("holds: %+v", r.Holds)
	}
	for _, want := range []document.FilledWords{{Line: 5, Column: document.WrenchSerial, Typed: "W-12"}, {Line: 6, Column: document.GaugeSerial}, {Line: 8, Column: document.TakenBy, Typed: "B. Reed"}, {Line: 9, Column: document.Batch}} {
		if !slices.Contains(r.Written, want) {
			t.Errorf("%+v is not among %+v", want, r.Written)
		}
	}
	var shown string
	p.Eval(&shown, `document.getElementById("record").textContent + (document.querySelector("#record i") ? "MARKUP" : "")`)
	for _, want := range []string{"12,5 mm", "too low", "3.1 bar", "W-12", "R. <i>Toller", "14:30", "</script>", "A. Winder", "8 of 8"} {
		if !strings.Contains(shown, want) {
			t.Errorf("the record lacks %q", want)
		}
	}
	if strings.Contains(shown, "MARKUP") {
		t.Error("what was typed became markup")
	}
	// On paper the record stands alone.
	p.Eval(nil, `document.body.classList.add("record")`)
	p.Do("Emulation.setEmulatedMedia", browsertest.Params{"media": "print"})
	var seen struct{ Record, Steps int }
	p.Eval(&seen, `({ record: document.getElementById("record").getClientRects().length, steps: Array.from(document.querySelectorAll(".step")).filter((e) => e.getClientRects().length).length })`)
	if seen.Record == 0 || seen.Steps != 0 {
		t.Errorf("the record on paper: %+v", seen)
	}
	quiet(t, p, address)
}

// A reading that is out of limits asks for a second one; that counts from then on.
func TestAReadingIsTakenAgain(t *testing.T) {
	b := browsertest.Start(t, "that a reading can be taken again")
	p := b.Open(onDisk(t, "card", full()), 800, 1000, "")
	for _, c := range []struct {
		do, points string
		asked      bool
	}{
		{`type(id("s1-a3-m1"), "13")`, "", false},
		{`type(id("s1-a3-m1"), "11")`, "reading out of limits in step 1", true},
		{`type(id("s1-a3-m1-l"), "19")`, "reading out of limits in step 1", true},
		{`type(id("s1-a3-m1-l"), "x")`, "reading that is no figure in step 1", true},
		{`type(id("s1-a3-m1-l"), "12")`, "", true},
		{`type(id("s1-a3-m1"), "12")`, "", true}, // what was typed stays seen
		{`type(id("s1-a3-m1-l"), "")`, "", false},
	} {
		s := look(p, c.do)
		var hidden bool
		p.Eval(&hidden, `document.getElementById("s1-a3-m1-l").closest(".left").hidden`)
		if s.Points != c.points || hidden == c.asked {
			t.Errorf("after %s: %q, asked again: %v", c.do, s.Points, !hidden)
		}
	}
}

// What is filled in on the page of any card of the library comes to the desk whole: each reading stands on its line.
func TestTheRecordComesToTheDesk(t *testing.T) {
	b := browsertest.Start(t, "that what is filled in comes onto the record sheet")
	cards := libraryCards(t)
	for _, name := range []string{"winch-brakeRW40", "coupling-alignment", "trailer-hub-brake", "pump-impeller-seal"} {
		c := cards[name]
		folder := t.TempDir()
		p := b.Open(onDisk(t, name, c), 800, 1000, "")
		p.Do("Browser.setDownloadBehavior", browsertest.Params{"behavior": "allow", "downloadPath": folder})
		look(p, `boxes().forEach((e) => e.click());
			document.querySelectorAll("input:not([type])").forEach((e, i) => type(e, e.closest(".reading") ? String(i) + ",5" : "typed " + i));
			type(id("remarks"), "One.\nTwo."); id("save").click()`)
		f := saved(t, folder, "*.json")
		typed := map[string]int{}
		for _, r := range f.Readings {
			typed[strings.TrimSpace(r.Found.Typed+" "+r.Unit)]++
			if r.Left.Typed != "" {
				typed[strings.TrimSpace(r.Left.Typed+" "+r.Unit)]++
			}
		}
		r := c.Record
		if wrong := r.Fill(f); len(wrong) > 0 {
			t.Fatalf("%s: %q", name, wrong)
		}
		for _, x := range r.Lines.Readings {
			for _, v := range []document.RecordValue{x.Found, x.Left} {
				if v.Words != "" {
					typed[v.Words]--
				}
			}
			if x.Tick && x.Ticked == "" {
				t.Errorf("%s: line %d is not ticked", name, x.Line)
			}
		}
		for words, n := range typed {
			if n != 0 {
				t.Errorf("%s: %q stands %d times too seldom on the record sheet", name, words, n)
			}
		}
		if n := len(r.Unread()); n > 0 || len(typed) < 2 {
			t.Errorf("%s: %d lines are empty, %d readings were looked for", name, n, len(typed))
		}
	}
}
