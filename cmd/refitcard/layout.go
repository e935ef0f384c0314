package main

import (
	"path"

	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
	"refitcard/render/document"
	"refitcard/render/sheet"
)

// paper gives the paper of a sheet: what the command line says, else the procedure, else the settings, else A4.
func (s *session) paper(p *procedure.Procedure, set *library.Settings) string {
	for _, name := range []string{s.opt.paper, p.Paper.Value, set.Paper} {
		if name != "" {
			return name
		}
	}
	return "a4"
}

// sheetOptions says how a card is laid out.
func (s *session) sheetOptions(c compiled) sheet.Options {
	o := s.opt
	opt := sheet.Options{
		Paper: s.paper(c.Proc, c.Settings), Distance: o.distance, Sheets: o.sheets, Sides: o.sides, Punch: o.punch,
		Colour: o.ink != "black",
	}
	if opt.Distance == 0 {
		opt.Distance = c.Settings.Distance
	}
	return opt
}

// pickOptions says how a pick list is laid out: on plain paper, so the card's size does not matter to it.
func (s *session) pickOptions() sheet.Options {
	return sheet.Options{Paper: s.opt.paper, Colour: s.opt.ink != "black"}
}

// attachments are the files that go into a card: its source, what that includes, and the card's content as JSON. A card
// found on a wall years later can be opened and corrected.
func attachments(c compiled, card *document.JobCard) ([]sheet.Attachment, error) {
	var all []sheet.Attachment
	taken := map[string]bool{}
	add := func(name, what, mime string, data []byte) {
		for taken[name] {
			name = "_" + name
		}
		taken[name] = true
		all = append(all, sheet.Attachment{Name: name, Description: what, Type: mime, Data: data})
	}
	for i, f := range c.Proc.Sources {
		what := theSource
		if i > 0 {
			what = theIncluded
		}
		add(path.Base(f.Path), what+f.Path, "text/markdown", f.Raw())
	}
	content, err := card.JSON()
	if err != nil {
		return nil, err
	}
	add("card.json", theContent, "application/json", content)
	return all, nil
}

// What is said beside each file inside a card. After the first two comes the file's place in the library, which tells
// how the files find each other again.
const (
	theSource   = "source of this card: "
	theIncluded = "included by the source of this card: "
	theContent  = "content of this card"
)
