package rules

import (
	"strings"
	"sync"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// BoundTool is a tool with the side of its "or" that a tag named.
type BoundTool struct {
	Tool   *procedure.Tool
	Choice int
}

// ToolKind is a kind of tool that acts are done with, by a test of one tool.
type ToolKind struct {
	fits func(procedure.Choice) bool
}

// NewToolKind makes a kind of tool.
func NewToolKind(fits func(procedure.Choice) bool) *ToolKind { return &ToolKind{fits} }

// Bound gives the tools of the kind that an act is done with: those of its sentence; with none there, those of its step; with
// none there, those of its stage. They are only to be read.
func (k *ToolKind) Bound(j *Job, a *procedure.Act) []BoundTool {
	if a.Step == nil {
		return nil
	}
	if unread(a.Step) {
		return nil // the tool that was meant is not known
	}
	if found := k.among(a.Step.Acts, func(t *procedure.Act) bool { return t.Sentence == a.Sentence }); len(found) > 0 {
		return found
	}
	if found := k.among(a.Step.Acts, anyAct); len(found) > 0 {
		return found
	}
	if a.Step.Stage == nil || k.plain(j, a.Step) {
		return nil
	}
	known, place := stageTools.Of(j), kindOfStage{k, a.Step.Stage}
	found, ok := known[place]
	if !ok {
		for _, s := range a.Step.Stage.Steps {
			found = append(found, k.among(s.Acts, anyAct)...)
		}
		known[place] = found
	}
	return found
}

func anyAct(*procedure.Act) bool { return true }

// among gives the tools of the kind that some acts name.
func (k *ToolKind) among(acts []*procedure.Act, same func(*procedure.Act) bool) []BoundTool {
	var found []BoundTool
	for _, t := range acts {
		if t.Tool != nil && same(t) && t.Choice < len(t.Tool.Choices) && k.fits(t.Tool.Choices[t.Choice]) {
			found = append(found, BoundTool{t.Tool, t.Choice})
		}
	}
	return found
}

// kindOfStage is what stageTools keeps tools by.
type kindOfStage struct {
	kind  *ToolKind
	stage *procedure.Stage
}

// stageTools keeps the tools of each stage that were looked for: a long stage is not gone through for each of its acts.
var stageTools = NewFact(func(*Job) map[kindOfStage][]BoundTool { return map[kindOfStage][]BoundTool{} })

// plainTools are the tools that a step may name outside a tag, and the finder that looks for them: one group each.
var plainTools = sync.OnceValues(func() ([]procedure.Choice, *Finder) {
	var all []procedure.Choice
	var groups [][]string
	for _, kind := range []string{"torque wrench", "torque screwdriver", "crowfoot", "socket"} {
		all = append(all, procedure.Choice{Name: kind, Kind: hardware.ParseTool(kind, "")})
		groups = append(groups, []string{kind})
	}
	return all, NewFinder(groups...)
})

// plain tells whether a step names a tool that fits outside a tag: then another one of the stage is not what is meant.
func (k *ToolKind) plain(j *Job, s *procedure.Step) bool {
	named := namedPlain.Of(j)
	groups, ok := named[s]
	if !ok {
		groups = plainOf(s)
		named[s] = groups
	}
	tools, _ := plainTools()
	for i, c := range tools {
		if groups&(1<<i) != 0 && k.fits(c) {
			return true
		}
	}
	return false
}

// namedPlain keeps which of plainTools a step names, one bit each.
var namedPlain = NewFact(func(*Job) map[*procedure.Step]uint64 { return map[*procedure.Step]uint64{} })

func plainOf(s *procedure.Step) (groups uint64) {
	var words strings.Builder
	for _, r := range s.Runs {
		words.WriteString(r.Text)
	}
	tools, finder := plainTools()
	if finder.In([]byte(words.String())) == 0 {
		return 0
	}
	low := strings.ToLower(words.String())
	for i, c := range tools {
		if strings.Contains(low, c.Name) {
			groups |= 1 << i
		}
	}
	return groups
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
