package html_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/rules"
	"refitcard/render/document"
	"refitcard/render/html"
)

func page(t *testing.T, r *document.Review) string {
	t.Helper()
	var b bytes.Buffer
	if err := html.Review(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// element is one start of an element with its attributes.
type element struct {
	name  string
	attrs map[string]string
}

// read reads a page the strict way: every element is closed, and in its order; one that is empty by nature has its stroke. It gives the
// elements and the text.
func read(t *testing.T, text string) (all []element, words string) {
	t.Helper()
	body, ok := strings.CutPrefix(text, "<!doctype html>\n")
	if !ok {
		t.Fatal("no doctype")
	}
	d := xml.NewDecoder(strings.NewReader(body))
	d.Strict = true
	d.Entity = xml.HTMLEntity
	var b strings.Builder
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all, strings.Join(strings.Fields(b.String()), " ")
		}
		if err != nil {
			t.Fatalf("not well formed: %v", err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			e := element{x.Name.Local, map[string]string{}}
			for _, a := range x.Attr {
				if _, twice := e.attrs[a.Name.Local]; twice {
					t.Errorf("<%s> has %q twice", e.name, a.Name.Local)
				}
				e.attrs[a.Name.Local] = a.Value
			}
			all = append(all, e)
			b.WriteByte(' ')
		case xml.CharData:
			b.Write(x)
		}
	}
}

func sample() *document.Review {
	return &document.Review{
		Header:   document.Header{Kind: "Review sheet", Number: "SD-1", Revision: "A", Title: "Ease the trash rake", Machine: "Trash rake", Digest: "ABCD-EFGH", Date: "3 May 2026"},
		Foot:     document.Foot{Lead: "Lead.", Wrong: "Wrong.", Statement: "Statement."},
		Standing: document.Standing{Counts: "1 error, 0 warnings.", Ledger: "The ledger does not close: rake arm."},
		Findings: []document.ReviewFinding{{Severity: "error", Where: "step 3", Line: "line 31", Rule: "refit/left-off", Message: "the rake arm never goes back", Do: "put it back"}},
		Waived:   []document.ReviewFinding{{Severity: "error", Where: "step 4", Line: "line 40", Rule: "refit/left-loose", Message: "the cable is slack", Do: "set on trial"}},
		Ledgers: []document.Ledger{{Steps: []string{"1", "2", "3"}, Rows: []document.LedgerRow{
			{Thing: "rake arm", Count: "1", Marks: []document.Mark{{Column: 1, Kind: document.ComesOff}}, Bars: []document.Bar{{From: 1, To: 3}}, End: "off", Fault: true},
			{Thing: "arm bolt", Count: "4", Marks: []document.Mark{{Column: 0, Kind: document.GoesBack}, {Column: 2, Kind: document.Turned}}, Bars: []document.Bar{{From: -1, To: 0}, {From: 0, To: 2, Hollow: true}}, End: "on, 22 N·m"},
			{Thing: "old felt", Count: "1", Marks: []document.Mark{{Column: 2, Kind: document.ComesOff}, {Column: 2, Kind: document.Scrapped}}, End: "scrapped"},
		}}},
		Torques: []document.ReviewTorque{
			{Step: "3", Count: "4", What: "arm bolts", Spec: "M8 8.8", More: "crosswise", NewtonMetres: "22", PoundFeet: "16", Friction: "oiled", Loads: []document.Load{{K: "0.15", Preload: "18.3", Share: "86 %"}, {K: "0.18", Preload: "15.3", Share: "72 %"}, {K: "0.20", Preload: "13.8", Share: "65 %", Over: true}}},
			{Step: "4", Count: "1", What: "plug", NewtonMetres: "25", PoundFeet: "18", None: "no strength given"},
		},
		Messages: []document.ReviewMessage{{Before: "the job", Signal: "WARNING", Hazard: "Falling rake.", Rest: "Pin it."}},
		Tools:    []document.ReviewTool{{Tool: "13 mm socket", Steps: []string{"2", "3"}}, {Tool: "hoist, 50 kg"}},
		Since:    "Z",
		Changes:  []document.ReviewChange{{Step: "3", Was: "20 N·m", Now: "22 N·m"}},
		Signing:  []document.SignBox{{Label: "Written by", Name: "J. Fenwright"}, {Label: "Date"}},
	}
}

// All that the sheet says stands on the page, also what is drawn, in words.
func TestTheReviewSaysAll(t *testing.T) {
	text := page(t, sample())
	elements, words := read(t, text)
	for _, e := range elements {
		words += " " + e.attrs["aria-label"]
	}
	skip := []string{"Line", "Severity", "Payload", "ShortDate"} // told in other words, or for paper only
	var look func(path string, v reflect.Value)
	look = func(path string, v reflect.Value) {
		switch v.Kind() {
		case reflect.Pointer:
			look(path, v.Elem())
		case reflect.Struct:
			for i := range v.NumField() {
				if name := v.Type().Field(i).Name; !slices.Contains(skip, name) {
					look(path+"."+name, v.Field(i))
				}
			}
		case reflect.Slice:
			for i := range v.Len() {
				look(path, v.Index(i))
			}
		case reflect.String:
			if !strings.Contains(words, v.String()) {
				t.Errorf("%s: %q does not stand on the page", path, v.String())
			}
		}
	}
	look("review", reflect.ValueOf(sample()))
	if n := strings.Count(text, "<polygon"); n != 1 {
		t.Errorf("%d bars run off the edge, one is the fault", n)
	}
}

// The page needs no network, no script and no other file.
func TestTheReviewStandsAlone(t *testing.T) {
	text := page(t, sample())
	elements, _ := read(t, text)
	for _, e := range elements {
		if slices.Contains([]string{"script", "link", "img", "iframe", "object", "embed", "base", "form"}, e.name) {
			t.Errorf("<%s> on a page that stands alone", e.name)
		}
		for name := range e.attrs {
			if slices.Contains([]string{"src", "href", "srcset", "action"}, name) || strings.HasPrefix(name, "on") {
				t.Errorf("<%s %s>", e.name, name)
			}
		}
	}
	if found := regexp.MustCompile(`(?i)url\(|@import|https?:`).FindString(text); found != "" {
		t.Errorf("%q on a page that stands alone", found)
	}
}

// Whatever a procedure says stands on the page as words.
func TestTheReviewEscapes(t *testing.T) {
	const nasty = `<script>alert(1)</script>"'&{{x}}</style>`
	r := sample()
	var fill func(v reflect.Value)
	n := 0
	fill = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Pointer:
			fill(v.Elem())
		case reflect.Struct:
			for i := range v.NumField() {
				fill(v.Field(i))
			}
		case reflect.Slice:
			for i := range v.Len() {
				fill(v.Index(i))
			}
		case reflect.String:
			v.SetString(nasty)
			n++
		}
	}
	fill(reflect.ValueOf(r))
	elements, words := read(t, page(t, r))
	for _, e := range elements {
		if e.name == "script" {
			t.Error("a script got through")
		}
	}
	if got := strings.Count(words, nasty); got < n*2/3 {
		t.Errorf("of %d texts %d stand on the page as they are", n, got)
	}
}

// The reviews of the sample library are well formed, those without this and that too.
func TestReviewsOfTheLibrary(t *testing.T) {
	lib := compiler.Open(os.DirFS("../../procedures"), func(path string) string { return path })
	for _, name := range []string{"rake-winch-end-cover.md", "winch-brake.md", "sling-inspection.md", "sluice-gearbox-refit.md"} {
		c, err := lib.Compile(name, rules.Options{})
		if err != nil {
			t.Fatal(err)
		}
		_, words := read(t, page(t, document.MakeReview(document.ReviewInput{Proc: c.Proc, Settings: c.Settings, Findings: c.Findings})))
		if !strings.Contains(words, c.Proc.Title.Value) {
			t.Errorf("%s: no title", name)
		}
	}
	fsys := fstest.MapFS{"empty.md": {Data: nil}}
	c := compiler.Open(fsys, func(path string) string { return path }).CompileText("empty.md", nil, rules.Options{})
	_, words := read(t, page(t, document.MakeReview(document.ReviewInput{Proc: c.Proc, Old: c.Proc, Settings: c.Settings, Findings: c.Findings})))
	if !strings.Contains(words, "file/no-steps") {
		t.Error("an empty file: its finding is missing")
	}
}
