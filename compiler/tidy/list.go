package tidy

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/syntax"
)

var listMark = regexp.MustCompile(`^(\d{1,9}[.)]|[-*+])( *)`)

// indents moves the lines below a mark with the words behind it.
type indents struct {
	*tidier
	marks []diag.Edit
	shift map[int]int // line → columns to the right
	odd   bool        // a tab before a line: nobody can tell how far it is in
}

// lists counts the steps of each stage from 1, through all its lists, and writes "-" before what is not counted.
func (t *tidier) lists() {
	each := func(list []syntax.Block) {
		in := &indents{tidier: t, shift: map[int]int{}}
		next := 1
		for _, b := range list {
			if l, ok := b.(*syntax.List); ok {
				next = in.list(l, next)
			}
		}
		in.finish()
	}
	each(t.tree.Intro)
	for _, s := range t.tree.Sections {
		each(s.Blocks)
	}
}

// list sets the marks of a list and of those inside it, and gives the number of the step behind it.
func (in *indents) list(l *syntax.List, next int) int {
	for _, item := range l.Items {
		mark := "-"
		if l.Ordered {
			mark = strconv.Itoa(next) + "."
			next++
		}
		in.item(item, mark)
		inner := 1
		for _, b := range item.Blocks {
			if nested, ok := b.(*syntax.List); ok {
				inner = in.list(nested, inner)
			}
		}
	}
	return next
}

// item sets one mark with one space behind it.
func (in *indents) item(item *syntax.Item, mark string) {
	f := in.file
	first := f.LineSpan(f.Line(item.At.Start))
	m := listMark.FindStringSubmatch(string(f.Text[item.At.Start:first.End]))
	if m == nil || strings.Contains(string(f.Text[first.Start:item.At.Start]), "\t") {
		in.odd = true
		return
	}
	rest := string(f.Text[item.At.Start+len(m[0]) : first.End])
	gap := " "
	if strings.TrimSpace(rest) == "" || len(m[2]) > 4 || strings.HasPrefix(rest, "\t") {
		gap = m[2] // an empty entry, or one that begins with an indented block
	}
	in.marks = append(in.marks, in.put(item.At.Start, item.At.Start+len(m[0]), mark+gap))
	by := len(mark) + len(gap) - len(m[0])
	inside := item.At.Start - first.Start + len(m[0]) // the column where the words stand
	for n := f.Line(first.Start) + 1; by != 0 && n <= f.Line(item.At.End); n++ {
		line := f.LineSpan(n).Text()
		lead := len(line) - len(strings.TrimLeft(line, " "))
		in.odd = in.odd || strings.HasPrefix(line[lead:], "\t")
		if lead < len(line) && lead >= inside {
			in.shift[n] += by
		}
	}
}

// finish takes in the edits of one section: they go together.
func (in *indents) finish() {
	if in.odd {
		return
	}
	list := in.marks
	var moved []int
	for n := range in.shift {
		moved = append(moved, n)
	}
	slices.Sort(moved)
	for _, n := range moved {
		start := in.file.LineSpan(n).Start
		switch by := in.shift[n]; {
		case by > 0:
			list = append(list, in.put(start, start, strings.Repeat(" ", by)))
		case by < 0:
			list = append(list, in.put(start, start-by, ""))
		}
	}
	in.add(list...)
}
