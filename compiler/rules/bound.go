package rules

import (
	"strings"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// BoundTool is a tool with the side of its "or" that a tag named.
type BoundTool struct {
	Tool   *procedure.Tool
	Choice int
}

// Bound gives the tools of a kind that an act is done with: those of its sentence; with none there, those of its step; with
// none there, those of its stage.
func Bound(a *procedure.Act, fits func(procedure.Choice) bool) []BoundTool {
	if a.Step == nil {
		return nil
	}
	if unread(a.Step) {
		return nil // the tool that was meant is not known
	}
	var found []BoundTool
	pick := func(acts []*procedure.Act, same func(*procedure.Act) bool) []BoundTool {
		for _, t := range acts {
			if t.Tool != nil && same(t) && t.Choice < len(t.Tool.Choices) && fits(t.Tool.Choices[t.Choice]) {
				found = append(found, BoundTool{t.Tool, t.Choice})
			}
		}
		return found
	}
	if found := pick(a.Step.Acts, func(t *procedure.Act) bool { return t.Sentence == a.Sentence }); len(found) > 0 {
		return found
	}
	all := func(*procedure.Act) bool { return true }
	if found := pick(a.Step.Acts, all); len(found) > 0 {
		return found
	}
	if a.Step.Stage == nil || plainTool(a.Step, fits) {
		return nil
	}
	for _, s := range a.Step.Stage.Steps {
		pick(s.Acts, all)
	}
	return found
}

// plainTool tells whether a step names a tool that fits outside a tag: then another one of the stage is not what is meant.
func plainTool(s *procedure.Step, fits func(procedure.Choice) bool) bool {
	var words strings.Builder
	for _, r := range s.Runs {
		words.WriteString(strings.ToLower(r.Text))
	}
	for _, kind := range []string{"torque wrench", "torque screwdriver", "crowfoot", "socket"} {
		if strings.Contains(words.String(), kind) && fits(procedure.Choice{Name: kind, Kind: hardware.ParseTool(kind, "")}) {
			return true
		}
	}
	return false
}

// unread tells whether a tool tag of a step could not be read.
func unread(s *procedure.Step) bool {
	for _, t := range s.Acts {
		if t.Broken && t.Verb.Effect == verb.UseTool {
			return true
		}
	}
	return false
}

// EachMessage visits all safety messages: of the job, of the stages, of the steps.
func (j *Job) EachMessage(visit func(*procedure.Message)) {
	for _, m := range j.Proc.Messages {
		visit(m)
	}
	for _, s := range j.Proc.Stages {
		for _, m := range s.Messages {
			visit(m)
		}
	}
	j.EachStep(func(s *procedure.Step) {
		for _, m := range s.Messages {
			visit(m)
		}
	})
}
