package rules

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// Options choose among the rules of one run.
type Options struct {
	Only []string // these alone
	Skip []string // all but these

	Against *procedure.Procedure // the earlier version to hold the procedure against; nil for none
}

// Selectable tells what is wrong with a choice: names that are no rules, and rules that can't be silenced.
func Selectable(families []Family, opt Options) error {
	for _, name := range slices.Concat(opt.Only, opt.Skip) {
		r, ok := named(families, name)
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
	for i := range families {
		for k := range families[i].Rules {
			r := &families[i].Rules[k]
			for _, x := range r.Check(job) {
				x.Rule = r.Name
				if x.Severity == 0 {
					x.Severity = r.Severity
				}
				found = append(found, x)
			}
		}
	}
	if len(found) == 0 && len(job.Proc.Waivers) == 0 {
		return nil
	}
	found = diag.Sort(found)
	found = append(found, waive(job, found, families)...)
	found = wrongValues(job, found)
	for i := range found {
		lower(&found[i], families, job)
	}
	return diag.Sort(reversed(plainActs(slices.DeleteFunc(found, func(f diag.Finding) bool {
		return len(opt.Only) > 0 && !slices.Contains(opt.Only, f.Rule) || slices.Contains(opt.Skip, f.Rule)
	}))))
}

// named finds a rule by its name.
func named(families []Family, name string) (r Rule, ok bool) {
	family, _, _ := strings.Cut(name, "/")
	for i := range families {
		if families[i].Name != family {
			continue
		}
		for _, r := range families[i].Rules {
			if r.Name == name {
				return r, true
			}
		}
	}
	return Rule{}, false
}

// reversed folds what is not put back into the finding about "the reverse of removal": that is where it is left out.
func reversed(found []diag.Finding) []diag.Finding {
	said := slices.ContainsFunc(found, func(f diag.Finding) bool { return f.Rule == "wording/reverse-of-removal" && f.Waived == "" })
	if !said {
		return found
	}
	return slices.DeleteFunc(found, func(f diag.Finding) bool {
		switch f.Rule {
		case "refit/left-off", "refit/left-loose", "refit/not-torqued", "refit/left-open", "refit/not-filled", "refit/mark-unused",
			"refit/old-part-back", "energy/left-isolated", "tool/not-used", "supply/not-used":
			return f.Waived == ""
		}
		return false
	})
}

// plainIn tells whether an act in the step of a waiver stands outside a tag: the finding may be hidden behind that.
func plainIn(found []diag.Finding, w *procedure.Waiver) bool {
	return slices.ContainsFunc(found, func(f diag.Finding) bool {
		return f.Rule == "wording/untagged-act" && w.Step != nil && f.Step == w.Step.Number
	})
}

// hazy tells whether a tag or a row could not be read, so that the play says less than it might.
func hazy(job *Job) bool {
	return slices.ContainsFunc(job.Faults, func(f source.Fault) bool {
		return strings.HasPrefix(f.Name, "tag/") || strings.HasPrefix(f.Name, "part/")
	})
}

// plainActs folds what the ledger misses because an act stands outside a tag into the finding of that act: one slip. It takes
// over the weight of what it stands for, so that no card is made from a job that does not close.
func plainActs(found []diag.Finding) []diag.Finding {
	gone := map[int]bool{}
	for i := range found {
		act := &found[i]
		if act.Rule != "wording/untagged-act" || act.Waived != "" || act.Thing == "" {
			continue
		}
		words := clauseOf(act.At)
		for k, f := range found {
			family, _, _ := strings.Cut(f.Rule, "/")
			inside := f.Rule == "wording/untagged-quantity" && f.At.File == act.At.File && f.At.Start > act.At.Start && f.At.Start < act.At.Start+len(words)
			ledger := family == "refit" || family == "order" || family == "energy" || family == "torque" || family == "part"
			waiver := f.Rule == "waive/no-finding" && act.Step > 0 && f.Step == act.Step // what it lets pass hides behind the act
			if f.Waived != "" || !inside && !waiver && !(ledger && speaksOf(f, act.Thing, words)) {
				continue
			}
			gone[k] = true
			act.Severity = max(act.Severity, f.Severity)
		}
	}
	var kept []diag.Finding
	for i, f := range found {
		if !gone[i] {
			kept = append(kept, f)
		}
	}
	return kept
}

// wrongValues folds what else a torque brings about into the finding that says the most: what a wrench can't reach, or can't show,
// into a value that is wrong itself; a unit that it does not show, and a torque that holds nothing, into what it can't reach.
func wrongValues(job *Job, found []diag.Finding) []diag.Finding {
	wrong := func(a *procedure.Act, f diag.Finding) bool {
		switch f.Rule {
		case "torque/differs-from-table", "torque/over-proof", "torque/wrong-unit-likely":
		default:
			return false
		}
		return f.Waived == "" && (a.At.Holds(f.At) || tableOf(a, f))
	}
	stays := func(f diag.Finding, says func(a *procedure.Act, g diag.Finding) bool) bool {
		return !slices.ContainsFunc(job.Acts(), func(a *procedure.Act) bool {
			return (a.At == f.At || tableOf(a, f)) && slices.ContainsFunc(found, func(g diag.Finding) bool { return says(a, g) })
		})
	}
	found = slices.DeleteFunc(slices.Clone(found), func(f diag.Finding) bool {
		return (f.Rule == "tool/out-of-range" || f.Rule == "torque/other-unit") && !stays(f, wrong)
	})
	return slices.DeleteFunc(slices.Clone(found), func(f diag.Finding) bool {
		return (f.Rule == "torque/other-unit" || f.Rule == "torque/slack") && !stays(f, func(a *procedure.Act, g diag.Finding) bool {
			return g.Rule == "tool/out-of-range" && g.Severity == diag.Error && g.At == a.At
		})
	})
}

// tableOf tells whether a finding stands at the torque that the table gives for a part of an act.
func tableOf(a *procedure.Act, f diag.Finding) bool {
	return slices.ContainsFunc(a.Objects, func(o procedure.Object) bool { return o.Part != nil && o.Part.Torque.At == f.At })
}

// misnamed finds the finding in the step of a waiver whose name is nearly the one that the waiver gives.
func misnamed(found []diag.Finding, w *procedure.Waiver, families []Family) *diag.Finding {
	for _, f := range found {
		family, name, _ := strings.Cut(f.Rule, "/")
		same := strings.HasPrefix(w.Rule.Value, family+"/") && strings.HasSuffix(name, strings.TrimPrefix(w.Rule.Value, family+"/"))
		r, _ := named(families, f.Rule)
		if !same && verb.Near(w.Rule.Value, []string{f.Rule}) == "" && w.Rule.Value != name || r.Severity == diag.Error && !r.Waivable {
			continue
		}
		meant := *w
		meant.Rule.Value = f.Rule
		if x := meets(found, &meant); x != nil {
			return x
		}
	}
	return nil
}

// clauseOf gives the words from a plain act to the end of its sentence, or to the next tag.
func clauseOf(at source.Span) string {
	text := string(at.File.Text[at.Start:])
	for i := range text {
		if text[i] == '{' || text[i] == '\n' || text[i] == '.' && (i+1 == len(text) || text[i+1] == ' ' || text[i+1] == '\n') {
			return text[:i]
		}
	}
	return text
}

// speaksOf tells whether a finding is about a thing of a plain act, or names the first of them beside another.
func speaksOf(f diag.Finding, thing, words string) bool {
	thing, words = procedure.Fold(thing), " "+strings.NewReplacer(",", " ", "  ", " ").Replace(procedure.Fold(words))+" "
	if name := procedure.Fold(f.Thing); name != "" && (strings.Contains(words, " "+name+" ") || strings.Contains(words, " "+procedure.Fold(procedure.Plural(name))+" ")) {
		return true
	}
	said := " " + strings.NewReplacer(`"`, " ", ":", " ", ",", " ").Replace(procedure.Fold(f.Message)) + " "
	return strings.Contains(said, " "+thing+" ") || strings.Contains(said, " "+procedure.Fold(procedure.Plural(thing))+" ")
}

// lower sets the severity that the settings give; errors and pinned rules keep theirs.
func lower(f *diag.Finding, families []Family, job *Job) {
	if job.Settings == nil {
		return
	}
	s, ok := diag.Named(job.Settings.Severities[f.Rule])
	if !ok {
		return
	}
	if r, _ := named(families, f.Rule); max(r.Severity, f.Severity) == diag.Error && s < diag.Error || r.Pinned && s < r.Severity {
		return
	}
	f.Severity = s
}

// waive lets findings pass that a waiver names, and reports waivers that can't or do not.
func waive(job *Job, found []diag.Finding, families []Family) []diag.Finding {
	var extra []diag.Finding
	for _, w := range job.Proc.Waivers {
		r, ok := named(families, w.Rule.Value)
		switch {
		case !ok:
			do := "write the name as the finding gives it, such as refit/left-loose"
			var fixes []diag.Fix // never safe: a waiver lets a finding pass
			if f := misnamed(found, w, families); f != nil {
				f.Waived = w.Reason // the name is mended first, and no card is made before that
				do = "write " + f.Rule
				fixes = Offer(w.Rule.At, w.Rule.Value, f.Rule)
			}
			extra = append(extra, diag.Finding{
				Rule: "waive/not-waivable", Severity: diag.Error, At: w.Rule.At, Step: w.Step.Num(),
				Message: fmt.Sprintf("%q is not the name of a check", w.Rule.Value),
				Do:      do, Fixes: fixes,
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
		if hazy(job) || plainIn(found, w) {
			continue // the finding may only be hidden behind a tag that could not be read
		}
		extra = append(extra, diag.Finding{
			Rule: "waive/no-finding", Severity: diag.Error, At: w.At, Step: w.Step.Num(),
			Message: fmt.Sprintf("there is no finding of %q here for this waiver to let pass", w.Rule.Value),
			Do:      "take the waiver out, or move it into the step that has the finding",
		})
	}
	return extra
}

func notWaivable(r Rule) string {
	if r.Name == "torque/over-proof" {
		return `name the maker's data under "references" in the front matter, or lower the torque`
	}
	return "mend the fault that it names: a wrong card would reach the bench"
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
	silent := len(j.Named("section/silent")) > 0
	for _, f := range j.Named(name) {
		if silent && len(Undeclared(j, missing(f))) > 0 {
			continue // the finding about the section tells of it
		}
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
		same := slices.IndexFunc(out, func(o diag.Finding) bool {
			return o.At == f.At && (o.Message == f.Message || len(o.Variants) > 0 && o.Thing != "" && o.Thing == f.Thing)
		})
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
