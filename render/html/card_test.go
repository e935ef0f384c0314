package html_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"maps"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	nethtml "golang.org/x/net/html"

	"refitcard/compiler"
	"refitcard/compiler/rules"
	"refitcard/render/document"
	"refitcard/render/html"
)

// libraryCards gives the cards of the sample library by file and variant.
func libraryCards(t *testing.T) map[string]*document.JobCard {
	t.Helper()
	lib := compiler.Open(os.DirFS("../../procedures"), func(path string) string { return path })
	files, err := os.ReadDir("../../procedures")
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]*document.JobCard{}
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".md") {
			continue
		}
		r, err := lib.Compile(f.Name(), rules.Options{})
		if err != nil {
			t.Fatal(err)
		}
		variants := []string{""}
		for i, v := range r.Proc.Variants {
			variants = append(variants[:i], v.Value)
		}
		for _, v := range variants {
			all[strings.TrimSuffix(f.Name(), ".md")+v] = document.Card(r.Proc, r.Plays, r.Settings, document.Options{Variant: v})
		}
	}
	if len(all) < 15 {
		t.Fatalf("only %d cards were made", len(all))
	}
	return all
}

// full has every block, with everything in it that a block can say.
func full() *document.JobCard {
	words := func(s string) []document.Run {
		return []document.Run{{Text: s + " "}, {Text: "4 flap bolts", Bold: true, Keep: true}, {Text: "P-7", Mono: true}, {Text: " by hand.", Keep: true}}
	}
	plan := document.Layout{Part: "flap", Places: []document.Place{{X: 0, Y: 0, Order: 1}, {X: 8, Y: 0, Order: 3}, {X: 0, Y: 4, Order: 6}, {X: 8, Y: 4}}}
	picture := document.Figure{Key: "flap.svg", Type: "svg", Data: []byte(`<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`), Caption: "the flap"}
	danger := document.Panel{Signal: "DANGER", Hazard: words("Falling flap."), Consequence: words("It kills."), Avoid: words("Prop it.")}
	return &document.JobCard{
		Header:   document.Header{Number: "FV-1", Revision: "A", Title: "Change the flap", Machine: "Outfall 3", Date: "3 May 2026", Digest: "ABCD-EFGH", Variant: "DN300", Draft: true},
		Foot:     document.Foot{Lead: "Card looks wrong?", Wrong: "Tell the foreman.", Statement: "The maker comes first."},
		Language: "en",
		Blocks: []document.Block{
			document.Heading{Text: "Before you start", Help: "read all of it"},
			document.Facts{Facts: []document.Fact{{Label: "People", Value: "2"}}},
			danger,
			document.Line{Lead: "Wear:", Runs: words("waders")},
			document.Glance{Lists: []document.GlanceList{{Head: "Tools", Wide: true, Items: []document.GlanceItem{{Name: "spanner"}}}, {Head: "New parts", Items: []document.GlanceItem{{Count: "4", Name: "bolts"}}}}},
			document.Stage{Title: "Strip", Range: "steps 1 to 2"},
			document.Note{Runs: words("The flap is heavy."), Head: true},
			picture,
			document.Step{
				Name: "1", Number: 1, Panels: []document.Panel{danger, {Signal: "NOTICE", Hazard: words("Paint scratches.")}},
				Condition: document.Condition{If: "the flap sticks", For: []string{"DN300"}, Repeat: "2 times", Times: 2, Takes: "4 min"},
				Before:    []document.Block{document.Note{Runs: words("Mind the tide.")}, picture, plan, document.Pile{Name: "pack", Layers: []string{"1 plate", "2 felts"}, Target: "9–11 mm"}},
				Acts: []document.Act{
					{Runs: words("Remove"), Tick: true, Lines: []string{"Else call."}, Figures: []document.Figure{picture}},
					{
						Runs: words("Torque"), Torque: &document.TorqueBox{Figure: "22", Unit: "N·m", Second: "16", SecondUnit: "lbf·ft", Angle: "then 90°", Set: "set 22", Dial: "dial 19.1"},
						Passes: &document.Passes{Unit: "N·m", SecondUnit: "lbf·ft", Rows: []document.Pass{{Name: "Pass 1", Figure: "11", Second: "8"}, {Name: "Pass 2", Figure: "22", Second: "16"}}, Layout: &plan, Below: "Same order in each pass; start at 1."},
					},
					{Runs: words("Measure"), Tick: true, Boxes: []document.MeasureBox{{Place: "1", Limits: "12–18", Unit: "mm"}, {Limits: "≥ 3", Unit: "bar"}, {}}},
				},
			},
			document.Step{Name: "2", Number: 2, Condition: document.Condition{Otherwise: true}, Acts: []document.Act{
				{Runs: []document.Run{{Text: "Wait "}, {Text: "10 min", Bold: true}, {Text: "."}}, Tick: true},
				{Hold: &document.Hold{For: "the supervisor", Why: "to see the pins.", Next: "3"}},
				{Handover: &document.Handover{Lines: []document.HandoverLine{{Label: "Off", Words: "1 flap"}}}},
			}},
			plan,
			document.Pile{Name: "stack", Layers: []string{"shim"}},
			document.TorqueTable{Unit: "N·m", SecondUnit: "lbf·ft", Rows: []document.TorqueRow{{Step: "1", What: "flap bolts", Figure: "22", Unit: "N·m", Second: "16", SecondUnit: "lbf·ft", Then: "then 90°"}}},
			document.After{Lines: []document.Line{{Lead: "After the job:", Runs: words("look again")}}},
		},
		End: document.End{Steps: 2, Boxes: 8, Then: "Now finish the record sheet."},
	}
}

func cardText(t *testing.T, c *document.JobCard) string {
	t.Helper()
	var b bytes.Buffer
	if err := html.Card(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// tree parses a page as a browser does.
func tree(t *testing.T, text string) *nethtml.Node {
	t.Helper()
	root, err := nethtml.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return root
}

// elementsOf lists the elements of a page in order; those named, or all.
func elementsOf(root *nethtml.Node, names ...string) []*nethtml.Node {
	var all []*nethtml.Node
	for n := range root.Descendants() {
		if n.Type == nethtml.ElementNode && (len(names) == 0 || slices.Contains(names, n.Data)) {
			all = append(all, n)
		}
	}
	return all
}

func attr(n *nethtml.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// told gives the words of an element, with single blanks, without style and script.
func told(n *nethtml.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == nethtml.TextNode && d.Parent.Data != "script" && d.Parent.Data != "style" {
			b.WriteString(d.Data)
		}
	}
	return oneLine(b.String())
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

func runsText(runs []document.Run) string {
	s := ""
	for _, r := range runs {
		s += r.Text
	}
	return oneLine(s)
}

// boxesOf gives the words beside each box to tick that the card asks for, in order.
func boxesOf(c *document.JobCard) []string {
	var want []string
	for _, b := range c.Blocks {
		s, ok := b.(document.Step)
		if !ok {
			continue
		}
		if s.Condition.If != "" {
			want = append(want, "not needed, step "+s.Name)
		}
		for i := range s.Condition.Times {
			want = append(want, fmt.Sprintf("step %s, time %d", s.Name, i+1))
		}
		for _, a := range s.Acts {
			if a.Tick {
				want = append(want, runsText(a.Runs))
			}
			if a.Passes != nil {
				for _, r := range a.Passes.Rows {
					want = append(want, r.Name)
				}
			}
		}
	}
	return want
}

func allCards(t *testing.T) map[string]*document.JobCard {
	cards := libraryCards(t)
	cards["full"] = full()
	return cards
}

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
					wantFields += len(a.Boxes)
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
	skip := []string{"Payload", "ShortDate", "Kind", "Data", "Key", "Type", "Language"} // for paper, or no words
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
			if name := v.Type().Field(i).Name; name != "Type" && name != "Signal" {
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
