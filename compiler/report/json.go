package report

import (
	"encoding/json"
	"io"

	"refitcard/compiler/diag"
	"refitcard/compiler/source"
)

// Schema is the number of the JSON layout; it goes up when a reader of the old one would be misled.
const Schema = 1

type jsonResults struct {
	Schema   int           `json:"schema"`
	Tool     string        `json:"tool"`
	Version  string        `json:"version"`
	Files    int           `json:"files"`
	Findings []jsonFinding `json:"findings"`
}

type jsonFinding struct {
	Rule     string `json:"rule"`
	Severity string `json:"severity"`
	jsonPlace
	Offset   int           `json:"offset"`
	Length   int           `json:"length"`
	Step     int           `json:"step"`
	Variants []string      `json:"variants,omitempty"`
	Message  string        `json:"message"`
	Why      string        `json:"why"`
	Do       string        `json:"do"`
	Related  []jsonRelated `json:"related"`
	Fixes    []jsonFix     `json:"fixes"`
	Waived   string        `json:"waived"`
}

type jsonPlace struct {
	File      string `json:"file"`
	Line      int    `json:"line"`
	Column    int    `json:"column"`
	EndLine   int    `json:"end_line"`
	EndColumn int    `json:"end_column"`
}

type jsonRelated struct {
	jsonPlace
	Message string `json:"message"`
}

type jsonFix struct {
	Safe  bool       `json:"safe"`
	Title string     `json:"title"`
	Edits []jsonEdit `json:"edits"`
}

type jsonEdit struct {
	Offset int    `json:"offset"`
	Length int    `json:"length"`
	Text   string `json:"text"`
}

// JSON writes results as one object, waived findings too. Columns count code points from 1, end_column is the first one
// past the mark; offset and length are bytes of the file as it lies on the disk.
func JSON(w io.Writer, r Results) error {
	out := jsonResults{Schema, "refitcard", r.Version, r.Files, []jsonFinding{}}
	for _, f := range r.Findings {
		out.Findings = append(out.Findings, finding(f, r))
	}
	enc := json.NewEncoder(escaping{w})
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(out)
}

// escaping keeps what steers a terminal out of JSON. The encoder hands over whole values.
type escaping struct{ w io.Writer }

// Write writes what JSON means in characters that do no harm.
func (e escaping) Write(data []byte) (int, error) {
	if _, err := e.w.Write(source.PlainJSON(data)); err != nil {
		return 0, err
	}
	return len(data), nil
}

func finding(f diag.Finding, r Results) jsonFinding {
	j := jsonFinding{
		Rule: f.Rule, Severity: f.Severity.String(), jsonPlace: place(f.At), Step: f.Step, Variants: f.Variants,
		Message: f.Message, Why: f.Why, Do: f.Do, Related: []jsonRelated{}, Fixes: []jsonFix{}, Waived: f.Waived,
	}
	if j.Why == "" && r.Texts != nil {
		if t, ok := r.Texts(f.Rule); ok {
			j.Why = t.Why
		}
	}
	if f.At.Known() {
		j.Offset, j.Length = f.At.Start+f.At.File.Mark, f.At.End-f.At.Start
	}
	for _, rel := range f.Related {
		j.Related = append(j.Related, jsonRelated{place(rel.At), rel.Words})
	}
	for _, fix := range f.Fixes {
		edits := []jsonEdit{}
		for _, e := range fix.Edits {
			edits = append(edits, jsonEdit{e.At.Start + e.At.File.Mark, e.At.End - e.At.Start, e.Text})
		}
		j.Fixes = append(j.Fixes, jsonFix{fix.Safe, fix.Title, edits})
	}
	return j
}

func place(at source.Span) jsonPlace {
	if !at.Known() {
		return jsonPlace{}
	}
	from, to := at.File.Position(at.Start), at.File.Position(at.End)
	return jsonPlace{at.File.Name, from.Line, from.Column, to.Line, to.Column}
}
