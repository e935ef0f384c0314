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
	fits func(*procedure.Choice) bool
}

// NewToolKind makes a kind of tool.
func NewToolKind(fits func(*procedure.Choice) bool) *ToolKind { return &ToolKind{fits} }

// Bound gives the tools of the kind that an act is done with: those of its sentence; with none there, those of its step; with
// none there, those of its stage. They are only to be read.
func (k *ToolKind) Bound(j *Job, a *procedure.Act) []BoundTool {
	if a.Step == nil {
		return nil
	}
	s := j.StepOf(a.Step)
	if s.toolLost {
		return nil // the tool that was meant is not known
	}
	if s.Tooled {
		if found := k.among(j, s.Acts, a.Sentence); len(found) > 0 {
			return found
		}
		if found := k.among(j, s.Acts, anySentence); len(found) > 0 {
			return found
		}
	}
	if s.Stage == nil || k.plain(s) {
		return nil
	}
	known, place := stageTools.Of(j), kindOfStage{k, s.Stage}
	found, ok := known[place]
	if !ok {
		for _, s := range s.Stage.Steps {
			found = append(found, k.among(j, s.Acts, anySentence)...)
		}
		known[place] = found
	}
	return found
}

// anySentence takes the acts of all sentences.
const anySentence = -1

// among gives the tools of the kind that some acts name, those of one sentence or of any.
func (k *ToolKind) among(j *Job, acts []*procedure.Act, sentence int) []BoundTool {
	if j.bound == nil {
		j.bound = make([]BoundTool, 0, len(j.Doing(verb.UseTool))) // nearly always enough
	}
	from := len(j.bound)
	for _, t := range acts {
		if t.Tool != nil && (sentence == anySentence || t.Sentence == sentence) && t.Choice < len(t.Tool.Choices) && k.fits(&t.Tool.Choices[t.Choice]) {
			j.bound = append(j.bound, BoundTool{t.Tool, t.Choice})
		}
	}
	return j.bound[from:len(j.bound):len(j.bound)]
}

// kindOfStage is what stageTools keeps tools by.
type kindOfStage struct {
	kind  *ToolKind
	stage *procedure.Stage
}

// stageTools keeps the tools of each stage that were looked for: a long stage is not gone through for each of its acts.
var stageTools = NewFact(func(*Job) map[kindOfStage][]BoundTool { return map[kindOfStage][]BoundTool{} })

// plainTool is a tool that a step may name outside a tag.
type plainTool struct {
	name   string
	named  *Phrases
	choice func() *procedure.Choice
}

var plainTools = []plainTool{
	newPlainTool("torque wrench"), newPlainTool("torque screwdriver"), newPlainTool("crowfoot"), newPlainTool("socket"),
}

func newPlainTool(name string) plainTool {
	return plainTool{name, NewPhrases(name), sync.OnceValue(func() *procedure.Choice {
		return &procedure.Choice{Name: name, Kind: hardware.ParseTool(name, "")}
	})}
}

// plain tells whether a step names a tool that fits outside a tag: then another one of the stage is not what is meant.
func (k *ToolKind) plain(s *Step) bool {
	for _, t := range plainTools {
		if t.named.MayBeIn(s.Passage) && k.fits(t.choice()) && saysTool(s, t.name) {
			return true
		}
	}
	return false
}

// saysTool tells whether the words of a step name a tool, in a tag or not.
func saysTool(s *Step, name string) bool {
	var words strings.Builder
	for i := range s.Runs {
		words.WriteString(s.Runs[i].Text)
	}
	return strings.Contains(strings.ToLower(words.String()), name)
}
