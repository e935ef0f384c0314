package html

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/render/document"
)

// cardTable holds the lines of one table of the record sheet that are written in at the end of the page.
type cardTable struct {
	Title string
	Lines []cardLine
}

// cardLine is one line with its fields.
type cardLine struct {
	ID     string
	Line   int
	Step   string // "step 6", "steps 6, 7"
	Words  string
	Fields []cardField
}

// cardField is one field to type in. Label is the column of the record sheet, or the label of its box.
type cardField struct {
	ID, Label string
	Line      int
	Now       bool   // a button puts the time into it
	List      string // names the list of what was typed into the like fields; may be empty
}

// fields makes the fields of the record sheet that don't stand in a step: the boxes at its head, and what is written on lines
// other than those of readings and holds. Initials and signatures have none: they are given by hand.
func (p *cardPage) fields(r *document.Record) {
	if r == nil {
		return
	}
	for i, b := range r.Boxes {
		p.Boxes = append(p.Boxes, cardField{ID: fmt.Sprintf("box%d", i+1), Label: b.Label, Now: strings.Contains(b.Label, "time")})
	}
	l := r.Lines
	table := func(title string) { p.Tables = append(p.Tables, cardTable{Title: title}) }
	table("Torques")
	for _, x := range l.Torques {
		figure := strings.TrimSpace(x.NewtonMetres + " N·m")
		if x.NewtonMetres == "" {
			figure = x.More
		}
		p.line(x.Line, x.Step, strings.TrimSpace(x.Count+" "+x.What)+", "+figure, document.WrenchSerial, document.CalibratedTo)
	}
	table("Measuring tools")
	for _, x := range l.Gauges {
		p.line(x.Line, x.Steps, x.Tool, document.GaugeSerial, document.CalibratedTo)
	}
	table("Handover")
	for _, x := range l.Handovers {
		p.line(x.Line, x.Step, "only if the job is left there", document.GivenBy, document.TakenBy, document.DateAndTime)
	}
	table("Parts fitted")
	for _, x := range l.Parts {
		words := strings.TrimSpace(x.Count + " " + x.Name)
		for _, more := range []string{x.Number, x.More} {
			if more != "" {
				words += ", " + more
			}
		}
		p.line(x.Line, x.Step, words, document.Batch)
	}
	p.Tables = slices.DeleteFunc(p.Tables, func(t cardTable) bool { return len(t.Lines) == 0 })
}

// line adds a line with its columns to the last table.
func (p *cardPage) line(n int, step, words string, columns ...string) {
	of := "step " + step
	if strings.Contains(step, ",") {
		of = "steps " + step
	}
	line := cardLine{ID: fmt.Sprintf("line%d", n), Line: n, Step: of, Words: strings.TrimRight(words, ", ")}
	for i, c := range columns {
		f := cardField{ID: fmt.Sprintf("line%d-%d", n, i+1), Label: c, Line: n, Now: c == document.DateAndTime}
		if c == document.WrenchSerial || c == document.GaugeSerial || c == document.CalibratedTo {
			f.List = "used-" + strings.ToLower(strings.ReplaceAll(c, " ", "-"))
			if !slices.Contains(p.Lists, f.List) {
				p.Lists = append(p.Lists, f.List)
			}
		}
		line.Fields = append(line.Fields, f)
	}
	t := &p.Tables[len(p.Tables)-1]
	t.Lines = append(t.Lines, line)
}
