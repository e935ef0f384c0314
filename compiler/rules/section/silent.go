package section

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

var silent = rules.Rule{
	Name:     "section/silent",
	Severity: diag.Advice,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("section/silent", func(f source.Fault, x *diag.Finding) {
			if kind, text := f.Words[0], f.At.Text(); len(f.Words) == 1 && !strings.EqualFold(kind, text) && verb.Near(text, []string{kind}) != "" {
				x.Message = rules.Quote(text) + " is read as the section " + rules.Quote(kind)
				x.Do = "write " + rules.Quote(kind) + " for this heading"
				x.Fixes = rules.SpellAs(f.At, text, kind, []string{kind})
				return
			}
			for _, kind := range f.Words { // what it should have listed is missed in the steps
				for _, m := range rules.Undeclared(j, kind) {
					x.Severity = diag.Error
					x.Related = append(slices.Clone(x.Related), source.Related{At: m.At, Words: "named", Step: m.Step})
				}
			}
			x.Message = "there is no section " + rules.List(rules.Quoted(f.Words), "or")
			x.Do = fmt.Sprintf("add the heading \"## %s\", with a line \"- none\" under it if the job needs none", f.Words[0])
		})
	},
}
