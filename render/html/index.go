// Package html shows sheets and lists of sheets in a browser, as files that stand alone.
package html

import (
	"html/template"
	"io"
	"net/url"
	"strings"

	"refitcard/templates"
)

// Entry is one procedure of a library's index.
type Entry struct {
	Number, Revision, Date, Title, Machine string
	Source                                 string   // the file it was made from, as the user named it
	Sheets                                 []string // names of files beside the index
	State                                  string   // approved, draft, or why nothing was made
}

// Index writes the page that lists the sheets of a library.
func Index(w io.Writer, entries []Entry) error {
	t, err := template.New("index.html").Funcs(template.FuncMap{
		"kind": func(name string) string { // SD-114-C-card.pdf → card
			name = strings.TrimSuffix(name, ".pdf")
			return name[strings.LastIndexByte(name, '-')+1:]
		},
		"link": func(name string) string { return (&url.URL{Path: name}).String() },
	}).ParseFS(templates.Pages, "pages/index.html")
	if err != nil {
		return err
	}
	return t.Execute(w, entries)
}
