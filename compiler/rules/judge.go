package rules

import (
	"fmt"
	"slices"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

// Options choose among the rules of one run.
type Options struct {
	Only []string // these alone
	Skip []string // all but these

	Against *procedure.Procedure // the earlier version to hold the procedure against; nil for none
}

// Selectable tells what is wrong with a choice: names that are no rules, and rules that can't be silenced.
func Selectable(families []Family, opt Options) error {
	known := map[string]Rule{}
	for _, f := range families {
		for _, r := range f.Rules {
			known[r.Name] = r
		}
	}
	for _, name := range slices.Concat(opt.Only, opt.Skip) {
		r, ok := known[name]
		if !ok {
			return fmt.Errorf("%q is not a check", name)
		}
		if slices.Contains(opt.Skip, name) && (r.Severity == diag.Error || r.Pinned) {
			return fmt.Errorf("%q can't be skipped: it is an error, or marked with an exclamation mark", name)
		}
	}
	return nil
}

// Judge runs all rules over a job, then waivers, then the library's severities, then the choice. Findings come out sorted.
func Judge(job *Job, families []Family, opt Options) []diag.Finding {
	var found []diag.Finding
	known := map[string]Rule{}
	for _, f := range families {
		for _, r := range f.Rules {
			known[r.Name] = r
			for _, x := range r.Check(job) {
				x.Rule = r.Name
				if x.Severity == 0 {
					x.Severity = r.Severity
				}
				found = append(found, x)
			}
		}
	}
	found = diag.Sort(found)
	found = append(found, waive(job, found, known)...)
	for i := range found {
		lower(&found[i], known[found[i].Rule], job)
	}
	return diag.Sort(slices.DeleteFunc(found, func(f diag.Finding) bool {
		return len(opt.Only) > 0 && !slices.Contains(opt.Only, f.Rule) || slices.Contains(opt.Skip, f.Rule)
	}))
}

// lower sets the severity that the settings give; errors and pinned rules keep theirs.
func lower(f *diag.Finding, r Rule, job *Job) {
	if job.Settings == nil {
		return
	}
	s, ok := diag.Named(job.Settings.Severities[f.Rule])
	if !ok || r.Severity == diag.Error && s < diag.Error || r.Pinned && s < r.Severity {
		return
	}
	f.Severity = s
}

// waive lets findings pass that a waiver names, and reports waivers that can't or do not.
func waive(job *Job, found []diag.Finding, known map[string]Rule) []diag.Finding {
	var extra []diag.Finding
	for _, w := range job.Proc.Waivers {
		r, ok := known[w.Rule.Value]
		switch {
		case !ok:
			extra = append(extra, diag.Finding{
				Rule: "waive/not-waivable", Severity: diag.Error, At: w.Rule.At, Step: w.Step.Num(),
				Message: fmt.Sprintf("%q is not the name of a check", w.Rule.Value),
				Do:      "write the name as the finding gives it, such as refit/left-loose",
			})
			continue
		case r.Severity == diag.Error && !r.Waivable, r.Name == "torque/over-proof" && len(job.Proc.References) == 0:
			extra = append(extra, diag.Finding{
				Rule: "waive/not-waivable", Severity: diag.Error, At: w.Rule.At, Step: w.Step.Num(),
				Message: fmt.Sprintf("%q can't be waived", w.Rule.Value),
				Do:      notWaivable(r),
			})
			continue
		}
		if f := meets(found, w); f != nil {
			f.Waived = w.Reason
			continue
		}
		extra = append(extra, diag.Finding{
			Rule: "waive/no-finding", Severity: diag.Error, At: w.At, Step: w.Step.Num(),
			Message: fmt.Sprintf("this waiver lets pass a finding of %q that is not there", w.Rule.Value),
			Do:      "take the waiver out, or put it into the step of the finding",
		})
	}
	return extra
}

func notWaivable(r Rule) string {
	if r.Name == "torque/over-proof" {
		return `name the maker's data under "references" in the front matter, or lower the torque`
	}
	return "mend what it finds: a wrong card would reach the bench"
}

// meets finds the one finding that a waiver lets pass: of its rule, in its step (or of the declarations), in its file, about
// its thing where it names one.
func meets(found []diag.Finding, w *procedure.Waiver) *diag.Finding {
	for i := range found {
		f := &found[i]
		if f.Rule != w.Rule.Value || f.Waived != "" || w.Thing != "" && procedure.Fold(f.Thing) != w.Thing {
			continue
		}
		if w.Included && f.At.File != w.At.File {
			continue // a waiver in an included file never reaches its host
		}
		if w.Step == nil || w.Step.At.Holds(f.At) || f.Step == w.Step.Number {
			if w.Step == nil && f.Step != 0 {
				continue
			}
			return f
		}
	}
	return nil
}

// Word makes findings of the faults of a name: what an earlier stage found is put into a sentence here and nowhere else.
// say gets the fault and fills in message and what to do.
func (j *Job) Word(name string, say func(source.Fault, *diag.Finding)) []diag.Finding {
	var all []diag.Finding
	for _, f := range j.Named(name) {
		x := diag.Finding{At: f.At, Step: f.Step, Related: f.Related, Thing: f.Thing}
		if f.Variant != "" {
			x.Variants = []string{f.Variant}
		}
		say(f, &x)
		all = append(all, x)
	}
	return j.joined(all)
}

// joined makes one finding of those that differ only in their variant; one that holds for all variants names none.
func (j *Job) joined(all []diag.Finding) []diag.Finding {
	var out []diag.Finding
	for _, f := range all {
		same := slices.IndexFunc(out, func(o diag.Finding) bool { return o.At == f.At && o.Message == f.Message })
		if same < 0 {
			out = append(out, f)
			continue
		}
		for _, v := range f.Variants {
			if !slices.Contains(out[same].Variants, v) {
				out[same].Variants = append(out[same].Variants, v)
			}
		}
	}
	for i := range out {
		if len(out[i].Variants) == len(j.Plays) {
			out[i].Variants = nil
		}
	}
	return out
}
