package part

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var badRow = rules.Rule{
	Name:     "part/bad-row",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("part/bad-row", func(f source.Fault, x *diag.Finding) {
			x.Message = misfit(f.Words[0], f.Words[1])
			x.Do = "write " + rules.WordAt(f, 2)
		})
	},
}

// misfit says what is wrong with the words in a column, in a section that holds something else, or beyond the last column.
func misfit(where, words string) string {
	switch {
	case words == "":
		return "the column " + rules.Quote(where) + " is empty or missing"
	case where == "row":
		return rules.Quote(words) + " stands beyond the last column"
	case where == "Parts":
		return rules.Quote(words) + ` can't stand in the section "Parts" outside its table`
	case where == "tools" || where == "supplies":
		return words + " can't stand in the list of " + where
	}
	return rules.Quote(words) + " can't stand in the column " + rules.Quote(where)
}
