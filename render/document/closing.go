package document

import (
	"fmt"
	"strings"

	"refitcard/compiler/assembly"
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// handover says what stands other than in a whole machine where the job may be left.
func (w *writer) handover(s *procedure.Step) *Handover {
	state := assembly.State{}
	for _, after := range w.play.After {
		if after.Step == s {
			state = after
		}
	}
	return &Handover{stateLines(state)}
}

func stateLines(state assembly.State) []HandoverLine {
	counted := func(list []assembly.Counted, word func(string) string) string {
		var all []string
		for _, c := range list {
			words := counting(c)
			if word != nil && c.Why != "" {
				words += " (" + word(c.Why) + ")"
			}
			all = append(all, words)
		}
		return strings.Join(all, ", ")
	}
	lines := []HandoverLine{
		{"Off", counted(state.Off, nil)},
		{"Open", counted(state.Open, verb.Past)},
		{"Loose", counted(state.Loose, strings.Clone)},
		{"Drained", strings.Join(state.Drained, ", ")},
		{"Isolated", strings.Join(state.Isolated, ", ")},
	}
	for i := range lines {
		if lines[i].Words == "" {
			lines[i].Words = "none"
		}
	}
	return lines
}

// counting puts the count before a name. Things that nobody declares have the name that was typed, often in the plural.
func counting(c assembly.Counted) string {
	if c.Part == nil && c.N > 1 && manyAlready(c.Name) {
		return fmt.Sprintf("%d %s", c.N, c.Name)
	}
	return procedure.CountName(c.N, c.Name)
}

// manyAlready tells whether a name is the plural of another one: "gate pins".
func manyAlready(name string) bool {
	one, es := strings.TrimSuffix(name, "s"), strings.TrimSuffix(name, "es")
	return one != name && procedure.Plural(one) == name || es != name && procedure.Plural(es) == name ||
		strings.HasSuffix(name, "ies") && procedure.Plural(strings.TrimSuffix(name, "ies")+"y") == name
}

// closing puts what stands between the last step and the end mark: torques from four up, follow-up, what is left on purpose.
func (w *writer) closing() []Block {
	var blocks []Block
	if len(w.table) >= 4 {
		t := TorqueTable{Unit: w.table[0].Unit, SecondUnit: w.table[0].SecondUnit}
		for _, r := range w.table {
			if r.Figure == "" {
				r.Figure = r.Then
				r.Then = ""
			}
			t.Rows = append(t.Rows, r)
		}
		blocks = append(blocks, t)
	}
	if lines := remains(w.p, w.opt.Variant); len(lines) > 0 {
		blocks = append(blocks, After{lines})
	}
	return blocks
}

// remains lists what is still to do when the last step is done, and what is left open on purpose.
func remains(p *procedure.Procedure, variant string) []Line {
	var lines []Line
	add := func(lead, words string, at source.Span) { lines = append(lines, Line{lead, []Run{{Text: words}}, at}) }
	eachStep(p, variant, func(s *procedure.Step) {
		for _, a := range s.FollowUp {
			add("After the job:", a.Name, a.At)
		}
	})
	for _, a := range p.Leaves {
		add("Left so on purpose:", a.Words, a.At)
	}
	for _, x := range p.Waivers {
		if x.Rule.Value == "refit/left-loose" || x.Rule.Value == "refit/not-torqued" {
			add("Left so on purpose:", fmt.Sprintf("step %s, %s", x.Step.Name(), x.Reason), x.At)
		}
	}
	if then := texts(p.Then); then != "" {
		add("Goes on with:", then, p.Then[0].At)
	}
	return lines
}
