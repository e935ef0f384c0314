package main

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"refitcard/render/document"
	"refitcard/render/pdf/pdftest"
)

// In this file other programs read the structure of the sheets, as one that speaks them to a person does.

// A spoken is one element of the structure: its kind and its words.
type spoken struct{ kind, words string }

var (
	elementLine = regexp.MustCompile(`^\s+(H1|H2|P|Figure)\b`)
	stringLine  = regexp.MustCompile(`^\s+"(.*)"$`)
)

// structureOf gives the elements of a sheet in the order in which they are spoken.
func structureOf(t *testing.T, pdfinfo, file string) []spoken {
	t.Helper()
	var all []spoken
	for line := range strings.Lines(pdftest.Run(t, pdfinfo, "-struct-text", "-enc", "UTF-8", file)) {
		line = strings.TrimRight(line, "\n")
		if m := elementLine.FindStringSubmatch(line); m != nil {
			all = append(all, spoken{kind: m[1]})
		} else if m := stringLine.FindStringSubmatch(line); m != nil && len(all) > 0 {
			all[len(all)-1].words += m[1]
		}
	}
	for i := range all {
		all[i].words = plainSpaces(all[i].words)
	}
	return all
}

// twoLayouts are a wide and a narrow paper: the order of things is the same on all wide ones, and on all narrow ones.
var twoLayouts = []string{"a4", "a5"}

func plainSpaces(s string) string { return strings.Join(strings.Fields(s), " ") }

func TestCardsAreSpokenInOrder(t *testing.T) {
	pdfinfo := pdftest.Need(t, "pdfinfo", "that the structure of the cards is in reading order")
	eachSheetOn(t, twoLayouts, jobCards, func(t *testing.T, p printedSheet) {
		card := p.card()
		all := structureOf(t, pdfinfo, p.file)
		var heads []string
		for _, b := range card.Blocks {
			switch b := b.(type) {
			case document.Heading:
				heads = append(heads, b.Text)
			case document.Stage:
				heads = append(heads, b.Title)
			}
		}
		of := func(kind string) []string {
			var words []string
			for _, e := range all {
				if e.kind == kind {
					words = append(words, e.words)
				}
			}
			return words
		}
		if got := of("H1"); !slices.Equal(got, []string{card.Header.Title}) {
			t.Errorf("headings of the first rank %q, want the title alone", got)
		}
		if got := of("H2"); !slices.Equal(got, heads) {
			t.Errorf("headings of the second rank %q, want %q", got, heads)
		}
		// Each act is an element of its own, in order, and a torque is spoken with its unit before the next act.
		at, acts := 0, 0
		next := func(step, said string) {
			t.Helper()
			said = plainSpaces(said)
			i := slices.IndexFunc(all[at:], func(e spoken) bool { return e.kind == "P" && e.words == said })
			if i < 0 {
				t.Errorf("step %s: %q is no paragraph, or stands too early", step, said)
				return
			}
			at += i + 1
			acts++
		}
		for _, b := range card.Blocks {
			step, ok := b.(document.Step)
			if !ok {
				continue
			}
			for _, panel := range step.Panels {
				next(step.Name, panel.Signal)
			}
			next(step.Name, step.Name)
			for _, a := range step.Acts {
				if a.Runs != nil {
					next(step.Name, words(a.Runs))
				}
				if a.Torque != nil && a.Torque.Figure != "" {
					next(step.Name, a.Torque.Figure+" "+a.Torque.Unit)
				}
				for _, b := range a.Boxes {
					if b.Limits != "" {
						next(step.Name, b.Limits+" "+b.Unit)
					}
				}
			}
		}
		if acts < 8 {
			t.Errorf("only %d acts were looked for", acts)
		}
		for _, l := range glanceOf(card) {
			for _, i := range l.Items {
				if want := plainSpaces(i.Count + " " + i.Name); !slices.Contains(of("P"), want) {
					t.Errorf("list %s: %q is no paragraph", l.Head, want)
				}
			}
		}
		if n := len(slices.DeleteFunc(of("P"), func(s string) bool { return s != card.Header.Number })); n != 1 {
			t.Errorf("the number is spoken %d times: once is enough", n)
		}
		if !slices.Contains(of("P"), plainSpaces(card.Foot.Statement)) {
			t.Error("the statement at the foot is not spoken")
		}
	})
}

func glanceOf(c *document.JobCard) (lists []document.GlanceList) {
	for _, b := range c.Blocks {
		if g, ok := b.(document.Glance); ok {
			lists = append(lists, g.Lists...)
		}
	}
	return lists
}

func TestPickListsAreSpokenInOrder(t *testing.T) {
	pdfinfo := pdftest.Need(t, "pdfinfo", "that the structure of the pick lists is in reading order")
	eachSheetOn(t, twoLayouts, pickLists, func(t *testing.T, p printedSheet) {
		list := p.pick()
		var got []string
		for _, e := range structureOf(t, pdfinfo, p.file) {
			if e.kind == "H1" || e.kind == "H2" {
				got = append(got, e.words)
			}
		}
		want := []string{"Pick list " + list.Header.Title}
		for _, s := range []struct {
			name string
			rows int
		}{
			{"Parts", len(list.Parts)},
			{"Parts as required", len(list.AsRequired)},
			{"Supplies", len(list.Supplies)},
			{"Tools", len(list.Tools)},
			{"Hardware bags", len(list.Bags)},
		} {
			if s.rows > 0 {
				want = append(want, s.name)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("headings %q, want %q", got, want)
		}
	})
}

// Whoever can't see a figure hears what it shows.
func TestEveryFigureHasWords(t *testing.T) {
	qpdf := pdftest.Need(t, "qpdf", "that each figure has words for those who can't see it")
	eachSheetOn(t, twoLayouts, cardsAndPicks, func(t *testing.T, p printedSheet) {
		var file struct {
			QPDF []map[string]json.RawMessage `json:"qpdf"`
		}
		if err := json.Unmarshal([]byte(pdftest.Run(t, qpdf, "--json=2", "--json-key=qpdf", p.file)), &file); err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, objects := range file.QPDF {
			for _, o := range objects {
				var element struct {
					Value struct {
						S   string `json:"/S"`
						Alt string `json:"/Alt"`
					} `json:"value"`
				}
				if json.Unmarshal(o, &element) == nil && element.Value.S == "/Figure" {
					got = append(got, strings.TrimPrefix(element.Value.Alt, "u:"))
				}
			}
		}
		want := []string{"scan code " + p.job.Proc.Number.Value + " " + p.job.Proc.Revision.Value + " " + strings.ReplaceAll(p.card().Header.Digest, "-", "")}
		if strings.HasSuffix(p.file, "-card.pdf") {
			want = append(want, captions(p.card())...)
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("figures are called %q, want %q", got, want)
		}
	})
}

func cardsAndPicks(p *printedPaper) []printedSheet { return slices.Concat(p.cards, p.picks) }

// captions gives the words of the pictures on a card.
func captions(c *document.JobCard) (all []string) {
	add := func(f document.Figure) {
		if f.Data != nil {
			all = append(all, f.Caption)
		}
	}
	for _, b := range c.Blocks {
		switch b := b.(type) {
		case document.Figure:
			add(b)
		case document.Step:
			for _, k := range b.Before {
				if f, ok := k.(document.Figure); ok {
					add(f)
				}
			}
			for _, a := range b.Acts {
				for _, f := range a.Figures {
					add(f)
				}
			}
		}
	}
	return all
}

// A second reader that shares nothing with poppler draws every card without a complaint.
func TestAnotherReaderDrawsTheCards(t *testing.T) {
	mutool := pdftest.Need(t, "mutool", "that a reader other than poppler draws the cards and finds the same words")
	for _, paper := range testPapers {
		for _, p := range pressed(t, paper).cards {
			out := pdftest.Run(t, mutool, "draw", "-q", "-F", "text", "-o", "-", p.file)
			flat := squeeze(out)
			eachAct(p.card(), readBack(t, p.file), func(s document.Step, a document.Act, _ int) {
				if a.Runs != nil && !strings.Contains(flat, squeeze(words(a.Runs))) {
					t.Errorf("%s: step %s: %q is missing", p.name, s.Name, words(a.Runs))
				}
			})
			if problems := pdftest.Run(t, mutool, "info", "-M", p.file); strings.Contains(problems, "error") {
				t.Errorf("%s: %s", p.name, problems)
			}
		}
	}
}

// Ghostscript complains of what it has to mend.
func TestGhostscriptHasNothingToMend(t *testing.T) {
	gs := pdftest.Need(t, "gs", "that a reader other than poppler draws the cards without mending them")
	for _, paper := range twoLayouts {
		cards := pressed(t, paper).cards
		args := []string{"-dBATCH", "-dNOPAUSE", "-dSAFER", "-sDEVICE=nullpage"}
		pages := 0
		for _, p := range cards {
			args = append(args, p.file)
			pages += readBack(t, p.file).pages
		}
		out := pdftest.Run(t, gs, args...)
		if strings.Contains(out, "****") || strings.Contains(out, "rror") {
			t.Errorf("%s: %s", paper, out)
		}
		if n := strings.Count(out, "\nPage "); n != pages {
			t.Errorf("%s: %s of %d pages were drawn", paper, fmt.Sprint(n), pages)
		}
	}
}
