// Package resolve finds which name is which thing: trees as they were written become the typed model. It never fails: it
// returns a model and the faults it met, one a slip.
package resolve

import (
	"slices"
	"strings"
	"sync"

	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// Input is what belongs together: a procedure, and the files that it includes, already loaded.
type Input struct {
	Main     *syntax.Tree
	Includes []Included
	Settings *library.Settings
	Memory   *Memory // of the library, nil for none
}

// Included is a file taken in at an include tag; At is the place of the path in that tag.
type Included struct {
	Tree *syntax.Tree
	At   source.Span
}

// Ask is a file that a tree asks for.
type Ask struct {
	Path string
	At   source.Span
}

// Includes lists the files that a tree asks for, in order.
func Includes(t *syntax.Tree) []Ask {
	var all []Ask
	ask := func(blocks []syntax.Block) {
		for _, b := range blocks {
			if tag := includeTag(b); tag != nil && tag.Body.Text != "" {
				all = append(all, Ask{tag.Body.Text, tag.Body.At(0, len(tag.Body.Text))})
			}
		}
	}
	ask(t.Intro)
	for _, s := range t.Sections {
		ask(s.Blocks)
	}
	return all
}

// includeTag gives the tag of a paragraph that holds an include and nothing else.
func includeTag(b syntax.Block) *syntax.Tag {
	p, ok := b.(*syntax.Paragraph)
	if !ok {
		return nil
	}
	var found *syntax.Tag
	for _, i := range p.Text {
		switch i := i.(type) {
		case *syntax.Tag:
			if found != nil || i.Verb == nil || i.Verb.Effect != verb.Include {
				return nil
			}
			found = i
		case *syntax.Text:
			if strings.TrimSpace(i.Text) != "" {
				return nil
			}
		default:
			return nil
		}
	}
	return found
}

// resolver is one run.
type resolver struct {
	drawn   []func() // layouts and stacks among the declarations: they name parts, so they wait until all are known
	in      Input
	p       *procedure.Procedure
	faults  []source.Fault
	verbs   *verb.Table
	names   *dictionary
	tools   []listedTool
	strange int      // names that are not in the tables
	named   []func() // what waits for the names

	// What the model is made of, and room that is used again.
	acts     slab[procedure.Act]
	valued   slab[procedure.Values]
	actLists slab[*procedure.Act]
	toolSlab slab[procedure.Tool]
	choices  slab[procedure.Choice]
	objects  slab[procedure.Object]
	related  slab[procedure.Relation]
	runs     slab[procedure.Run]
	notes    slab[procedure.Note]
	words    []token // of the tag at hand

	included bool // declarations and steps at hand come from an included file
	number   int  // of the last step
	stage    *procedure.Stage
	step     *procedure.Step
	numbers  []pendingNumber
	uses     map[string]bool            // labels that a number tag asks for
	spoilt   map[*procedure.Part]bool   // rows whose count could not be read
	rowsOf   map[string]*procedure.Part // by folded name the first row of it
	places   []string                   // of each part: its Place cell as it stands in the file
}

// pendingNumber is a {number …} whose label may come later.
type pendingNumber struct {
	label procedure.Text
	ref   *procedure.Step // what the run points to, filled in at the end
}

// Resolve makes the model of a procedure.
func Resolve(in Input) (*procedure.Procedure, []source.Fault) {
	r := resolved(in)
	return r.p, r.faults
}

func resolved(in Input) *resolver {
	r := &resolver{
		in: in, verbs: in.Settings.Verbs, p: &procedure.Procedure{File: in.Main.File, Sources: []*source.File{in.Main.File}},
	}
	for _, i := range in.Includes {
		if !slices.Contains(r.p.Sources, i.Tree.File) {
			r.p.Sources = append(r.p.Sources, i.Tree.File)
		}
	}
	if unreadable(in.Main) {
		return r
	}
	words := wordRooms.Get().(*[]token)
	r.words = *words
	r.expect()
	r.front(in.Main)
	r.declarations()
	r.names = newDictionary(r.p, in.Memory)
	for _, f := range r.named {
		f()
	}
	r.relations()
	for _, draw := range r.drawn {
		draw()
	}
	r.intro(in.Main)
	r.stages(in.Main)
	r.finish()
	*words, r.words = r.words[:0], nil
	wordRooms.Put(words)
	return r
}

// wordRooms is room for the words of a tag, for one procedure after the other.
var wordRooms = sync.Pool{New: func() any {
	room := make([]token, 0, 64)
	return &room
}}

// unreadable tells whether a file could not be read at all: then that is the one finding.
func unreadable(t *syntax.Tree) bool {
	for _, f := range t.Faults {
		if f.Name == "file/not-text" || f.Name == "file/too-large" {
			return true
		}
	}
	return false
}

func (r *resolver) fault(name string, at source.Span, words ...string) *source.Fault {
	f := source.Fault{Name: name, At: at, Words: words}
	if r.step != nil {
		f.Step = r.step.Number
	}
	r.faults = append(r.faults, f)
	return &r.faults[len(r.faults)-1]
}

func related(at source.Span, words string) []source.Related {
	return []source.Related{{At: at, Words: words}}
}
