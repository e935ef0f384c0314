package main

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"refitcard/render/html/browsertest"
	"refitcard/render/pdf/pdftest"
)

// In this file a real browser looks at the page of watch from outside: who can read it, what hostile text does to it, and whether
// its card is the printed one.

// axe-core finds nothing that keeps people out: with a card and with findings, by day and by night, wide and narrow, and in the list.
func TestAxeFindsNothingOnWatch(t *testing.T) {
	axe := browsertest.Axe(t)
	b := browsertest.Start(t, "what axe-core finds on the page of watch")
	dir := libraryCopy(t)
	file := filepath.Join(dir, "rake-winch-end-cover.md")
	right := readText(t, file)
	wrong := strings.Replace(right, good, bad, 1)
	variants := filepath.Join(dir, "flap-valve.md")
	for _, c := range []struct {
		name, watched, text, light, script string
		wide                               int
	}{
		{"good", file, right, "light", `document.querySelectorAll(".part")[20].click()`, 1280},
		{"variants", variants, right, "dark", `document.querySelectorAll(".part")[20].click()`, 1280},
		{"broken", file, wrong, "light", `document.querySelector(".head-line").click(); document.querySelector("summary").click()`, 1280},
		{"broken", file, wrong, "dark", `document.querySelector(".head-line").click(); document.querySelector("summary").click()`, 320},
		{"list", dir, wrong, "light", "", 1280},
		{"list", dir, wrong, "dark", "", 320},
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
	for _, name := range []string{"coupling-alignment", "trailer-hub-brake"} {
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
