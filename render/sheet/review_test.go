package sheet_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"refitcard/render/document"
	"refitcard/render/sheet"
)

// reviewOf makes a sheet with a ledger of so many steps and rows. The last row is the only fault.
func reviewOf(steps, rows int) *document.Review {
	r := &document.Review{
		Header:   document.Header{Kind: "Review sheet", Number: "SD-9", Revision: "A", Title: "Ease the trash rake", Machine: "Trash rake TR2", Digest: "ABCD-EFGH", Payload: "SD-9 A ABCDEFGH"},
		Foot:     document.Foot{Lead: "Lead:", Wrong: "and what to do.", Statement: "The maker comes first."},
		Standing: document.Standing{Counts: "1 error, 0 warnings.", Ledger: "The ledger does not close: row."},
		Signing:  []document.SignBox{{Label: "Written by", Name: "J. Fenwright"}, {Label: "Reviewed by"}, {Label: "Approved by"}, {Label: "Date"}},
	}
	l := document.Ledger{}
	for i := range steps {
		l.Steps = append(l.Steps, fmt.Sprint(i+1))
	}
	for i := range rows {
		from := i % steps
		to := min(from+1+i%5, steps-1)
		row := document.LedgerRow{
			Thing: fmt.Sprintf("thing %d", i+1), Count: "12", End: "on, 22 N·m",
			Marks: []document.Mark{{Column: from, Kind: document.ComesOff}, {Column: to, Kind: document.GoesBack}},
			Bars:  []document.Bar{{From: from, To: to, Hollow: i%3 == 0}},
		}
		if i == rows-1 {
			row.End, row.Fault = "off", true
			row.Marks, row.Bars = row.Marks[:1], []document.Bar{{From: from, To: steps}}
		}
		l.Rows = append(l.Rows, row)
	}
	r.Ledgers = []document.Ledger{l}
	return r
}

func lay(t interface{ Fatal(...any) }, r *document.Review, paper string) *sheet.Document {
	d, err := sheet.LayReview(r, sheet.Options{Paper: paper})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func boxes(d *sheet.Document, name string) (all []sheet.Box) {
	for _, p := range d.Pages {
		for _, b := range p.Boxes {
			if b.Name == name {
				all = append(all, b)
			}
		}
	}
	return all
}

// Up to 24 steps stand in one picture, more in pictures of 20 at most with all names repeated; bars of the fault alone reach
// beyond the last column, and only in the last picture.
func TestLedgerPictures(t *testing.T) {
	for _, c := range []struct{ steps, pictures int }{{1, 1}, {10, 1}, {20, 1}, {24, 1}, {25, 2}, {40, 2}, {41, 3}, {100, 5}} {
		const rows = 12
		d := lay(t, reviewOf(c.steps, rows), "a4")
		got := boxes(d, "ledger row")
		if len(got) != rows*c.pictures {
			t.Errorf("%d steps: %d rows of the ledger, want %d in each of %d pictures", c.steps, len(got), rows, c.pictures)
		}
		off := boxes(d, "off the edge")
		if len(off) != 1 || off[0].Text != fmt.Sprintf("thing %d", rows) {
			t.Errorf("%d steps: off the edge: %+v", c.steps, off)
		}
		for _, b := range boxes(d, "bar") {
			if b.W < -1e-9 || b.X < 12+62-1e-9 {
				t.Errorf("%d steps: bar %+v", c.steps, b)
			}
		}
	}
}

// The measures of the page description: rows of 6.7 mm, bars of 2.2 mm, columns of one width, a mark in the middle of its
// column.
func TestLedgerMeasures(t *testing.T) {
	d := lay(t, reviewOf(10, 3), "a4")
	for _, b := range boxes(d, "ledger row") {
		if math.Abs(b.H-6.7) > 0.01 {
			t.Errorf("a row is %.2f mm high", b.H)
		}
	}
	bars := boxes(d, "bar")
	if len(bars) != 3 {
		t.Fatalf("%d bars", len(bars))
	}
	var marks []sheet.Circle
	for _, o := range d.Pages[0].Ops {
		if x, ok := o.(sheet.Circle); ok && x.R < 2 {
			marks = append(marks, x)
		}
	}
	for i, b := range bars {
		if math.Abs(b.H-2.2) > 0.01 {
			t.Errorf("a bar is %.2f mm high", b.H)
		}
		if want := 12 + 62 + (float64(i)+0.5)*9.03; math.Abs(b.X-want) > 0.01 {
			t.Errorf("bar %d begins at %.2f mm, want %.2f", i, b.X, want)
		}
		if !slices.ContainsFunc(marks, func(m sheet.Circle) bool { return math.Abs(m.X-b.X) < 0.01 && math.Abs(m.Y-b.Y-1.1) < 0.01 }) {
			t.Errorf("no mark where bar %d begins", i)
		}
	}
}

// A page never holds the boxes to sign alone, and nothing stands outside the margins or in the foot.
func TestReviewPages(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := reviewOf(rapid.IntRange(1, 60).Draw(t, "steps"), rapid.IntRange(1, 70).Draw(t, "rows"))
		words := strings.Repeat("the end cover of the rake winch is never put back ", rapid.IntRange(1, 6).Draw(t, "words"))
		for i := range rapid.IntRange(0, 40).Draw(t, "findings") {
			r.Findings = append(r.Findings, document.ReviewFinding{Severity: "error", Where: fmt.Sprintf("step %d", i), Line: "line 1", Rule: "refit/left-off", Message: words, Do: words})
		}
		for range rapid.IntRange(0, 30).Draw(t, "tools") {
			r.Tools = append(r.Tools, document.ReviewTool{Tool: "torque wrench, 5–50 N·m", Steps: []string{"1", "2"}})
		}
		if rapid.Bool().Draw(t, "an essay") {
			r.Messages = append(r.Messages, document.ReviewMessage{Before: "the job", Signal: "NOTICE", Hazard: strings.Repeat(words, 3), Rest: strings.Repeat(words, 30)})
		}
		for range rapid.IntRange(0, 20).Draw(t, "messages") {
			r.Messages = append(r.Messages, document.ReviewMessage{Before: "step 1", Signal: "WARNING", Hazard: "Falling rake.", Rest: words})
		}
		d := lay(t, r, rapid.SampledFrom([]string{"a4", "letter", "a4-landscape", "a5-landscape"}).Draw(t, "paper"))
		for i, p := range d.Pages {
			foot, body := 0.0, 0
			for _, b := range p.Boxes {
				switch b.Name {
				case "foot":
					foot = b.Y
				case "row", "ledger row", "note":
					body++
				}
			}
			if body == 0 {
				t.Fatalf("page %d has no row", i+1)
			}
			for _, b := range p.Boxes {
				if b.Name != "foot" && b.Y+b.H > foot+1e-6 || b.X < 12-1e-6 || b.X+b.W > d.Width-12+1e-6 {
					t.Fatalf("page %d: %s %q stands at %.1f to %.1f, the foot at %.1f", i+1, b.Name, b.Text, b.Y, b.Y+b.H, foot)
				}
			}
			for _, o := range p.Ops {
				if x, ok := o.(sheet.Circle); ok && x.X+x.R > d.Width-12-34+7 {
					t.Fatalf("page %d: a mark at %.1f mm stands in the words at the end", i+1, x.X)
				}
			}
		}
		if got := len(boxes(d, "row")); got < len(r.Findings) {
			t.Fatalf("%d rows of %d findings", got, len(r.Findings))
		}
	})
}

func TestReviewRefusesSmallPaper(t *testing.T) {
	for _, paper := range []string{"a5", "a6", "a6-landscape", "half-letter"} {
		if _, err := sheet.LayReview(reviewOf(3, 3), sheet.Options{Paper: paper}); err == nil {
			t.Errorf("%s was taken", paper)
		}
	}
}
