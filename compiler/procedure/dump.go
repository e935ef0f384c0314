package procedure

import (
	"fmt"
	"io"
	"strings"
)

// Dump prints the model, for tests and for people who wonder.
func (p *Procedure) Dump(w io.Writer) {
	fmt.Fprintf(w, "%s %s %q\n", p.Number.Value, p.Revision.Value, p.Title.Value)
	for _, m := range p.Messages {
		fmt.Fprintf(w, "%s %s\n", m.Signal, RunText(m.Runs))
	}
	for _, x := range p.Parts {
		fmt.Fprintf(w, "part %q qty %d use %s", x.Name.Value, x.Qty, x.Use)
		for _, r := range x.Places {
			fmt.Fprintf(w, " [%d %s]", r.Kind, r.Name)
		}
		if x.Torque.Value != nil {
			fmt.Fprintf(w, " torque %s", x.Torque.Value.Running())
		}
		fmt.Fprintln(w)
	}
	for _, x := range p.Tools {
		fmt.Fprintf(w, "tool %q\n", x.Whole)
	}
	for _, x := range p.Supplies {
		fmt.Fprintf(w, "supply %q detail %q\n", x.Name.Value, x.Detail)
	}
	for _, s := range p.Stages {
		fmt.Fprintf(w, "stage %q\n", s.Title.Value)
		for _, step := range s.Steps {
			step.dump(w, "  ")
		}
	}
}

func (s *Step) dump(w io.Writer, pad string) {
	fmt.Fprintf(w, "%s%s %s\n", pad, s.Name(), RunText(s.Runs))
	for _, m := range s.Messages {
		fmt.Fprintf(w, "%s  %s %s\n", pad, m.Signal, RunText(m.Runs))
	}
	for _, a := range s.Acts {
		fmt.Fprintf(w, "%s  act %s", pad, a.Verb.Name)
		for _, o := range a.Objects {
			fmt.Fprintf(w, " (%d %d of %d %q new %v)", o.Count, o.N, o.Of, o.Name, o.New)
		}
		if a.Torque.Value != nil {
			fmt.Fprintf(w, " to %s", a.Torque.Value.Running())
		}
		if a.Limit != nil {
			fmt.Fprintf(w, " limit %s", a.Limit.Running())
		}
		fmt.Fprintf(w, " %s %d passes detail %q else %q name %q\n", a.Order, a.Passes.Count, a.Detail, a.Else, a.Name)
	}
	for _, sub := range s.Steps {
		sub.dump(w, pad+"  ")
	}
}

// RunText is the words of runs without any marks.
func RunText(runs []Run) string {
	var b strings.Builder
	for _, r := range runs {
		switch {
		case r.End:
			b.WriteByte(' ')
		case r.Step != nil:
			b.WriteString(r.Step.Name())
		default:
			b.WriteString(r.Text)
		}
	}
	return b.String()
}
