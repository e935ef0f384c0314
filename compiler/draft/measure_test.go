package draft_test

import (
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"
	"testing"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// score counts what a draft found of what a careful writer made of the same notes.
type score struct{ found, wrong, missed int }

func (s *score) add(o score) { s.found += o.found; s.wrong += o.wrong; s.missed += o.missed }

// figures are the scores of one procedure, or of all.
type figures struct{ acts, counts, tools, torques score }

// deed is an act on one thing, as the two procedures are compared by.
type deed struct {
	verb, name string
	count      int
	torque     string
	taken      bool
}

func deeds(p *procedure.Procedure) (all []*deed, tools []string) {
	for _, stage := range p.Stages {
		for _, s := range stage.Steps {
			for _, a := range s.Acts {
				switch {
				case a.Verb.Effect == verb.UseTool:
					if a.Tool != nil {
						tools = append(tools, procedure.Fold(a.Tool.Choices[a.Choice].Name))
					}
				case !a.Verb.Ticks:
				case len(a.Objects) == 0 || a.Verb.Takes == verb.Words || a.Verb.Takes == verb.Limit || a.Verb.Takes == verb.Measure:
					all = append(all, &deed{verb: a.Verb.Name})
				default:
					all = append(all, things(a)...)
				}
			}
		}
	}
	return all, tools
}

func things(a *procedure.Act) (all []*deed) {
	for _, o := range a.Objects {
		d := &deed{verb: a.Verb.Name, name: procedure.Fold(o.Name)}
		if o.Part != nil {
			d.name = procedure.Fold(o.Part.Name.Value)
			if strings.TrimSpace(o.Part.QtyAt.Text()) != "" {
				d.count = o.Part.Qty
			}
		}
		if o.Supply != nil {
			d.name = procedure.Fold(o.Supply.Name.Value)
		}
		if o.N > 0 {
			d.count = o.N
		}
		if a.Torque.Value != nil {
			d.torque = a.Torque.Value.Running()
		} else if a.Verb.Name == "torque" && o.Part != nil && o.Part.Torque.Value != nil {
			d.torque = o.Part.Torque.Value.Running()
		}
		all = append(all, d)
	}
	return all
}

func last(name string) string { return name[strings.LastIndex(name, " ")+1:] }

// compared holds a draft against the procedure that was wanted.
func compared(want, got *procedure.Procedure) figures {
	var f figures
	wanted, wantTools := deeds(want)
	made, gotTools := deeds(got)
	for _, same := range []func(a, b *deed) bool{
		func(a, b *deed) bool { return a.name == b.name && a.count == b.count && a.torque == b.torque },
		func(a, b *deed) bool { return a.name == b.name },
		func(a, b *deed) bool { return last(a.name) == last(b.name) },
	} {
		for _, w := range wanted {
			at := slices.IndexFunc(made, func(g *deed) bool { return !g.taken && !w.taken && g.verb == w.verb && same(w, g) })
			if at < 0 {
				continue
			}
			g := made[at]
			g.taken, w.taken = true, true
			f.acts.found++
			f.counts.add(held(w.count > 0, w.count == g.count, g.count > 0))
			f.torques.add(held(w.torque != "", w.torque == g.torque, g.torque != ""))
		}
	}
	for _, w := range wanted {
		if !w.taken {
			f.acts.missed++
			f.counts.add(held(w.count > 0, false, false))
			f.torques.add(held(w.torque != "", false, false))
		}
	}
	for _, g := range made {
		if !g.taken {
			f.acts.wrong++
			if g.torque != "" {
				f.torques.wrong++
			}
		}
	}
	f.tools = multiset(wantTools, gotTools)
	return f
}

func held(wanted, same, given bool) score {
	switch {
	case !wanted:
		return score{}
	case same:
		return score{found: 1}
	case given:
		return score{wrong: 1}
	}
	return score{missed: 1}
}

func multiset(want, got []string) (s score) {
	got = slices.Clone(got)
	for _, w := range want {
		if at := slices.Index(got, w); at >= 0 {
			got = slices.Delete(got, at, at+1)
			s.found++
		} else {
			s.missed++
		}
	}
	s.wrong = len(got)
	return s
}

// The figures reached; a change may raise them, never lower them.
var reached = struct{ acts, counts, tools, torques score }{
	acts: score{665, 41, 156}, counts: score{422, 0, 89}, tools: score{99, 3, 28}, torques: score{53, 1, 5},
}

func TestWhatDraftFindsOfWhatACarefulWriterMakes(t *testing.T) {
	all := notes(t)
	if len(all) < 15 {
		t.Fatalf("only %d notes", len(all))
	}
	var names []string
	for name := range all {
		names = append(names, name)
	}
	sort.Strings(names)
	var sum figures
	for _, name := range names {
		base := strings.TrimSuffix(name, filepath.Ext(name))
		raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", "notes", base+".want.md"))
		if err != nil {
			t.Errorf("%s: nobody has written what is wanted of it: %v", name, err)
			continue
		}
		f := compared(compile(raw).Proc, compile(made(name, all[name]).Text).Proc)
		t.Logf("%-24s acts %v counts %v tools %v torques %v", base, f.acts, f.counts, f.tools, f.torques)
		sum.acts.add(f.acts)
		sum.counts.add(f.counts)
		sum.tools.add(f.tools)
		sum.torques.add(f.torques)
	}
	for _, x := range []struct {
		name      string
		got, held score
	}{{"acts", sum.acts, reached.acts}, {"counts", sum.counts, reached.counts}, {"tools", sum.tools, reached.tools}, {"torques", sum.torques, reached.torques}} {
		t.Logf("%-8s found %d, wrong %d, missed %d", x.name, x.got.found, x.got.wrong, x.got.missed)
		if x.got.found < x.held.found || x.got.wrong > x.held.wrong || x.got.missed > x.held.missed {
			t.Errorf("%s: found %d, wrong %d, missed %d; reached before: %v", x.name, x.got.found, x.got.wrong, x.got.missed, x.held)
		}
	}
}
