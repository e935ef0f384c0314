package preview

import (
	"fmt"
	"strings"
	"time"

	"refitcard/compiler/diag"
	"refitcard/compiler/report"
	"refitcard/compiler/source"
	"refitcard/render/sheet"
)

// shownWork is what the page of one procedure puts up.
type shownWork struct {
	Name     string            `json:"name"`
	State    string            `json:"state"` // good; stale: cards of before; none: no cards
	Made     string            `json:"made"`  // when the cards were drawn: "12:03"
	Wrong    string            `json:"wrong"` // why there is no card, where no finding says it
	Gone     bool              `json:"gone"`
	Count    string            `json:"count"` // "3 errors, 1 warning"
	Cards    []shownCard       `json:"cards"`
	Findings []shownFinding    `json:"findings"`
	Explain  map[string]string `json:"explain"`
	Files    []shownFile       `json:"files"`
	Before   []shownFile       `json:"before"` // the files that stale cards were made from
}

type shownCard struct {
	Variant string      `json:"variant"`
	Width   float64     `json:"width"` // mm
	Height  float64     `json:"height"`
	Pages   []drawnPage `json:"pages"`
}

// part is a place on a page that leads to its source.
type part struct {
	X     float64 `json:"x"`
	Y     float64 `json:"y"`
	W     float64 `json:"w"`
	H     float64 `json:"h"`
	Step  string  `json:"step"`
	Words string  `json:"words"`
	At    *place  `json:"at"`
}

type shownFinding struct {
	Rule     string    `json:"rule"`
	Severity string    `json:"severity"`
	Step     int       `json:"step"`
	Message  string    `json:"message"`
	Why      string    `json:"why"`
	Do       string    `json:"do"`
	At       *place    `json:"at"`
	Related  []related `json:"related"`
}

type related struct {
	Label string `json:"label"`
	Words string `json:"words"`
	At    *place `json:"at"`
}

// place is a piece of a file, from a column of a line to before another: lines from 1, columns from 0 as scripts count.
type place struct {
	File  int    `json:"file"` // which of the files
	Line  int    `json:"line"`
	From  int    `json:"from"`
	Last  int    `json:"last"` // its last line
	To    int    `json:"to"`
	Words string `json:"words"` // "end-cover.md:41:5", as check says it
}

type shownFile struct {
	Name  string   `json:"name"`
	Lines []string `json:"lines"`
}

// goodCards are the cards of the last work without errors.
type goodCards struct {
	cards    []shownCard
	files    []shownFile
	made     string
	pictures map[string]picture
}

// shelf numbers the files that places lie in.
type shelf struct {
	numbers map[*source.File]int
	files   []shownFile
}

func (s *shelf) number(f *source.File) int {
	if n, ok := s.numbers[f]; ok {
		return n
	}
	lines := make([]string, f.Lines())
	for i := range lines {
		lines[i] = report.Plain(f.LineSpan(i + 1).Text())
	}
	s.numbers[f] = len(s.files)
	s.files = append(s.files, shownFile{report.Plain(f.Name), lines})
	return s.numbers[f]
}

func (s *shelf) place(at source.Span) *place {
	if !at.Known() {
		return nil
	}
	// A mark that ends with its line does not reach into the next one.
	end := at.End
	for end > at.Start && (at.File.Text[end-1] == '\n' || at.File.Text[end-1] == '\r') {
		end--
	}
	pos := at.File.Position(at.Start)
	p := &place{
		File: s.number(at.File), Line: pos.Line, From: at.File.Column16(at.Start) - 1, Last: at.File.Line(end), To: at.File.Column16(end) - 1,
		Words: report.Plain(fmt.Sprintf("%s:%d:%d", at.File.Name, pos.Line, pos.Column)),
	}
	if p.Last == p.Line {
		p.To = max(p.To, p.From) // bytes that are no text may begin and end within one character
	}
	return p
}

// nothing puts up why there is nothing new.
func nothing(v *view, wrong string) shownWork {
	out := shownWork{
		Name: report.Plain(v.name), State: "none", Wrong: report.Plain(wrong), Cards: []shownCard{}, Findings: []shownFinding{},
		Explain: map[string]string{}, Files: []shownFile{}, Before: []shownFile{},
	}
	if v.good != nil {
		out.State, out.Cards, out.Made, out.Files, out.Before = "stale", v.good.cards, v.good.made, v.good.files, v.good.files
	}
	return out
}

// show turns work into what the page puts up. Where errors stand it keeps the cards of before.
func (s *server) show(v *view, w Work) shownWork {
	files := &shelf{numbers: map[*source.File]int{}}
	for _, f := range w.Files {
		files.number(f)
	}
	out := shownWork{
		Name: report.Plain(v.name), Wrong: report.Plain(w.Wrong), Gone: w.Gone, State: "good",
		Findings: []shownFinding{}, Explain: map[string]string{}, Before: []shownFile{},
	}
	var told []diag.Finding
	for _, f := range w.Findings {
		if f.Waived != "" {
			continue
		}
		told = append(told, f)
		shown := finding(files, f)
		if _, ok := out.Explain[f.Rule]; !ok { // as check does, the rule's own why once
			why, whole := s.opt.Maker.Explain(f.Rule)
			out.Explain[f.Rule] = whole
			if shown.Why == "" {
				shown.Why = strings.Join(strings.Fields(why), " ")
			}
		}
		out.Findings = append(out.Findings, shown)
	}
	out.Count = countWords(told)
	if len(w.Cards) > 0 {
		good, err := drawCards(files, w.Cards)
		if err != nil {
			out.Wrong = err.Error()
		} else {
			good.made = time.Now().Format("15:04")
			good.files = files.files
			s.keep(v, good)
		}
	}
	out.Files = files.files
	switch {
	case v.good == nil:
		out.State, out.Cards = "none", []shownCard{}
	case len(w.Cards) == 0 || out.Wrong != "":
		out.State, out.Cards, out.Made, out.Before = "stale", v.good.cards, v.good.made, v.good.files
	default:
		out.Cards, out.Made = v.good.cards, v.good.made
	}
	if out.Files == nil { // the file is gone: what the cards were made from is all there is to show
		out.Files = out.Before
	}
	return out
}

// keep takes cards as the last good ones, and serves their pictures from now on.
func (s *server) keep(v *view, good *goodCards) {
	s.mu.Lock()
	defer s.mu.Unlock()
	v.good = good
	s.pictures = map[string]picture{}
	for _, v := range s.views {
		if v.good == nil {
			continue
		}
		for key, p := range v.good.pictures {
			s.pictures[key] = p
		}
	}
}

func drawCards(files *shelf, cards []Card) (*goodCards, error) {
	good := &goodCards{pictures: map[string]picture{}}
	keep := func(p picture) string {
		key := nameOf(p)
		good.pictures[key] = p
		return key
	}
	for _, c := range cards {
		one := shownCard{Variant: report.Plain(c.Variant), Width: c.Sheet.Width, Height: c.Sheet.Height, Pages: []drawnPage{}}
		for _, p := range c.Sheet.Pages {
			ops, err := draw(p.Ops, keep)
			if err != nil {
				return nil, err
			}
			one.Pages = append(one.Pages, drawnPage{ops, parts(files, p.Origins)})
		}
		good.cards = append(good.cards, one)
	}
	return good, nil
}

func parts(files *shelf, origins []sheet.Origin) []part {
	out := make([]part, 0, len(origins))
	for _, o := range origins {
		words := strings.Join(strings.Fields(o.At.Text()), " ")
		if r := []rune(words); len(r) > 100 {
			words = string(r[:99]) + "…"
		}
		out = append(out, part{mm(o.X), mm(o.Y), mm(o.W), mm(o.H), o.Step, report.Plain(words), files.place(o.At)})
	}
	return out
}

// finding says a finding in the words of check.
func finding(files *shelf, f diag.Finding) shownFinding {
	message := f.Message
	if len(f.Variants) > 0 {
		message += " (" + strings.Join(f.Variants, ", ") + ")"
	}
	out := shownFinding{
		Rule: f.Rule, Severity: f.Severity.String(), Step: f.Step, Message: report.Plain(message), Why: report.Plain(f.Why), Do: report.Plain(f.Do),
		At: files.place(f.At), Related: []related{},
	}
	for _, r := range f.Related {
		label, words := report.Related(f, r)
		out.Related = append(out.Related, related{report.Plain(label), report.Plain(words), files.place(r.At)})
	}
	return out
}

func countWords(findings []diag.Finding) string {
	return report.Tally(report.Results{Findings: findings})
}

// shownList is what the page of a folder puts up.
type shownList struct {
	List  []listed `json:"list"`
	Wrong string   `json:"wrong"`
}

type listed struct {
	Name  string `json:"name"` // as it is asked for
	Shown string `json:"shown"`
	Title string `json:"title"`
	Count string `json:"count"`
	Worst string `json:"worst"` // the gravest severity: error, warning, advice; empty for none
}

// list makes every procedure of the folder to tell what is to be mended in it.
func (s *server) list() (shownList, []string) {
	names, read, err := s.opt.Maker.Names()
	out := shownList{List: []listed{}}
	if err != nil {
		out.Wrong = err.Error()
	}
	for _, n := range names {
		w := s.opt.Maker.Make(n)
		read = append(read, w.Read...)
		l := listed{Name: n, Shown: report.Plain(n), Title: report.Plain(w.Title), Count: countWords(w.Findings)}
		var worst diag.Severity
		for _, f := range w.Findings {
			if f.Waived == "" {
				worst = max(worst, f.Severity)
			}
		}
		l.Worst = worst.String()
		if w.Wrong != "" {
			l.Count, l.Worst = report.Plain(w.Wrong), "error"
		}
		out.List = append(out.List, l)
	}
	return out, read
}
