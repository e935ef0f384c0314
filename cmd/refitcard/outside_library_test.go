package main

import (
	"bytes"
	"context"
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
}

// card is what has to stand on the sheet, if it is a job card.
func (p printedSheet) card() *document.JobCard {
	return document.Card(p.job.Proc, p.job.Plays, p.job.Settings, document.Options{Variant: p.variant})
}

// pick is what has to stand on the sheet, if it is a pick list.
func (p printedSheet) pick() *document.PickList {
	return document.Pick([]document.PickInput{pickInput(p.job, p.variant)})
}

// printedPaper holds all sheets of the library on one paper.
type printedPaper struct{ cards, picks []printedSheet }

func (p *printedPaper) all() []printedSheet { return slices.Concat(p.cards, p.picks) }

// printing makes the sheets of the library on one paper, once for all tests.
var printing = struct {
	sync.Mutex
	folder string // of all papers; taken away after the last test
	papers map[string]*printedPaper
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
		variants := []string{""}
		if len(job.Proc.Variants) > 0 {
			variants = nil
			for _, v := range job.Proc.Variants {
				variants = append(variants, v.Value)
			}
		}
		for _, v := range variants {
			for kind, list := range map[string]*[]printedSheet{"card": &p.cards, "pick": &p.picks} {
				base := baseName(job, v, kind)
				*list = append(*list, printedSheet{paper + " " + base, filepath.Join(dir, base+".pdf"), job, v})
			}
		}
	}
	if len(p.cards) < 20 || len(p.picks) != len(p.cards) {
		t.Fatalf("%d cards and %d pick lists on %s", len(p.cards), len(p.picks), paper)
	}
	printing.papers[paper] = p
	return p
}

// compiledLibrary compiles each procedure of the library.
func compiledLibrary(t testing.TB) []compiled {
	t.Helper()
	var out, problems bytes.Buffer
	s := &session{
		Command{In: strings.NewReader(""), Out: &out, Err: &problems, Env: func(string) (string, bool) { return "", false }, Width: func(any) int { return 0 }},
		context.Background(), &options{jobs: 2},
		[]string{samples},
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
