package document

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/assembly"
	"refitcard/compiler/compare"
	"refitcard/compiler/diag"
	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// Review is what a reviewer reads before a procedure is approved. A procedure with errors has one too: that is what it is for.
type Review struct {
	Header   Header
	Foot     Foot
	Standing Standing
	Findings []ReviewFinding // not waived; errors first, then in the order of the text
	Waived   []ReviewFinding
	Ledgers  []Ledger // one a variant
	Torques  []ReviewTorque
	// PoundsFirst tells that the wrenches of the job are read in lbf·ft.
	PoundsFirst bool
	Messages    []ReviewMessage
	Tools       []ReviewTool
	Since       string // the revision that it is held against; empty without an earlier version
	Changes     []ReviewChange
	Signing     []SignBox
}

// Standing says in one line how the procedure stands.
type Standing struct {
	Counts string // "0 errors, 0 warnings, 1 waived."
	Ledger string // "The ledger closes."
	Good   bool   // no errors, and the ledger closes
}

// ReviewFinding is one finding, or one that was let pass with the reason.
type ReviewFinding struct {
	Severity string // error, warning, advice
	Where    string // "step 6", or "line 34" where it stands in no step
	Line     string // "line 34", with the file's name when it is an included one
	Rule     string
	Message  string
	Do       string // the next thing to do; the reason of a waived one
}

// ReviewMessage is one safety message.
type ReviewMessage struct {
	Before string // "the job", "step 3"
	Signal string
	Hazard string
	Rest   string
}

// ReviewTool is one tool with the steps that use it.
type ReviewTool struct {
	Tool  string
	Steps []string // empty: no step uses it
}

// ReviewChange is one change of meaning.
type ReviewChange struct {
	Step     string // empty for what stands before the steps
	Was, Now string
}

// SignBox is a box to sign in, with the name that the front matter gives.
type SignBox struct{ Label, Name string }

// ReviewInput is what a review sheet is made from. Old is the version that it is held against, nil for none.
type ReviewInput struct {
	Proc     *procedure.Procedure
	Old      *procedure.Procedure
	Settings *library.Settings
	Findings []diag.Finding
	Variant  string // the one variant to show; empty for all
	Units    string // metric or us: which torques stand first; empty: what the procedure or the library says
}

// MakeReview makes the review sheet of a procedure.
func MakeReview(in ReviewInput) *Review {
	p := in.Proc
	r := &Review{Header: header(p, in.Variant), Foot: reviewFoot(in.Settings)}
	r.Header.Kind, r.Header.Draft = "Review sheet", false
	r.PoundsFirst = prefersUS(p, in.Settings, Options{Units: in.Units})
	r.findings(in)
	if drawable(p) {
		for _, play := range assembly.PlayAll(p, verbsOf(in.Settings), nil, true) {
			if in.Variant == "" || play.Variant == in.Variant {
				r.Ledgers = append(r.Ledgers, newLedger(in, play))
			}
		}
		r.Standing = r.standing()
	} else {
		r.Standing = r.standing()
		r.Standing.Good, r.Standing.Ledger = false, "The ledger is too large to be drawn: split the procedure."
	}
	r.Torques = reviewTorques(p, in.Variant, true)
	r.Messages = reviewMessages(p, in.Variant)
	r.Tools = reviewTools(p, in.Variant)
	if in.Old != nil {
		r.Since = in.Old.Revision.Value
		if r.Since == "" {
			r.Since = "?"
		}
		for _, c := range compare.Procedures(in.Old, p) {
			r.Changes = append(r.Changes, reviewChange(c))
		}
	}
	r.Signing = []SignBox{
		{"Written by", p.Author.Value}, {"Reviewed by", p.Reviewer.Value}, {"Approved by", p.Approved.Value}, {Label: "Date"},
	}
	return r
}

// mostCells is how many fields a picture of the ledger may have: some hundred pages.
const mostCells = 500_000

// drawable tells whether the ledger of a procedure can be drawn: a row for each part, supply and step that may open something, a
// column for each step, once for each variant.
func drawable(p *procedure.Procedure) bool {
	steps := 0
	p.EachStep(func(*procedure.Step) { steps++ })
	return steps*(len(p.Parts)+len(p.Supplies)+steps)*max(len(p.Variants), 1) <= mostCells
}

func verbsOf(s *library.Settings) *verb.Table {
	if s != nil && s.Verbs != nil {
		return s.Verbs
	}
	return verb.Standard()
}

func reviewFoot(s *library.Settings) Foot {
	return Foot{
		Lead:      "A clean review does not prove the procedure right:",
		Wrong:     "only that nothing named in it is left off, loose or locked.",
		Statement: statement(s, "sheet"),
	}
}

// findings sorts the findings into those that stand, the heaviest first, and those that were let pass.
func (r *Review) findings(in ReviewInput) {
	sorted := slices.Clone(in.Findings)
	slices.SortStableFunc(sorted, func(a, b diag.Finding) int { return int(b.Severity) - int(a.Severity) })
	for _, f := range sorted {
		x := ReviewFinding{Severity: f.Severity.String(), Rule: f.Rule, Message: f.Message, Do: f.Do, Line: lineOf(in.Proc, f)}
		if x.Where = x.Line; f.Step > 0 {
			x.Where = fmt.Sprintf("step %d", f.Step)
		}
		if len(f.Variants) > 0 {
			x.Message += " (" + strings.Join(f.Variants, ", ") + ")"
		}
		if f.Waived != "" {
			x.Do = f.Waived
			r.Waived = append(r.Waived, x)
			continue
		}
		r.Findings = append(r.Findings, x)
	}
}

func lineOf(p *procedure.Procedure, f diag.Finding) string {
	if !f.At.Known() {
		return ""
	}
	line := fmt.Sprintf("line %d", f.At.File.Line(f.At.Start))
	if f.At.File != p.File {
		return f.At.File.Path + ", " + line
	}
	return line
}

func (r *Review) standing() Standing {
	n := map[string]int{}
	for _, f := range r.Findings {
		n[f.Severity]++
	}
	s := Standing{Counts: fmt.Sprintf("%s, %s", some(n["error"], "error"), some(n["warning"], "warning"))}
	if n["advice"] > 0 {
		s.Counts += fmt.Sprintf(", %d advice", n["advice"])
	}
	if w := len(r.Waived); w > 0 {
		s.Counts += fmt.Sprintf(", %d waived", w)
	}
	s.Counts += "."
	var open []string
	for _, l := range r.Ledgers {
		for _, row := range l.Rows {
			if row.Fault && !slices.Contains(open, row.Thing) {
				open = append(open, row.Thing)
			}
		}
	}
	switch {
	case len(open) > 0:
		s.Ledger = "The ledger does not close: " + listed(open, 4) + "."
	case slices.ContainsFunc(r.Findings, func(f ReviewFinding) bool { return f.Severity == "error" && ledgerRule(f.Rule) }):
		s.Ledger = "The ledger ends closed, but the way there can't be gone as written."
	default:
		s.Ledger = "The ledger closes."
	}
	s.Good = n["error"] == 0 && len(open) == 0
	return s
}

// ledgerRule tells whether a check looks at what the acts do to the machine.
func ledgerRule(rule string) bool {
	family, _, _ := strings.Cut(rule, "/")
	return slices.Contains([]string{"refit", "order", "energy"}, family)
}

func some(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// listed names the first few of a list, and says how many more there are.
func listed(names []string, most int) string {
	if len(names) > most {
		names = append(slices.Clone(names[:most-1]), fmt.Sprintf("%d more", len(names)-most+1))
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// reviewMessages lists all safety messages in the order of the card.
func reviewMessages(p *procedure.Procedure, variant string) []ReviewMessage {
	var all []ReviewMessage
	add := func(list []*procedure.Message, before string) {
		for _, m := range byLevel(list) {
			all = append(all, ReviewMessage{before, m.Signal, strings.TrimSpace(text(plainRuns(m.Hazard))), strings.TrimSpace(text(plainRuns(m.Rest)))})
		}
	}
	add(p.Messages, "the job")
	for _, stage := range p.Stages {
		before := stage.Title.Value
		if len(stage.Steps) > 0 {
			before = "step " + stage.Steps[0].Name()
		}
		add(stage.Messages, before)
		one := *p
		one.Stages = []*procedure.Stage{stage}
		eachStep(&one, variant, func(s *procedure.Step) { add(s.Messages, "step "+s.Name()) })
	}
	return all
}

// reviewTools lists the tools with the steps that use them, in the order of the list.
func reviewTools(p *procedure.Procedure, variant string) []ReviewTool {
	used := map[*procedure.Tool][]string{}
	eachStep(p, variant, func(s *procedure.Step) {
		note := func(t *procedure.Tool) {
			if t != nil && !slices.Contains(used[t], s.Name()) {
				used[t] = append(used[t], s.Name())
			}
		}
		for _, a := range s.Acts {
			note(a.Tool)
			for _, o := range slices.Concat(a.Objects, a.Mentions) {
				note(o.Tool)
			}
		}
	})
	var all []ReviewTool
	for _, t := range p.Tools {
		all = append(all, ReviewTool{t.Whole, used[t]})
	}
	return all
}

// reviewChange puts a change into two cells: what it was, and what it is.
func reviewChange(c compare.Change) ReviewChange {
	x := ReviewChange{Step: c.Step, Was: c.Was, Now: c.Now}
	switch {
	case c.Was == "" && c.Now == compare.Done:
		x.Was, x.Now = "not there", c.What
	case c.Was == "":
		x.Was, x.Now = "not there", c.What+": "+c.Now
	case c.Now == "" && c.Was == compare.Done:
		x.Was, x.Now = c.What, "gone"
	case c.Now == "":
		x.Was, x.Now = c.What+": "+c.Was, "gone"
	default:
		x.Was = c.What + ": " + c.Was
	}
	return x
}
