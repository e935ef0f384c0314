package document

import (
	"fmt"
	"strings"

	"refitcard/compiler/assembly"
	"refitcard/compiler/procedure"
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
	counted := func(list []assembly.Counted, why bool) string {
		var all []string
		for _, c := range list {
			words := counting(c)
			if why && c.Why != "" {
				words += " (" + c.Why + ")"
			}
			all = append(all, words)
		}
		return strings.Join(all, ", ")
	}
	lines := []HandoverLine{
		{"Off", counted(state.Off, false)},
		{"Open", counted(state.Open, true)},
		{"Loose", counted(state.Loose, true)},
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
	if c.Part == nil && c.N > 1 && strings.HasSuffix(c.Name, "s") && !strings.HasSuffix(c.Name, "ss") {
		return fmt.Sprintf("%d %s", c.N, c.Name)
	}
	return procedure.CountName(c.N, c.Name)
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
	var after After
	for _, a := range w.follow {
		after.Lines = append(after.Lines, Line{"After the job:", []Run{{Text: a.Name}}})
	}
	for _, a := range w.p.Leaves {
		after.Lines = append(after.Lines, Line{"Left so on purpose:", []Run{{Text: a.Words}}})
	}
	for _, x := range w.p.Waivers {
		if x.Rule.Value == "refit/left-loose" || x.Rule.Value == "refit/not-torqued" {
			after.Lines = append(after.Lines, Line{"Left so on purpose:", []Run{{Text: fmt.Sprintf("step %s, %s", x.Step.Name(), x.Reason)}}})
		}
	}
	if then := texts(w.p.Then); then != "" {
		after.Lines = append(after.Lines, Line{"Goes on with:", []Run{{Text: then}}})
	}
	if len(after.Lines) > 0 {
		blocks = append(blocks, after)
	}
	return blocks
}
