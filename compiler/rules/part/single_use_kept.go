package part

import (
	"strings"
	"sync"
	"unicode/utf8"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/reference"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

var singleUseKept = rules.Rule{
	Name:     "part/single-use-kept",
	Severity: diag.Warning,
	Waivable: true,
	Pinned:   true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		kept := keptOn(j)
		for _, p := range j.Proc.Parts {
			if p.Use != procedure.Reuse || !kept.Has(p) {
				continue
			}
			kind, ok := singleUse(p)
			if !ok || muted(j, p) {
				continue
			}
			f := diag.Finding{
				At: keptAt(p), Thing: p.Name.Value,
				Message: rules.Quote(p.Name.Value) + " goes back on, and " + rules.A(kind.Name) + " does its work only once",
				Do:      `write "replace" under Use, and install a new one; or waive it with the reason`,
			}
			if kind.Use == "inspect" {
				f.Severity = diag.Advice
				f.Message = rules.Quote(p.Name.Value) + " goes back on, and " + rules.A(kind.Name) + " may have lost its grip"
				f.Do = `write "if worn" under Use, and say how to tell; or write "replace"`
			}
			all = append(all, f)
		}
		return all
	},
}

// keptAt is the Use cell, or the name where the cell is empty.
func keptAt(p *procedure.Part) source.Span {
	if p.UseAt.Known() && p.UseAt.End > p.UseAt.Start {
		return p.UseAt
	}
	return p.Name.At
}

// keptOn collects the parts that come off and go back on, or are slackened in their place. What never moves may stay, and what
// never comes back is another finding.
func keptOn(j *rules.Job) rules.Parts {
	off, kept := j.NoParts(), j.NoParts()
	note := func(p *procedure.Part, e verb.Effect) {
		switch {
		case e == verb.Remove:
			off.Add(p)
		case e == verb.Loosen, off.Has(p):
			kept.Add(p)
		}
	}
	for _, a := range j.Acts() {
		switch a.Verb.Effect {
		case verb.Remove, verb.Loosen, verb.Install, verb.Snug:
		default:
			continue
		}
		for i := range a.Objects {
			p := a.Objects[i].Part
			if p == nil {
				continue
			}
			note(p, a.Verb.Effect)
			for _, t := range p.Twins {
				note(t, a.Verb.Effect)
			}
		}
	}
	return kept
}

// singleUse finds what kind of part it is: by its name, by a piece of its Spec, or as a nut with a nylon insert. The longest
// kind wins, so that a row from memory can let one pass that a shorter word would catch.
func singleUse(p *procedure.Part) (kind reference.SingleUse, ok bool) {
	row := 0
	said := func(name string) {
		for _, x := range singleUses()[name[strings.LastIndexByte(name, ' ')+1:]] {
			if longer := len(x.folded) - len(kind.Name); (longer > 0 || longer == 0 && x.row < row) && endsIn(name, x.folded) {
				kind, row, ok = x.SingleUse, x.row, true
			}
		}
	}
	said(headOf(p.Name.Value))
	for piece := range strings.SplitSeq(p.Spec.Value, ",") {
		if mayEndAsOne(piece) {
			said(procedure.Fold(piece))
		}
	}
	if p.Hardware.Nut == "nylon insert" {
		said("nylon insert nut")
	}
	return kind, ok && kind.Use != "reuse" && kind.Confirmed
}

// mayEndAsOne tells whether the last word of a piece may be that of a row: most pieces are sizes and strengths.
func mayEndAsOne(piece string) bool {
	piece = strings.TrimRight(piece, " ")
	last := piece[strings.LastIndexAny(piece, " -")+1:]
	for i := range len(last) {
		if last[i] >= utf8.RuneSelf {
			return true
		}
	}
	return len(singleUses()[strings.ToLower(last)]) > 0
}

// endsIn tells whether a name is some words, or ends with them.
func endsIn(name, words string) bool {
	rest, ok := strings.CutSuffix(name, words)
	return ok && (rest == "" || rest[len(rest)-1] == ' ')
}

// foldedUse is a row of the table with its name made fit to compare.
type foldedUse struct {
	reference.SingleUse
	folded string
	row    int
}

// singleUses are the rows of the table by the last word of their names.
var singleUses = sync.OnceValue(func() map[string][]foldedUse {
	all := map[string][]foldedUse{}
	for i, x := range reference.SingleUses() {
		folded := procedure.Fold(x.Name)
		last := folded[strings.LastIndexByte(folded, ' ')+1:]
		all[last] = append(all[last], foldedUse{x, folded, i})
	}
	return all
})

// headOf is the thing itself: "gasket of the cover" is a gasket.
func headOf(name string) string {
	head, _, _ := strings.Cut(procedure.Fold(name), " of ")
	return head
}
