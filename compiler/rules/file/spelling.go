package file

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// spellKey offers the right key; where that stands already, a second one helps nobody, and a person has to look.
func spellKey(j *rules.Job, f source.Fault, near string) []diag.Fix {
	for _, t := range j.Trees {
		if _, taken := t.Front.Get(near); taken && t.File == f.At.File {
			return nil
		}
	}
	return rules.SpellAs(f.At, f.Words[0], near, []string{near})
}
