package html_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"maps"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	nethtml "golang.org/x/net/html"

	"refitcard/render/document"
	"refitcard/render/html"
)

// Each act of the card has its one box with the act's words as its label, no box is over, and their number is the one that
// the card tells at its end.
func TestEachActHasItsBox(t *testing.T) {
	for name, c := range allCards(t) {
		root := tree(t, cardText(t, c))
		labels := map[string][]string{}
		for _, l := range elementsOf(root, "label") {
			labels[attr(l, "for")] = append(labels[attr(l, "for")], told(l))
		}
		var got []string
		fields, holds, waits := 0, 0, 0
		for _, e := range elementsOf(root) {
			switch {
			case e.Data == "input" && attr(e, "type") == "checkbox":
				if len(labels[attr(e, "id")]) != 1 {
					t.Errorf("%s: box %q has the labels %q", name, attr(e, "id"), labels[attr(e, "id")])
					continue
				}
				got = append(got, labels[attr(e, "id")][0])
			case attr(e, "class") == "reading":
				fields++
			case attr(e, "class") == "hold":
				holds++
			case strings.HasPrefix(attr(e, "class"), "wait"):
				waits++
			}
		}
		if want := boxesOf(c); !slices.Equal(got, want) {
			t.Errorf("%s: the boxes are\n%q, want\n%q", name, got, want)
		}
		if len(got) != c.End.Boxes {
			t.Errorf("%s: %d boxes, the card tells of %d", name, len(got), c.End.Boxes)
		}
		wantFields, wantHolds, wantWaits := 0, 0, 0
		for _, b := range c.Blocks {
			if s, ok := b.(document.Step); ok {
				for _, a := range s.Acts {
					for _, box := range a.Boxes {
						wantFields += max(len(box.Lines), 1)
					}
					if a.Hold != nil {
						wantHolds++
					}
					wantWaits += len(regexp.MustCompile(`([Ww]ait|[Ss]tart [a-z ]+,) \d+ (min|h|s)\b`).FindAllString(runsText(a.Runs), -1))
				}
			}
		}
		if fields != wantFields || holds != wantHolds || waits != wantWaits {
			t.Errorf("%s: %d readings, %d holds, %d waits; want %d, %d, %d", name, fields, holds, waits, wantFields, wantHolds, wantWaits)
		}
	}
}

// Names of elements are unique, and whatever points to one finds it; every field has a label, every button words.
func TestNamesOfElements(t *testing.T) {
	for name, c := range allCards(t) {
		root := tree(t, cardText(t, c))
		seen, labelled := map[string]bool{}, map[string]bool{}
		for _, e := range elementsOf(root) {
			if id := attr(e, "id"); id != "" && seen[id] {
				t.Errorf("%s: two elements are named %q", name, id)
			}
			seen[attr(e, "id")] = true
			if e.Data == "label" {
				labelled[attr(e, "for")] = true
			}
		}
		for _, e := range elementsOf(root) {
			for _, a := range []string{"for", "aria-labelledby", "aria-describedby", "data-act", "data-now"} {
				for _, id := range strings.Fields(attr(e, a)) {
					if !seen[id] {
						t.Errorf("%s: %s of <%s> points to %q, which is not there", name, a, e.Data, id)
					}
				}
			}
			switch {
			case slices.Contains([]string{"input", "textarea"}, e.Data) && !labelled[attr(e, "id")]:
				t.Errorf("%s: field %q has no label", name, attr(e, "id"))
			case e.Data == "button" && told(e) == "":
				t.Errorf("%s: button %q has no words", name, attr(e, "id"))
			case e.Data == "button" && attr(e, "type") != "button":
				t.Errorf("%s: button %q would send a form", name, attr(e, "id"))
			case attr(e, "role") == "img" && attr(e, "aria-label") == "", e.Data == "img" && attr(e, "alt") == "":
				t.Errorf("%s: a picture without words", name)
			}
		}
	}
}

// Headings go down one level at a time, and there is one title.
func TestHeadingsAreInOrder(t *testing.T) {
	for name, c := range allCards(t) {
		level, tops := 0, 0
		root := tree(t, cardText(t, c))
		for _, h := range elementsOf(root, "h1", "h2", "h3", "h4", "h5", "h6") {
			n := int(h.Data[1] - '0')
			if n > level+1 {
				t.Errorf("%s: %s %q under level %d", name, h.Data, told(h), level)
			}
			if told(h) == "" {
				t.Errorf("%s: an empty %s", name, h.Data)
			}
			if level = n; n == 1 {
				tops++
			}
		}
		if lang := attr(elementsOf(root, "html")[0], "lang"); tops != 1 || lang != "en" {
			t.Errorf("%s: %d titles, language %q", name, tops, lang)
		}
	}
}

// Nothing is loaded from anywhere: no address but of data in the page itself, and a policy that names the one script and the
// one style by their digests and forbids all else.
func TestTheCardStandsAlone(t *testing.T) {
	for name, c := range allCards(t) {
		root := tree(t, cardText(t, c))
		policy := ""
		for _, e := range elementsOf(root) {
			for _, a := range e.Attr {
				address := slices.Contains([]string{"src", "href", "srcset", "action", "data", "poster", "formaction", "xlink:href"}, a.Key)
				if address && !strings.HasPrefix(a.Val, "data:image/") && !strings.HasPrefix(a.Val, "#") {
					t.Errorf("%s: <%s %s=%.40q>", name, e.Data, a.Key, a.Val)
				}
				if strings.HasPrefix(a.Key, "on") || a.Key == "style" {
					t.Errorf("%s: <%s %s>", name, e.Data, a.Key)
				}
			}
			if attr(e, "http-equiv") == "Content-Security-Policy" {
				policy += attr(e, "content")
			}
			if slices.Contains([]string{"link", "iframe", "object", "embed", "base", "form"}, e.Data) {
				t.Errorf("%s: <%s>", name, e.Data)
			}
		}
		inner := func(kind string) string {
			found := elementsOf(root, kind)
			if len(found) != 1 {
				t.Fatalf("%s: %d of <%s>", name, len(found), kind)
			}
			text := found[0].FirstChild.Data
			if bad := regexp.MustCompile(`(?i)\burl\(|@import|https?:|fetch\(|XMLHttpRequest|WebSocket|sendBeacon|innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\b|Function\(`).FindString(text); bad != "" {
				t.Errorf("%s: %q in <%s>", name, bad, kind)
			}
			sum := sha256.Sum256([]byte(text))
			return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
		}
		want := "default-src 'none'; script-src " + inner("script") + "; style-src " + inner("style") + "; img-src data:; base-uri 'none'; form-action 'none'"
		if policy != want {
			t.Errorf("%s: the policy is %q, want %q", name, policy, want)
		}
	}
}

// All that the card says stands on the page, also what is drawn, in words.
func TestTheCardSaysAll(t *testing.T) {
	skip := []string{"Payload", "ShortDate", "Kind", "Data", "Key", "Type", "Language", "Record", "At"} // for paper, or no words; the record sheet is looked at on its own
	for name, c := range allCards(t) {
		root := tree(t, cardText(t, c))
		words := told(root)
		if name == "full" {
			words += " N·m lbf·ft" // of the head of the torque table: each row has its own
		}
		var look func(path string, v reflect.Value)
		look = func(path string, v reflect.Value) {
			switch v.Kind() {
			case reflect.Pointer, reflect.Interface:
				if !v.IsNil() {
					look(path, v.Elem())
				}
			case reflect.Struct:
				if runs := v.FieldByName("Runs"); runs.IsValid() {
					if s := runsText(runs.Interface().([]document.Run)); !strings.Contains(words, s) {
						t.Errorf("%s %s: %q does not stand on the page", name, path, s)
					}
				}
				for i := range v.NumField() {
					field := v.Type().Field(i).Name
					if field != "Runs" && !slices.Contains(skip, field) {
						look(path+"."+field, v.Field(i))
					}
				}
			case reflect.Slice:
				for i := range v.Len() {
					look(path, v.Index(i))
				}
			case reflect.String:
				if !strings.Contains(words, oneLine(v.String())) {
					t.Errorf("%s %s: %q does not stand on the page", name, path, v.String())
				}
			}
		}
		look("card", reflect.ValueOf(c))
	}
}

// Every type of block is shown: one that is forgotten would lose a step without a word.
func TestEachBlockIsShown(t *testing.T) {
	shown := map[string]bool{}
	for _, b := range full().Blocks {
		shown[reflect.TypeOf(b).Name()] = true
		one := &document.JobCard{Blocks: []document.Block{b}}
		main := elementsOf(tree(t, cardText(t, one)), "main")[0]
		bare := elementsOf(tree(t, cardText(t, &document.JobCard{})), "main")[0]
		if told(main) == told(bare) {
			t.Errorf("%T says nothing", b)
		}
	}
	for _, b := range document.Blocks() {
		if !shown[reflect.TypeOf(b).Name()] {
			t.Errorf("%T is not tried", b)
		}
	}
}

// fill puts a text into every place of a card that holds one, and tells how many there are.
func fill(v reflect.Value, text string) (n int) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			n += fill(v.Elem(), text)
		}
	case reflect.Interface:
		held := reflect.New(v.Elem().Type()).Elem()
		held.Set(v.Elem())
		n += fill(held, text)
		v.Set(held)
	case reflect.Struct:
		for i := range v.NumField() {
			if name := v.Type().Field(i).Name; name != "Type" && name != "Signal" && name != "At" {
				n += fill(v.Field(i), text)
			}
		}
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			return 0
		}
		for i := range v.Len() {
			n += fill(v.Index(i), text)
		}
	case reflect.String:
		if v.String() != "" {
			v.SetString(text)
			n++
		}
	}
	return n
}

// Whatever a procedure says stands on the page as words: the page has the same elements and attributes as with a plain word.
func TestTheCardEscapes(t *testing.T) {
	shape := func(root *nethtml.Node) (all []string) {
		for _, e := range elementsOf(root) {
			s := e.Data
			for _, a := range e.Attr {
				s += " " + a.Key
				if slices.Contains([]string{"id", "for", "role", "type", "http-equiv"}, a.Key) {
					s += "=" + a.Val
				}
			}
			all = append(all, s)
		}
		return all
	}
	plain := full()
	fill(reflect.ValueOf(plain), "word")
	want := shape(tree(t, cardText(t, plain)))
	for _, nasty := range []string{
		`</script><script>alert(1)</script>`, `</style><img src=x onerror=alert(1)>`, `"onmouseover="alert(1)`, `'><svg onload=alert(1)>`,
		`{{.Key}}{{end}}`, `<!--`, `]]>`, `&lt;b&gt;&amp;`, "\u202ereversed\u2066\u200f", `javascript:alert(1)`, "` ${alert(1)} `", `</main></title></textarea>`,
	} {
		c := full()
		n := fill(reflect.ValueOf(c), nasty)
		root := tree(t, cardText(t, c))
		if got := shape(root); !slices.Equal(got, want) {
			for i := range min(len(got), len(want)) {
				if got[i] != want[i] {
					t.Errorf("%q changes the page: %q, want %q", nasty, got[i], want[i])
					break
				}
			}
			t.Errorf("%q: %d elements, want %d", nasty, len(got), len(want))
		}
		if got := strings.Count(told(root), oneLine(nasty)); got < n*3/4 {
			t.Errorf("%q: of %d texts %d stand on the page as they are", nasty, n, got)
		}
	}
}

// The same card gives the same bytes, and another one other names in the browser's storage.
func TestTheSameCardGivesTheSameBytes(t *testing.T) {
	cards := libraryCards(t)
	again := libraryCards(t)
	keys := map[string]string{}
	for _, name := range slices.Sorted(maps.Keys(cards)) {
		c := cards[name]
		text := cardText(t, c)
		if text != cardText(t, again[name]) {
			t.Errorf("%s: other bytes the second time", name)
		}
		key := attr(elementsOf(tree(t, text), "html")[0], "data-key")
		for _, part := range []string{c.Header.Number, c.Header.Revision, c.Header.Digest, c.Header.Variant} {
			if !strings.Contains(key, part) {
				t.Errorf("%s: the key %q lacks %q", name, key, part)
			}
		}
		if other, taken := keys[key]; taken {
			t.Errorf("%s and %s share the key %q", name, other, key)
		}
		keys[key] = name
	}
}

// A picture stands in the page as a picture, where its scripts don't run; a missing one leaves its caption, an unknown one is an
// error.
func TestPicturesStandInThePage(t *testing.T) {
	text := cardText(t, full())
	if strings.Contains(text, "alert(1)") {
		t.Error("the script of a picture stands in the page")
	}
	for kind, want := range map[string]string{"png": "data:image/png;base64,AQI=", "jpeg": "data:image/jpeg;base64,AQI=", "svg": "data:image/svg+xml;base64,AQI="} {
		c := &document.JobCard{Blocks: []document.Block{document.Figure{Type: kind, Data: []byte{1, 2}, Caption: "x"}}}
		if imgs := elementsOf(tree(t, cardText(t, c)), "img"); len(imgs) != 1 || attr(imgs[0], "src") != want {
			t.Errorf("%s: %d pictures, want %q", kind, len(imgs), want)
		}
	}
	c := &document.JobCard{Blocks: []document.Block{document.Figure{Type: "png", Caption: "the lost one"}}}
	if root := tree(t, cardText(t, c)); len(elementsOf(root, "img")) != 0 || !strings.Contains(told(root), "the lost one") {
		t.Error("a missing picture: its caption alone should stand there")
	}
	c = &document.JobCard{Blocks: []document.Block{document.Figure{Type: "bmp", Key: "a.bmp", Data: []byte{1}}}}
	if err := html.Card(&bytes.Buffer{}, c); err == nil || !strings.Contains(err.Error(), `"a.bmp" is of the type "bmp"`) {
		t.Errorf("an unknown type of picture: %v", err)
	}
}
