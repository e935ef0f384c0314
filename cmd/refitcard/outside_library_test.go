package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"refitcard/compiler/rules"
	"refitcard/render/document"
)

// testPapers are the papers that the sheets of the library are read back from.
var testPapers = []string{"a4", "a5", "a5-landscape", "letter"}

// A printedSheet is one sheet of the library as a file, with what it was made from.
type printedSheet struct {
	name    string // "a5 SD-114-C-card"
	file    string
	job     compiled
	variant string
	punch   string // where holes will be: left, top or nowhere
	sides   int    // that it is printed on
}

// free gives how far ink has to stay off the edges of a page, from 0, in mm.
func (p printedSheet) free(page int) (left, right, top, bottom float64) {
	left, right, top, bottom = sealed, sealed, sealed, sealed
	switch {
	case p.punch == "top":
		top = holed
	case p.punch == "left" && p.sides == 2 && page%2 == 1:
		right = holed // the back of the sheet
	case p.punch == "left":
		left = holed
	}
	return left, right, top, bottom
}

// card is what has to stand on the sheet, if it is a job card.
func (p printedSheet) card() *document.JobCard {
	return document.Card(p.job.Proc, p.job.Plays, p.job.Settings, document.Options{Variant: p.variant})
}

// pick is what has to stand on the sheet, if it is a pick list.
func (p printedSheet) pick() *document.PickList {
	return document.Pick([]document.PickInput{pickInput(p.job, p.variant)})
}

// record is what has to stand on the sheet, if it is a record sheet.
func (p printedSheet) record() *document.Record {
	return document.MakeRecord(pickInput(p.job, p.variant))
}

// labels is what has to stand on the sheet, if it is a sheet of labels.
func (p printedSheet) labels() *document.Labels {
	return document.MakeLabels(pickInput(p.job, p.variant), document.Options{Variant: p.variant})
}

// review is what has to stand on the sheet, if it is a review sheet.
func (p printedSheet) review() *document.Review {
	return document.MakeReview(document.ReviewInput{Proc: p.job.Proc, Settings: p.job.Settings, Findings: p.job.Findings, Variant: p.variant})
}

// printedPaper holds all sheets of the library on one paper, or a sample of them on many.
type printedPaper struct {
	cards, picks, records, labels, reviews []printedSheet
	black                                  []printedSheet // cards without colour, that are among the cards as well
}

func (p *printedPaper) all() []printedSheet {
	return slices.Concat(p.cards, p.picks, p.records, p.labels, p.reviews)
}

// of gives the list of a kind of sheet.
func (p *printedPaper) of(kind string) *[]printedSheet {
	return map[string]*[]printedSheet{"card": &p.cards, "pick": &p.picks, "record": &p.records, "labels": &p.labels, "review": &p.reviews}[kind]
}

// printing makes the sheets of the library on one paper, once for all tests.
var printing = struct {
	sync.Mutex
	folder string // of all papers; taken away after the last test
	papers map[string]*printedPaper
	sample *printedPaper
}{papers: map[string]*printedPaper{}}

// thenTidied runs the tests and takes the printed sheets away.
type thenTidied struct{ tests interface{ Run() int } }

func (m thenTidied) Run() int {
	defer func() {
		if printing.folder != "" {
			os.RemoveAll(printing.folder)
		}
	}()
	return m.tests.Run()
}

// pressed gives the sheets of the library on one paper.
func pressed(t testing.TB, paper string) *printedPaper {
	t.Helper()
	printing.Lock()
	defer printing.Unlock()
	if p := printing.papers[paper]; p != nil {
		return p
	}
	if printing.folder == "" {
		var err error
		if printing.folder, err = os.MkdirTemp("", "refitcard-sheets-"); err != nil {
			t.Fatal(err)
		}
	}
	dir := filepath.Join(printing.folder, paper)
	run(t, done, "press", samples, "--paper", paper, "-o", dir, "--quiet")
	p := &printedPaper{}
	for _, job := range compiledLibrary(t) {
		for _, v := range variantsOf(job) {
			for _, kind := range []string{"card", "pick"} {
				p.add(paper, dir, kind, job, v)
			}
			if paper == "a4" || paper == "letter" { // on smaller papers these are on A4 as well
				p.add(paper, dir, "record", job, v)
				if len(document.MakeLabels(pickInput(job, v), document.Options{Variant: v}).Labels) > 0 {
					p.add(paper, dir, "labels", job, v)
				}
			}
		}
		if paper == "a4" || paper == "letter" {
			p.add(paper, dir, "review", job, "")
		}
	}
	if len(p.cards) < 20 || len(p.picks) != len(p.cards) {
		t.Fatalf("%d cards and %d pick lists on %s", len(p.cards), len(p.picks), paper)
	}
	printing.papers[paper] = p
	return p
}

func (p *printedPaper) add(paper, dir, kind string, job compiled, variant string) {
	base := baseName(job, variant, kind)
	list := p.of(kind)
	*list = append(*list, printedSheet{name: paper + " " + base, file: filepath.Join(dir, base+".pdf"), job: job, variant: variant, sides: 2})
}

func variantsOf(job compiled) []string {
	var variants []string
	for _, v := range job.Proc.Variants {
		variants = append(variants, v.Value)
	}
	if variants == nil {
		return []string{""}
	}
	return variants
}

// A plan is a way to print a sheet.
type plan struct {
	paper, punch string
	sides        int
	kinds        string // of sheets that this paper takes
}

// plans are the ways to print that are tried on a sample of the library, beside testPapers, which take all of it.
var plans = []plan{
	{"a4", "left", 2, "card record"},
	{"a4", "left", 1, "card"},
	{"a4", "top", 2, "card record"},
	{"a4-landscape", "", 2, "card pick record review"},
	{"a5", "left", 2, "card"},
	{"a5-landscape", "top", 2, "card record"},
	{"a5-landscape", "", 2, "record review"},
	{"a6", "", 2, "card pick"},
	{"a6-landscape", "", 2, "card pick"},
	{"letter", "left", 2, "card record"},
	{"letter-landscape", "", 1, "card pick record review"},
	{"half-letter", "", 2, "card pick"},
	{"half-letter", "left", 1, "card"},
	{"half-letter-landscape", "", 2, "card pick record review"},
}

// sampled prints a sample of the library in each of the plans, once for all tests: each time other procedures, so that each has its
// turn. With REFITCARD_LONG set it prints all of them.
func sampled(t testing.TB) *printedPaper {
	t.Helper()
	pressed(t, "a4") // makes the folder
	printing.Lock()
	defer printing.Unlock()
	if printing.sample != nil {
		return printing.sample
	}
	jobs := compiledLibrary(t)
	each := 2
	if os.Getenv("REFITCARD_LONG") != "" {
		each = len(jobs)
	}
	p := &printedPaper{}
	for n, plan := range plans {
		for kind := range strings.FieldsSeq(plan.kinds) {
			made := 0
			for k := 0; k < len(jobs) && made < each; k++ {
				if p.print(t, plan, kind, jobs[(n*each+k)%len(jobs)]) {
					made++
				}
			}
			if made == 0 {
				t.Errorf("no sheet of the kind %s fits on %s %s", kind, plan.paper, plan.punch)
			}
		}
	}
	dir := filepath.Join(printing.folder, "black")
	for _, job := range jobs[:3] {
		run(t, done, "card", job.shown, "--ink", "black", "--paper", "a4", "-o", dir+"/", "--quiet")
		for _, v := range variantsOf(job) {
			p.add("black", dir, "card", job, v)
			p.black = append(p.black, p.cards[len(p.cards)-1])
		}
	}
	printing.sample = p
	return p
}

// print prints one kind of sheet of a procedure. One that is refused since a block is taller than the page is not made.
func (p *printedPaper) print(t testing.TB, plan plan, kind string, job compiled) bool {
	t.Helper()
	name := strings.TrimSpace(plan.paper + " " + plan.punch)
	dir := filepath.Join(printing.folder, fmt.Sprintf("%s %d", name, plan.sides))
	args := []string{kind, job.shown, "--paper", plan.paper, "-o", dir + "/", "--quiet"}
	if plan.punch != "" {
		args = append(args, "--punch", plan.punch)
	}
	if kind == "card" {
		args = append(args, "--sides", fmt.Sprint(plan.sides))
	}
	var out, problems bytes.Buffer
	c := Command{In: strings.NewReader(""), Out: &out, Err: &problems, Env: func(string) (string, bool) { return "", false }, Width: func(any) int { return 0 }}
	switch code := c.Run(context.Background(), args); {
	case code == unusable && strings.Contains(problems.String(), " not fit"):
		return false
	case code != done:
		t.Fatalf("refitcard %q: exit %d\n%s%s", args, code, out.String(), problems.String())
	}
	variants := variantsOf(job)
	if kind == "review" {
		variants = []string{""}
	}
	for _, v := range variants {
		p.add(name, dir, kind, job, v)
		list := *p.of(kind)
		one := &list[len(list)-1]
		if one.punch = plan.punch; kind == "card" {
			one.sides = plan.sides
		}
	}
	return true
}

// compiledLibrary compiles each procedure of the library.
func compiledLibrary(t testing.TB) []compiled {
	t.Helper()
	var out, problems bytes.Buffer
	s := &session{
		Command: Command{In: strings.NewReader(""), Out: &out, Err: &problems, Env: func(string) (string, bool) { return "", false }, Width: func(any) int { return 0 }},
		ctx:     context.Background(), opt: &options{jobs: 2}, args: []string{samples},
	}
	jobs, err := s.jobs()
	if err != nil {
		t.Fatal(err)
	}
	var all []compiled
	err = s.compileAll(jobs, rules.Options{}, func(c compiled) error {
		all = append(all, c)
		return c.err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}
