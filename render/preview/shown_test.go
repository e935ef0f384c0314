package preview

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	"refitcard/compiler/source"
	"refitcard/render/sheet"
	"refitcard/templates"
)

// Every operation of a sheet is drawn, under a name that the page's script knows.
func TestEachOperationIsDrawn(t *testing.T) {
	script, err := templates.Pages.ReadFile("pages/watch-draw.js")
	if err != nil {
		t.Fatal(err)
	}
	keep := func(picture) string { return "key" }
	red := sheet.Colour{R: 255}
	for _, c := range []struct {
		op   sheet.Op
		want string
	}{
		{sheet.Text{X: 1.23456, Y: 2, Face: sheet.Bold, Size: 12, String: "22 N⋅m", Colour: red, Angle: 45, Hollow: 1}, `["text",1.235,2,1,12,"22 N·m",13.88,"#ff0000",45,1]`},
		{sheet.Line{X1: 1, Y1: 2, X2: 3, Y2: 4, Width: 0.5, Dash: []float64{1, 2}}, `["line",1,2,3,4,0.5,"#000000",[1,2]]`},
		{sheet.Rect{X: 1, Y: 2, W: 3, H: 4, Stroke: 1, Filled: true, Fill: red}, `["rect",1,2,3,4,1,"#000000","#ff0000"]`},
		{sheet.Polygon{Points: []sheet.Point{{X: 1, Y: 2}, {X: 3, Y: 4}}, Round: 1}, `["polygon",[1,2,3,4],0,"#000000","none",true]`},
		{sheet.Circle{X: 1, Y: 2, R: 3, Stroke: 1}, `["circle",1,2,3,1,"#000000","none"]`},
		{sheet.Image{X: 1, Y: 2, W: 3, H: 4, Type: "png"}, `["image",1,2,3,4,"key"]`},
		{sheet.Modules{X: 1, Y: 2, Size: 0.7, Dark: [][]bool{{true, false}, {true, true}}}, `["modules",1,2,0.7,["10","11"]]`},
	} {
		got, err := draw([]sheet.Op{c.op}, keep)
		if err != nil {
			t.Fatal(err)
		}
		raw, err := json.Marshal(got[0])
		if err != nil || string(raw) != c.want {
			t.Errorf("%T: %s (%v), want %s", c.op, raw, err, c.want)
		}
		if name := got[0][0].(string); !strings.Contains(string(script), "  "+name+": (") {
			t.Errorf("the script does not draw %q", name)
		}
	}
	if _, err := draw([]sheet.Op{sheet.Image{Type: "gif"}}, keep); err == nil {
		t.Error("a kind of picture that is not drawn on paper is drawn here")
	}
}

// A place names the characters of its span, as a script counts them.
func TestPlaces(t *testing.T) {
	f := source.New("a.md", "a.md", []byte("\xef\xbb\xbfone\r\n\t🔧 two {three\nfour}\n\nend"))
	for _, c := range []struct {
		from, to string
		want     place
	}{
		{"one", "one", place{0, 1, 0, 1, 3, "a.md:1:1"}},
		{"two", "two", place{0, 2, 4, 2, 7, "a.md:2:4"}}, // the spanner is one character of two units
		{"{three", "four}", place{0, 2, 8, 3, 5, "a.md:2:8"}},
		{"four}", "\n\n", place{0, 3, 0, 3, 5, "a.md:3:1"}}, // ends with its line
		{"end", "end", place{0, 5, 0, 5, 3, "a.md:5:1"}},
	} {
		text := string(f.Text)
		at := f.At(strings.Index(text, c.from), strings.Index(text, c.to)+len(c.to))
		s := &shelf{numbers: map[*source.File]int{}}
		got := s.place(at)
		if *got != c.want {
			t.Errorf("%q: %+v, want %+v", at.Text(), *got, c.want)
		}
		if lines := s.files[0].Lines; len(lines) != 5 || lines[1] != " 🔧 two {three" {
			t.Errorf("the lines are %q", lines)
		}
	}
	s := &shelf{numbers: map[*source.File]int{}}
	if s.place(source.Span{}) != nil {
		t.Error("a place that is nowhere is somewhere")
	}
}

// Whatever stands in a file, what the page is told is one line of valid text in which each line has its length, and no sign
// that steers a screen or turns the order of letters round.
func FuzzShown(f *testing.F) {
	for _, s := range []string{"", "a\nb", "</script><img src=x onerror=alert(1)>", "\xff\xfe\x00", "\u202e\u2066 a\u2028b", "data: x\n\nevent: show", "🔧\t{x}"} {
		f.Add(s, 0, len(s))
	}
	f.Fuzz(func(t *testing.T, text string, from, to int) {
		file := source.New("a.md", "a.md", []byte(text))
		s := &shelf{numbers: map[*source.File]int{}}
		p := s.place(file.At(from, to))
		raw, err := json.Marshal([]any{p, s.files})
		if err != nil {
			t.Fatal(err)
		}
		if !utf8.Valid(raw) || strings.ContainsAny(string(raw), "\n\r\u202e\u2066\u2028") {
			t.Fatalf("told as %q", raw)
		}
		if strings.ContainsAny(string(raw), "<>") {
			t.Fatalf("markup in %q", raw)
		}
		lines := s.files[0].Lines
		if p.Line < 1 || p.Last < p.Line || p.Last > len(lines) || p.From < 0 || p.Line == p.Last && p.To < p.From {
			t.Fatalf("%q from %d to %d: %+v", text, from, to, p)
		}
		for i := range lines {
			want := utf8.RuneCountInString(file.LineSpan(i + 1).Text())
			if got := utf8.RuneCountInString(lines[i]); got != want {
				t.Fatalf("line %d has %d characters, is shown with %d", i+1, want, got)
			}
		}
	})
}

// What is fixed is built in, and no page names anything that is not served.
func TestThePageNamesWhatIsServed(t *testing.T) {
	fixed := fixedAnswers()
	for name, a := range fixed {
		if len(a.data) == 0 || a.kind == "" {
			t.Errorf("%q is empty", name)
		}
		for _, from := range []string{`from './`, `src="`, `href="`, "url("} {
			if name != "" && strings.HasSuffix(name, ".ttf") {
				continue
			}
			for rest := string(a.data); ; {
				_, after, ok := strings.Cut(rest, from)
				if !ok {
					break
				}
				rest = after
				end := strings.IndexAny(after, `'")`)
				if n := after[:end]; !strings.HasPrefix(n, "#") && n != "./" && fixed[n].data == nil {
					t.Errorf("%q names %q", name, n)
				}
			}
		}
	}
	if !reflect.DeepEqual(fixed[""], fixed["watch.html"]) {
		t.Error("the page is another one under its name")
	}
}
