package part

import (
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// touched collects the parts that something is done to, or that are checked, measured, laid out, stacked or spoken of.
func touched(j *rules.Job) map[*procedure.Part]bool {
	used := map[*procedure.Part]bool{}
	use := func(p *procedure.Part) {
		if p == nil {
			return
		}
		used[p] = true
		for _, t := range p.Twins {
			used[t] = true
		}
	}
	j.EachAct(func(a *procedure.Act) {
		for _, o := range a.Objects {
			use(o.Part)
		}
		for _, o := range a.Mentions {
			use(o.Part)
		}
	})
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
}

// muted tells whether another fault is about the part: its row, or a tag that may have meant it.
func muted(j *rules.Job, p *procedure.Part) bool { return j.Muted(p.Name.Value) }

// eachText visits the running text of all steps, piece by piece.
func eachText(j *rules.Job, visit func(at source.Span, text string, step int)) {
	j.EachStep(func(s *procedure.Step) {
		for _, r := range s.Runs {
			if r.Text != "" {
				visit(r.At, r.Text, s.Number)
			}
		}
	})
}

// within gives the place of a piece of text; where escapes make it unlike the source, the whole.
func within(at source.Span, text string, i, n int) source.Span {
	if !(procedure.Run{Text: text, At: at}).Exact() {
		return at
	}
	return at.File.At(at.Start+i, at.Start+i+n)
}
