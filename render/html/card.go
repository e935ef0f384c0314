package html

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"net/url"
	"reflect"
	"slices"
	"strings"

	"refitcard/render/document"
	"refitcard/templates"
)

// Card writes a job card as one page for a tablet. It needs nothing beside itself: style, script and pictures stand in it,
// and its policy lets the browser load nothing else. The page keeps ticks, readings, holds and timers in the browser's own
// storage, under the card's number, revision and digest. The same card gives the same bytes. It is an error when a block or
// a picture is of a type that the page can't show: leaving it out would lose a step without a word.
func Card(w io.Writer, c *document.JobCard) error {
	style, err := fs.ReadFile(templates.Pages, "pages/card.css")
	if err != nil {
		return err
	}
	script, err := fs.ReadFile(templates.Pages, "pages/card.js")
	if err != nil {
		return err
	}
	page, err := newCardPage(c)
	if err != nil {
		return err
	}
	page.Style, page.Script = template.CSS(style), template.JS(script)
	page.Policy = "default-src 'none'; script-src '" + fingerprint(script) + "'; style-src '" + fingerprint(style) +
		"'; img-src data:; base-uri 'none'; form-action 'none'"
	t, err := template.New("card.html").Funcs(template.FuncMap{"changed": c.IsChanged}).ParseFS(templates.Pages, "pages/card.html")
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := t.Execute(&b, page); err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// fingerprint names a script or style in a content security policy (Content Security Policy Level 3, hash-source).
func fingerprint(text []byte) string {
	sum := sha256.Sum256(text)
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// cardPage is what the page is made from.
type cardPage struct {
	*document.JobCard
	Policy   string
	Style    template.CSS
	Script   template.JS
	Family   string // what the keys of all cards of this number begin with, in the browser's storage
	Key      string // this card's own
	File     string // what a saved record's name begins with
	Code     *scanCode
	Sections []cardSection
	Boxes    []cardField // at the head of the record sheet
	Tables   []cardTable
	Lists    []string // of what was typed already, by the names that fields call them
}

// cardSection is a stage, or what stands before the first or behind the last.
type cardSection struct {
	ID, Title, Help string
	Blocks          []cardBlock
}

// cardBlock is one block; Kind names its template, Content is the block or what is made of it.
type cardBlock struct {
	Kind    string
	Content any
}

// cardStep is a step with its boxes to tick named. Names of boxes are those of the page's elements: s3-a1 is the first act
// of the third step.
type cardStep struct {
	document.Step
	ID        string
	Before    []cardBlock
	NotNeeded string // its box; empty when the step has none
	Repeats   []cardTime
	Acts      []cardAct
}

// Framed tells whether the step begins with a hold or a handover: its number then stands inside their frame.
func (s *cardStep) Framed() bool {
	return !s.Condition.Set() && len(s.Before) == 0 && len(s.Acts) > 0 && (s.Acts[0].Hold != nil || s.Acts[0].Handover != nil)
}

// cardTime is the box of one of the times that a step is repeated.
type cardTime struct {
	ID     string
	Number int
}

type cardAct struct {
	document.Act
	ID       string // of the box, of the hold
	Waits    []wait
	Readings []reading
	Rows     []cardPass
	Layout   *cardLayout
	Figures  []cardFigure
}

type cardPass struct {
	document.Pass
	ID string
}

func newCardPage(c *document.JobCard) (*cardPage, error) {
	p := &cardPage{JobCard: c}
	content, err := c.JSON()
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(content)
	h := c.Header
	p.Family = "refitcard/" + url.PathEscape(h.Number) + "/"
	for i, s := range []string{h.Revision, h.Digest, h.Variant, hex.EncodeToString(sum[:4])} {
		if i > 0 {
			p.Key += "/"
		}
		p.Key += url.PathEscape(s)
	}
	p.Key = p.Family + p.Key
	p.File = fileName(h)
	if p.Code, err = newScanCode(h.Payload); err != nil {
		return nil, err
	}
	p.fields(c.Record)
	steps := 0
	for _, b := range c.Blocks {
		if step, ok := b.(document.Step); ok {
			steps++
			b, err := newCardStep(step, fmt.Sprintf("s%d", steps))
			if err != nil {
				return nil, err
			}
			p.last().Blocks = append(p.last().Blocks, cardBlock{"step", b})
			continue
		}
		if err := p.add(b); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// fileName is "SD-114-C-record": what could not stand in a file's name becomes a hyphen.
func fileName(h document.Header) string {
	name := h.Number + "-" + h.Revision
	if h.Variant != "" {
		name += "-" + h.Variant
	}
	safe := func(r rune) rune {
		if r <= 0x20 || r == 0x7f || strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}
	return strings.TrimLeft(strings.Map(safe, name+"-record"), ".-")
}

// open begins a section.
func (p *cardPage) open(title, help string) {
	p.Sections = append(p.Sections, cardSection{ID: fmt.Sprintf("part%d", len(p.Sections)+1), Title: title, Help: help})
}

// last gives the section that is open.
func (p *cardPage) last() *cardSection {
	if len(p.Sections) == 0 {
		p.open("The job", "")
	}
	return &p.Sections[len(p.Sections)-1]
}

// add puts a block other than a step; headings and what closes the card begin a section of their own.
func (p *cardPage) add(b document.Block) error {
	switch b := b.(type) {
	case document.Heading:
		p.open(b.Text, b.Help)
		return nil
	case document.Stage:
		p.open(b.Title, b.Range)
		return nil
	case document.TorqueTable:
		p.open("Torques", "")
	case document.After:
		p.open("When the last step is done", "")
	}
	made, err := newCardBlock(b)
	if err != nil {
		return err
	}
	p.last().Blocks = append(p.last().Blocks, made)
	return nil
}

// newCardBlock makes what the templates show of a block that has no box to tick.
func newCardBlock(b document.Block) (cardBlock, error) {
	kind := strings.ToLower(reflect.TypeOf(b).Name())
	switch b := b.(type) {
	case document.Facts, document.Line, document.Glance, document.Panel, document.Note, document.TorqueTable, document.After:
		return cardBlock{kind, b}, nil
	case document.Pile:
		b.Layers = slices.Clone(b.Layers)
		slices.Reverse(b.Layers) // the last one put on stands at the top
		return cardBlock{kind, b}, nil
	case document.Figure:
		f, err := newCardFigure(b)
		return cardBlock{kind, f}, err
	case document.Layout:
		return cardBlock{kind, newCardLayout(b)}, nil
	}
	return cardBlock{}, fmt.Errorf("a page for a tablet can't show a block of the type %q here", kind)
}

func newCardStep(s document.Step, id string) (*cardStep, error) {
	out := &cardStep{Step: s, ID: id}
	for _, b := range s.Before {
		made, err := newCardBlock(b)
		if err != nil {
			return nil, fmt.Errorf("step %s: %w", s.Name, err)
		}
		out.Before = append(out.Before, made)
	}
	if s.Condition.If != "" {
		out.NotNeeded = id + "-not"
	}
	for i := range s.Condition.Times {
		out.Repeats = append(out.Repeats, cardTime{fmt.Sprintf("%s-r%d", id, i+1), i + 1})
	}
	for i, a := range s.Acts {
		made, err := newCardAct(a, fmt.Sprintf("%s-a%d", id, i+1))
		if err != nil {
			return nil, fmt.Errorf("step %s: %w", s.Name, err)
		}
		out.Acts = append(out.Acts, made)
	}
	return out, nil
}

func newCardAct(a document.Act, id string) (cardAct, error) {
	out := cardAct{Act: a, ID: id, Waits: waits(a, id), Readings: readings(a, id)}
	if a.Passes != nil {
		for i, r := range a.Passes.Rows {
			out.Rows = append(out.Rows, cardPass{r, fmt.Sprintf("%s-p%d", id, i+1)})
		}
		if a.Passes.Layout != nil {
			l := newCardLayout(*a.Passes.Layout)
			out.Layout = &l
		}
	}
	for _, f := range a.Figures {
		made, err := newCardFigure(f)
		if err != nil {
			return out, err
		}
		out.Figures = append(out.Figures, made)
	}
	return out, nil
}
