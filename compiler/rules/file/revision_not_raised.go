package file

import (
	"fmt"
	"strconv"

	"refitcard/compiler/compare"
	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var revisionNotRaised = rules.Rule{
	Name:     "file/revision-not-raised",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		if j.Against == nil || !j.Proc.Revision.Set() || raised(j.Against.Revision.Value, j.Proc.Revision.Value) {
			return nil
		}
		if procedure.Fold(j.Against.Number.Value) != procedure.Fold(j.Proc.Number.Value) {
			return nil // another procedure: nothing was revised
		}
		changes := compare.Procedures(j.Against, j.Proc)
		if len(changes) == 0 {
			return nil
		}
		return []diag.Finding{unraised(j, changes)}
	},
}

// mostChanges is how many changes are pointed to; the review sheet lists them all.
const mostChanges = 5

func unraised(j *rules.Job, changes []compare.Change) diag.Finding {
	was, is := j.Against.Revision.Value, j.Proc.Revision.Value
	f := diag.Finding{At: j.Proc.Revision.At}
	what := "1 change of meaning since the earlier version (" + changes[0].Sentence + ")"
	if len(changes) > 1 {
		what = fmt.Sprintf("%d changes of meaning since the earlier version", len(changes))
	}
	f.Message = what + ", and the revision is still " + rules.Quote(is)
	f.Do = "raise the revision"
	if was != is {
		f.Message = what + ", and the revision went from " + rules.Quote(was) + " back to " + rules.Quote(is)
		f.Do = "write a revision that comes after " + rules.Quote(was)
	}
	for _, c := range changes[:min(len(changes), mostChanges)] {
		if c.At.Known() && c.At.File == j.Proc.File {
			f.Related = append(f.Related, source.Related{At: c.At, Words: "changed"})
		}
	}
	return f
}

// raised tells whether a revision stands behind another: a higher number, or letters further on. What can't be put in order,
// and differs, counts as raised.
func raised(was, is string) bool {
	was, is = procedure.Fold(was), procedure.Fold(is)
	a, errA := strconv.Atoi(was)
	b, errB := strconv.Atoi(is)
	switch {
	case was == is:
		return false
	case errA == nil && errB == nil:
		return b > a
	case lettered(was) && lettered(is):
		return len(is) > len(was) || len(is) == len(was) && is > was
	}
	return true
}

// lettered tells whether a revision is one or two letters.
func lettered(s string) bool {
	for _, r := range s {
		if r < 'a' || r > 'z' {
			return false
		}
	}
	return len(s) > 0 && len(s) < 3
}
