package part

import (
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// touched are the parts that something is done to, or that are checked, measured, laid out, stacked or spoken of.
var touched = rules.NewFact(func(j *rules.Job) rules.Parts {
	used := j.NoParts()
	use := func(p *procedure.Part) {
		if p == nil || used.Has(p) && len(p.Twins) == 0 {
			return
		}
		used.Add(p)
		for _, t := range p.Twins {
			used.Add(t)
		}
	}
	for _, a := range j.Acts() {
		for i := range a.Objects {
			use(a.Objects[i].Part)
		}
		for i := range a.Mentions {
			use(a.Mentions[i].Part)
		}
	}
	for _, l := range j.Proc.Layouts {
		for _, p := range l.Parts {
			use(p)
		}
	}
	for _, s := range j.Proc.Stacks {
		for _, l := range s.Layers {
			use(l.Part)
		}
	}
	return used
})

// muted tells whether another fault is about the part: its row, or a tag that may have meant it.
func muted(j *rules.Job, p *procedure.Part) bool { return j.Muted(p.Name.Value) }

// within gives the place of a piece of text; where escapes make it unlike the source, the whole.
func within(at source.Span, text string, i, n int) source.Span {
	if !(procedure.Run{Text: text, At: at}).Exact() {
		return at
	}
	return at.File.At(at.Start+i, at.Start+i+n)
}
