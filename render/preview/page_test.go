package preview

import (
	"context"
	"fmt"
	"io"
	"math"
	"net"
	"net/http"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"refitcard/compiler/source"
	"refitcard/render/html/browsertest"
	"refitcard/render/sheet"
	"refitcard/templates"
)

// The page says that the program is not there any more, and comes back by itself when it is.
func TestThePageComesBack(t *testing.T) {
	b := browsertest.Start(t, "that the page comes back when the program does")
	dir := t.TempDir()
	write(t, filepath.Join(dir, "a.md"), "first")
	l, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	address, secret := l.Addr().String(), secret()
	start := func(l net.Listener) (stop func()) {
		s := newServer(Options{Maker: &paper{dir: dir}, Name: "a.md"}, address)
		s.secret = secret
		ctx, cancel := context.WithCancel(context.Background())
		web, worked := &http.Server{Handler: s}, make(chan struct{})
		go func() {
			defer close(worked)
			s.work(ctx)
		}()
		go func() { _ = web.Serve(l) }() // it ends when it is closed
		return func() {
			web.Close()
			cancel()
			<-worked
		}
	}
	stop := start(l)
	says := func(words string) string {
		return fmt.Sprintf(`[...document.querySelectorAll(".page text")].some((t) => t.textContent === %q)`, words)
	}
	p := b.Open("http://"+address+"/"+secret+"/", 900, 700, "")
	p.Wait(says("first"))
	p.Wait(`document.getElementById("lost").hidden`)
	stop()
	p.Wait(`!document.getElementById("lost").hidden && document.getElementById("lost").textContent.includes("Connection lost at")`)
	p.Wait(says("first"))
	write(t, filepath.Join(dir, "a.md"), "second")
	if l, err = net.Listen("tcp4", address); err != nil {
		t.Fatal(err)
	}
	defer start(l)()
	p.Wait(says("second"))
	p.Wait(`document.getElementById("lost").hidden`)
}

// drawnIn makes a card with a drawing in which somebody has put a script.
type drawnIn struct{ still }

const trap = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 3"><script>top.evil = 1</script><rect width="4" height="3" onload="top.evil = 2"/></svg>`

func (drawnIn) Make(name string) Work {
	f := source.New(name, name, []byte("![x](x.svg)\n"))
	page := sheet.Page{Ops: []sheet.Op{sheet.Image{X: 5, Y: 5, W: 40, H: 30, Key: "x.svg", Type: "svg", Data: []byte(trap)}}}
	return Work{Files: []*source.File{f}, Cards: []Card{{Sheet: &sheet.Document{Width: 50, Height: 40, Pages: []sheet.Page{page}}}}}
}

// A figure is served as what it is, and what is written into a drawing is never done, not even when it is opened by itself.
func TestFiguresAreOnlyPictures(t *testing.T) {
	address := serve(t, Options{Maker: drawnIn{}, Name: "a.md"})
	w := follow(t, address, "").until("there is a card", func(w shownWork) bool { return w.State == "good" })
	key := w.Cards[0].Pages[0].Ops[0][5].(string)
	r, err := http.Get(address + "picture/" + key)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil || string(body) != trap || r.Header.Get("Content-Type") != "image/svg+xml" {
		t.Errorf("%s %q (%v)", r.Header.Get("Content-Type"), body, err)
	}
	if policy := r.Header.Get("Content-Security-Policy"); !strings.Contains(policy, "default-src 'none'") || !strings.Contains(policy, "sandbox") || strings.Contains(policy, "script") {
		t.Errorf("the policy of a figure is %q", policy)
	}
	b := browsertest.Start(t, "that a script in a figure is not run")
	p := b.Open(address, 900, 700, "")
	p.Wait(`document.querySelector("image") !== null`)
	p.Wait(`performance.getEntriesByType("resource").some((e) => e.name.includes("/picture/"))`)
	var evil bool
	if p.Eval(&evil, `"evil" in window`); evil {
		t.Error("the script in the drawing was run on the page")
	}
	p.Go(address + "picture/" + key)
	if p.Eval(&evil, `"evil" in window`); evil {
		t.Error("the script in the drawing was run by itself")
	}
}

// Words stand out from their ground by the ratio that WCAG 2.2 asks for (1.4.3, level AA: 4.5 to 1), and what has to be seen by 3
// to 1 (1.4.11), by day and by night.
func TestContrast(t *testing.T) {
	raw, err := templates.Pages.ReadFile("pages/watch.css")
	if err != nil {
		t.Fatal(err)
	}
	blocks := regexp.MustCompile(`(?s):root \{(.*?)\}`).FindAllStringSubmatch(string(raw), -1)
	if len(blocks) != 2 {
		t.Fatalf("%d sets of colours", len(blocks))
	}
	for i, block := range blocks {
		colours := map[string]float64{}
		for _, m := range regexp.MustCompile(`--([a-z-]+): #([0-9a-f]{3,6})\b`).FindAllStringSubmatch(block[1], -1) {
			colours[m[1]] = brightness(t, m[2])
		}
		for _, c := range []struct {
			words, ground string
			least         float64
		}{
			{"ink", "ground", 4.5},
			{"ink", "field", 4.5},
			{"soft", "ground", 4.5},
			{"soft", "field", 4.5},
			{"error", "field", 4.5},
			{"error", "ground", 4.5},
			{"warning", "field", 4.5},
			{"warning", "ground", 4.5},
			{"advice", "field", 4.5},
			{"advice", "ground", 4.5},
			{"link", "field", 4.5},
			{"link", "ground", 4.5},
			{"on-bar", "bar", 4.5},
			{"ink", "mark", 4.5},
			{"field", "ink", 4.5},
			{"line", "field", 3},
			{"focus", "field", 3},
			{"focus", "ground", 3},
		} {
			a, okA := colours[c.words]
			b, okB := colours[c.ground]
			if ratio := (max(a, b) + 0.05) / (min(a, b) + 0.05); !okA || !okB || ratio < c.least {
				t.Errorf("set %d: %s on %s: %.2f to 1", i+1, c.words, c.ground, ratio)
			}
		}
	}
}

// brightness is the relative luminance of a colour, as WCAG 2.2 defines it.
func brightness(t *testing.T, hex string) float64 {
	t.Helper()
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	v, err := strconv.ParseUint(hex, 16, 32)
	if err != nil || len(hex) != 6 {
		t.Fatalf("no colour: %q", hex)
	}
	part := func(shift int) float64 {
		c := float64(v>>shift&0xff) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*part(16) + 0.7152*part(8) + 0.0722*part(0)
}
