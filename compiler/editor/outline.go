package editor

import (
	"path"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

// joined gives the path from the library's root that a file means by a path.
func joined(from, to string) string {
	return path.Join(path.Dir(from), strings.ReplaceAll(to, "\\", "/"))
}

// Entry is one line of an outline.
type Entry struct {
	Name   string
	Detail string
	Kind   EntryKind
	At     source.Span // all of it
	Head   source.Span // the words that name it, within At
	Below  []Entry
}

// EntryKind tells what a line of an outline is about.
type EntryKind int

// The kinds of lines.
const (
	SectionEntry EntryKind = iota // declarations
	StageEntry
	StepEntry
	ThingEntry // a part, a tool, a supply
)

// longestName is how many characters of a step its line in the outline shows.
const longestName = 60

// Outline lists the sections and stages of the file that is looked at, with their parts, tools, supplies and steps.
func (v *View) Outline() []Entry {
	var all []Entry
	for _, s := range v.tree().Sections {
		e := Entry{Name: s.Title, At: s.At, Head: s.TitleAt, Kind: SectionEntry}
		if e.Name == "" {
			e.Name = "(no title)"
		}
		if e.Below = v.declaredIn(s.At); len(e.Below) == 0 {
			e.Below = v.stepsIn(s)
		}
		if len(e.Below) > 0 && e.Below[0].Kind == StepEntry {
			e.Kind = StageEntry
		}
		all = append(all, within(e))
	}
	return all
}

// within makes sure that the words that name an entry stand inside of it.
func within(e Entry) Entry {
	if !e.At.Holds(e.Head) {
		e.Head = e.At.File.At(e.At.Start, e.At.Start)
	}
	return e
}

func (v *View) declaredIn(at source.Span) []Entry {
	var all []Entry
	add := func(name, detail string, of, head source.Span) {
		if at.Holds(of) && name != "" {
			all = append(all, within(Entry{Name: name, Detail: detail, At: of, Head: head, Kind: ThingEntry}))
		}
	}
	p := v.Result.Proc
	for _, x := range p.Parts {
		add(x.Name.Value, strings.TrimSpace(x.QtyAt.Text()+" "+x.Spec.Value), x.At, x.Name.At)
	}
	for _, x := range p.Tools {
		if len(x.Choices) > 0 {
			add(x.Whole, "", x.At, x.Choices[0].NameAt)
		}
	}
	for _, x := range p.Supplies {
		add(x.Name.Value, x.QtyAt.Text(), x.At, x.Name.At)
	}
	return all
}

// stepsIn lists the steps that the lists of a section hold, by the numbers that they print with.
func (v *View) stepsIn(s *syntax.Section) []Entry {
	var list func(steps []*procedure.Step) []Entry
	list = func(steps []*procedure.Step) []Entry {
		var all []Entry
		for _, x := range steps {
			if x.At.File == v.File && s.At.Start <= x.At.Start && x.At.Start < s.At.End {
				all = append(all, within(Entry{Name: x.Name() + " " + stepWords(x), At: x.At, Head: x.At, Kind: StepEntry, Below: list(x.Steps)}))
			}
		}
		return all
	}
	var all []Entry
	for _, stage := range v.Result.Proc.Stages {
		if stage.Title.At == s.TitleAt {
			all = append(all, list(stage.Steps)...)
			break
		}
	}
	return all
}

// stepWords gives the first words of a step as they print.
func stepWords(s *procedure.Step) string {
	var b strings.Builder
	for _, r := range s.Runs {
		b.WriteString(r.Read())
	}
	words := []rune(strings.Join(strings.Fields(b.String()), " "))
	if len(words) > longestName {
		return string(words[:longestName-1]) + "…"
	}
	return string(words)
}

// Folds gives the pieces of the file that is looked at which can be folded away to their first line: front matter, sections,
// tables, drawings, steps. Each goes over more than one line.
func (v *View) Folds() []source.Span {
	var all []source.Span
	t := v.tree()
	add := func(at source.Span) {
		if !at.Known() {
			return
		}
		for at.End > at.Start && (at.File.Text[at.End-1] == '\n' || at.File.Text[at.End-1] == '\r' || at.File.Text[at.End-1] == ' ') {
			at.End--
		}
		if at.File.Line(at.Start) < at.File.Line(at.End) {
			all = append(all, at)
		}
	}
	add(t.FrontAt)
	for _, s := range t.Sections {
		add(s.At)
	}
	t.EachBlock(func(_ *syntax.Section, b syntax.Block) {
		switch b := b.(type) {
		case *syntax.Table, *syntax.Layout, *syntax.Stack, *syntax.Quote:
			add(b.Span())
		case *syntax.List:
			for _, item := range b.Items {
				add(item.At)
			}
		}
	})
	return all
}
