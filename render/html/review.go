package html

import (
	"bytes"
	"fmt"
	"html/template"
	"io"
	"strings"

	"refitcard/render/document"
	"refitcard/templates"
)

// Review writes a review sheet as one page that needs nothing beside itself: no network, no script, no other file.
func Review(w io.Writer, r *document.Review) error {
	t, err := template.ParseFS(templates.Pages, "pages/review.html")
	if err != nil {
		return err
	}
	page := reviewPage{Review: r, Legend: legend()}
	for _, l := range r.Ledgers {
		if len(r.Ledgers) == 1 {
			l.Variant = ""
		}
		page.Ledgers = append(page.Ledgers, newPicture(l))
	}
	var b bytes.Buffer
	if err := t.Execute(&b, page); err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// reviewPage is what the page is made from: the sheet, its ledgers turned into shapes.
type reviewPage struct {
	*document.Review
	Ledgers []picture
	Legend  []sample
}

// picture is one ledger in pixels.
type picture struct {
	Variant     string
	Wide        int
	First, Last string // names of the steps
	Heads       []stepHead
	Rows        []pictureRow
}

type stepHead struct {
	X    float64
	Name string
}

type pictureRow struct {
	Thing, Count, End string
	Fault             bool
	Told              string // the row in words, for those who can't see it
	Shapes            []shape
}

// sample is one entry of the legend.
type sample struct {
	Wide   int
	Words  string
	Shapes []shape
}

// shape is one thing to draw. Kind is line, bar, hollow, dot, ring or tip.
type shape struct {
	Kind               string
	X, Y, X2, Y2, W, H float64
	R, Pen             float64
	Ink, Points        string
}

// The picture in pixels: the width of a step, the room behind the last one where a bar runs off, the middle of a row.
const (
	stepWide  = 28.0
	edgeRoom  = 14.0
	middle    = 13.0
	barHigh   = 6.5
	radius    = 6.0
	markPen   = 1.8
	gridInk   = "#a6a6a6"
	solidInk  = "#000"
	rowHigh   = 26.0
	leastStep = 16.0 // from 60 steps up
)

func newPicture(l document.Ledger) picture {
	p := picture{Variant: l.Variant}
	wide := stepWide
	if len(l.Steps) > 60 {
		wide = leastStep
	}
	p.Wide = int(wide*float64(len(l.Steps)) + edgeRoom)
	for i, s := range l.Steps {
		p.Heads = append(p.Heads, stepHead{(float64(i) + 0.5) * wide, s})
	}
	if n := len(l.Steps); n > 0 {
		p.First, p.Last = l.Steps[0], l.Steps[n-1]
	}
	for _, r := range l.Rows {
		p.Rows = append(p.Rows, pictureRow{r.Thing, r.Count, r.End, r.Fault, told(l, r), rowShapes(l, r, wide)})
	}
	return p
}

func rowShapes(l document.Ledger, r document.LedgerRow, wide float64) []shape {
	var all []shape
	n := len(l.Steps)
	for i := range n + 1 {
		all = append(all, shape{Kind: "line", X: float64(i) * wide, Y: 0, X2: float64(i) * wide, Y2: rowHigh, Pen: 1, Ink: gridInk})
	}
	centre := func(i int) float64 { return (float64(i) + 0.5) * wide }
	for _, b := range r.Bars {
		x1, x2 := 0.0, float64(n)*wide
		if b.From >= 0 {
			x1 = centre(b.From)
		}
		if b.To < n {
			x2 = centre(b.To)
		}
		kind := "bar"
		if b.Hollow {
			kind = "hollow"
		}
		all = append(all, shape{Kind: kind, X: x1, Y: middle - barHigh/2, W: x2 - x1, H: barHigh})
		if b.To >= n {
			all = append(all, shape{Kind: "tip", Points: fmt.Sprintf("%g,%g %g,%g %g,%g", x2, middle-barHigh, x2+edgeRoom-2, middle, x2, middle+barHigh)})
		}
	}
	for i := 0; i < len(r.Marks); {
		k := i
		for k < len(r.Marks) && r.Marks[k].Column == r.Marks[i].Column {
			k++
		}
		group := r.Marks[i:k]
		if len(group) > 3 {
			group = []document.Mark{group[0], group[len(group)-1]}
		}
		size := min(radius, wide/float64(len(group))/2-0.7)
		for j, m := range group {
			x := centre(m.Column) + (float64(j)-float64(len(group)-1)/2)*(2*size+1.4)
			all = append(all, mark(m.Kind, x, size)...)
		}
		i = k
	}
	return all
}

// mark gives the shapes of one event.
func mark(kind document.MarkKind, x, r float64) []shape {
	switch kind {
	case document.ComesOff:
		return []shape{{Kind: "dot", X: x, Y: middle, R: r}}
	case document.GoesBack:
		return []shape{{Kind: "ring", X: x, Y: middle, R: r - markPen/2, Ink: solidInk}}
	case document.Scrapped:
		d := r * 0.78
		return []shape{
			{Kind: "ring", X: x, Y: middle, R: r, Ink: "#fff"}, // it may stand on a bar
			{Kind: "line", X: x - d, Y: middle - d, X2: x + d, Y2: middle + d, Pen: markPen, Ink: solidInk},
			{Kind: "line", X: x - d, Y: middle + d, X2: x + d, Y2: middle - d, Pen: markPen, Ink: solidInk},
		}
	}
	return []shape{{Kind: "line", X: x, Y: middle - radius, X2: x, Y2: middle + radius, Pen: markPen, Ink: solidInk}}
}

func legend() []sample {
	all := []sample{{Wide: 24, Words: "in, not tight", Shapes: []shape{{Kind: "hollow", X: 1, Y: middle - barHigh/2, W: 22, H: barHigh}}}}
	var marks []sample
	for kind, words := range []string{"comes off", "goes back", "scrapped", "loosened or tightened"} {
		marks = append(marks, sample{14, words, mark(document.MarkKind(kind), 7, radius)})
	}
	return append(marks, all...)
}

// told says a row in words.
func told(l document.Ledger, r document.LedgerRow) string {
	words := [...]string{"comes off", "goes back", "is scrapped", "is loosened or tightened"}
	var all []string
	for _, m := range r.Marks {
		all = append(all, words[m.Kind]+" in step "+l.Steps[m.Column])
	}
	if len(all) == 0 {
		all = append(all, "nothing happens to it")
	}
	return r.Thing + ": " + strings.Join(all, ", ") + "; at the end " + r.End
}
