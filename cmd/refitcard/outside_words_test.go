package main

import (
	"encoding/xml"
	"math"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"unicode"

	"refitcard/render/document"
	"refitcard/render/faces"
	"refitcard/render/pdf/pdftest"
)

// In this file poppler reads the words back out of the sheets, with the place of each.

// A readWord is a word on a page. Places are in mm from the top left corner and hold the ink of plain capitals and of what
// hangs below the line; size is in points.
type readWord struct {
	text                     string
	page                     int // from 0
	left, top, right, bottom float64
	base                     float64
	size                     float64
}

// A readSheet is what poppler finds on a sheet.
type readSheet struct {
	width, height float64
	pages         int
	words         []readWord
	flat          string // all words in the order in which they are read, without white
	at            []int  // for each byte of flat the word that it belongs to
}

// readings keeps what was read, so that each sheet is read once for all tests.
var readings sync.Map

// readBack gives the words of a sheet in reading order.
func readBack(t *testing.T, file string) *readSheet {
	t.Helper()
	pdftotext := pdftest.Need(t, "pdftotext", "where the words of the sheets stand")
	if r, ok := readings.Load(file); ok {
		return r.(*readSheet)
	}
	var doc struct {
		Pages []struct {
			Width  float64 `xml:"width,attr"`
			Height float64 `xml:"height,attr"`
			Words  []struct {
				XMin float64 `xml:"xMin,attr"`
				YMin float64 `xml:"yMin,attr"`
				XMax float64 `xml:"xMax,attr"`
				YMax float64 `xml:"yMax,attr"`
				Text string  `xml:",chardata"`
			} `xml:"word"`
		} `xml:"body>doc>page"`
	}
	out := pdftest.Run(t, pdftotext, "-raw", "-bbox", "-enc", "UTF-8", file, "-")
	decoder := xml.NewDecoder(strings.NewReader(out))
	decoder.Strict = false
	decoder.Entity = xml.HTMLEntity
	if err := decoder.Decode(&doc); err != nil {
		t.Fatal(err)
	}
	const mm = 25.4 / 72
	m := faces.Font{Face: faces.Regular}.Measures() // all faces have these heights
	r := &readSheet{pages: len(doc.Pages)}
	for n, p := range doc.Pages {
		r.width, r.height = p.Width*mm, p.Height*mm
		for _, w := range p.Words {
			size := (w.YMax - w.YMin) * 1000 / float64(m.Ascent-m.Descent)
			base := (w.YMin + size*float64(m.Ascent)/1000) * mm
			word := readWord{text: w.Text, page: n, left: w.XMin * mm, right: w.XMax * mm, base: base, bottom: base, size: size}
			word.top = base - size*float64(m.CapHeight)/1000*mm
			if strings.ContainsAny(w.Text, "gjpqy,;()/Q") {
				word.bottom = base + 0.2*size*mm
			}
			for range len(squeeze(w.Text)) {
				r.at = append(r.at, len(r.words))
			}
			r.flat += squeeze(w.Text)
			r.words = append(r.words, word)
		}
	}
	readings.Store(file, r)
	return r
}

// squeeze takes all white out of words, so that it does not matter where lines were broken.
func squeeze(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return r
	}, s)
}

// draft tells whether a word is the DRAFT that lies under a whole page.
func (w readWord) draft() bool { return w.size > 24 } // no other word is as large

// find gives the words that say a thing, at or behind a byte of flat, and the byte behind them; none when it is not there.
func (r *readSheet) find(said string, from int) ([]readWord, int) {
	said = squeeze(said)
	i := strings.Index(r.flat[min(from, len(r.flat)):], said)
	if i < 0 || said == "" {
		return nil, from
	}
	i += min(from, len(r.flat))
	return r.words[r.at[i] : r.at[i+len(said)-1]+1], i + len(said)
}

// eachSheet runs a test on every sheet of a choice, on the papers that take the whole library and on the sample, several at a time.
func eachSheet(t *testing.T, choose func(*printedPaper) []printedSheet, test func(*testing.T, printedSheet)) {
	eachSheetOn(t, testPapers, choose, test)
	for _, p := range choose(sampled(t)) {
		t.Run(p.name, func(t *testing.T) {
			t.Parallel()
			test(t, p)
		})
	}
}

// eachSheetOn runs a test on the sheets of a choice: on A4 on all of them, on each other paper on every third, so that each has its
// turn on one of the three. With REFITCARD_LONG set it takes all.
func eachSheetOn(t *testing.T, papers []string, choose func(*printedPaper) []printedSheet, test func(*testing.T, printedSheet)) {
	for n, paper := range papers {
		for i, p := range choose(pressed(t, paper)) {
			if paper != "a4" && i%3 != n%3 && os.Getenv("REFITCARD_LONG") == "" {
				continue
			}
			t.Run(p.name, func(t *testing.T) {
				t.Parallel()
				test(t, p)
			})
		}
	}
}

func jobCards(p *printedPaper) []printedSheet     { return p.cards }
func pickLists(p *printedPaper) []printedSheet    { return p.picks }
func recordSheets(p *printedPaper) []printedSheet { return p.records }
func labelSheets(p *printedPaper) []printedSheet  { return p.labels }
func reviewSheets(p *printedPaper) []printedSheet { return p.reviews }

// How far all ink has to stay off the edge, in mm: a pouch is welded there, or holes go through.
const (
	sealed = 10
	holed  = 20
)

func TestWordsKeepOffTheEdgeAndOffEachOther(t *testing.T) {
	eachSheet(t, (*printedPaper).all, func(t *testing.T, p printedSheet) {
		r := readBack(t, p.file)
		if len(r.words) < 20 {
			t.Fatalf("only %d words", len(r.words))
		}
		for i, w := range r.words {
			if w.draft() {
				continue
			}
			left, right, top, bottom := p.free(w.page)
			if w.left < left-0.01 || w.top < top-0.01 || w.right > r.width-right+0.01 || w.bottom > r.height-bottom+0.01 {
				t.Errorf("page %d: %q stands from %.2f, %.2f to %.2f, %.2f mm", w.page+1, w.text, w.left, w.top, w.right, w.bottom)
			}
			for _, o := range r.words[i+1:] {
				if o.page != w.page || o.draft() {
					continue
				}
				across := min(w.right, o.right) - max(w.left, o.left)
				down := min(w.bottom, o.bottom) - max(w.top, o.top)
				if across > -0.6 && across <= 0 && math.Abs(w.base-o.base) < 0.01 {
					t.Errorf("page %d: %q and %q are %.2f mm apart at %.1f, %.1f", w.page+1, w.text, o.text, -across, min(w.right, o.right), w.top)
				}
				if across > 0.1 && down > 0.1 {
					t.Errorf("page %d: %q and %q overlap by %.2f × %.2f mm at %.1f, %.1f", w.page+1, w.text, o.text, across, down, max(w.left, o.left), max(w.top, o.top))
				}
			}
		}
	})
}

// hairPt is what rounding in the file may take off a size, in points.
const hairPt = 0.02

func TestTypeIsLargeEnough(t *testing.T) {
	eachSheet(t, jobCards, func(t *testing.T, p printedSheet) {
		r := readBack(t, p.file)
		distance := p.job.Settings.Distance
		least, label := faces.SizeFor(distance, 16), faces.SizeFor(distance, 15)
		card := p.card()
		unneeded := squeeze(card.Foot.Statement + card.Header.Digest + card.Header.Machine + card.Header.Variant)
		for _, w := range r.words {
			switch {
			case w.size < 9-hairPt:
				t.Errorf("page %d: %q is set in %.2f pt", w.page+1, w.text, w.size)
			case w.size < label-hairPt && !strings.Contains(unneeded, squeeze(strings.Trim(w.text, ",…"))) && !takes(p, w.text):
				t.Errorf("page %d: %q is set in %.2f pt, and %.2f is 15 minutes of arc at %g mm", w.page+1, w.text, w.size, label, distance)
			}
		}
		readThings(card, func(what, said string) {
			words, _ := r.find(said, 0)
			for _, w := range words {
				if w.size < least-hairPt {
					t.Errorf("page %d: %q of the %s is set in %.2f pt, and %.2f is 16 minutes of arc at %g mm", w.page+1, w.text, what, w.size, least, distance)
				}
			}
		})
	})
	eachSheet(t, pickLists, func(t *testing.T, p printedSheet) {
		r := readBack(t, p.file)
		least := faces.SizeFor(450, 16)
		for _, w := range r.words {
			if w.size < least-hairPt {
				t.Errorf("page %d: %q is set in %.2f pt, and %.2f is 16 minutes of arc at 450 mm", w.page+1, w.text, w.size, least)
			}
		}
	})
}

// takes tells whether a word is part of the hands-on time of a step, which nobody needs while working.
func takes(p printedSheet, word string) bool {
	return slices.ContainsFunc(p.card().Blocks, func(b document.Block) bool {
		s, ok := b.(document.Step)
		return ok && slices.Contains(strings.Fields(s.Condition.Takes), word)
	})
}

// backShift is how far all stands to the left on the back of a punched sheet, in mm: the margin without holes is 12, on narrow paper 10.
func backShift(width float64) float64 {
	if width < 180 {
		return holed - 10
	}
	return holed - 12
}

// Figure ends and unit begins stand on one axis for the whole card, left and right page alike.
func TestTorquesStandOnOneAxis(t *testing.T) {
	torques := 0
	printed := []*printedPaper{sampled(t)}
	for _, paper := range testPapers {
		printed = append(printed, pressed(t, paper))
	}
	for _, on := range printed {
		for _, p := range on.cards {
			r := readBack(t, p.file)
			var figures, units []float64
			eachAct(p.card(), r, func(step document.Step, a document.Act, at int) {
				if a.Torque == nil || a.Torque.Figure == "" {
					return
				}
				var words []readWord
				if at >= 0 {
					words, _ = r.find(a.Torque.Figure+a.Torque.Unit, at)
				}
				if len(words) < 2 {
					t.Errorf("%s: step %s: the torque %s %s is not there", p.name, step.Name, a.Torque.Figure, a.Torque.Unit)
					return
				}
				figure, unit := words[len(words)-2], words[len(words)-1]
				if math.Abs(figure.base-unit.base) > 0.01 {
					t.Errorf("%s: step %s: figure and unit don't stand on one line", p.name, step.Name)
				}
				left, _, _, _ := p.free(figure.page)
				first, _, _, _ := p.free(0)
				shift := 0.0
				if left != first { // the margins of the back of a punched sheet change over
					shift = backShift(r.width)
				}
				figures, units = append(figures, figure.right+shift), append(units, unit.left+shift)
				torques++
			})
			for i := range figures {
				if math.Abs(figures[i]-figures[0]) > 0.05 || math.Abs(units[i]-units[0]) > 0.05 {
					t.Errorf("%s: the figures end at %.2f mm, the units begin at %.2f mm", p.name, figures, units)
					break
				}
			}
		}
	}
	if torques < 100 {
		t.Errorf("only %d torques were looked for", torques)
	}
}
