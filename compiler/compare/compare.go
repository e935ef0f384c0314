// Package compare tells what changed in meaning between two versions of one procedure: parts, counts, torques, tools,
// supplies, acts and their order, safety messages. White space, the numbers of steps, and wording that the compiler reads the
// same way are no change.
package compare

import (
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

// Kind is what a change is about.
type Kind string

// The kinds, in the order in which changes come.
const (
	Job     Kind = "job"     // front matter
	Message Kind = "message" // a safety message
	Part    Kind = "part"    // a row of the parts table
	Tool    Kind = "tool"    // a tool of the list
	Supply  Kind = "supply"  // a supply of the list
	Drawing Kind = "drawing" // a layout or a stack
	Act     Kind = "act"     // what a step does
	Order   Kind = "order"   // the same act at another place
)

// Done stands in Was or Now for an act of which nothing is to be said but that it is done.
const Done = "done"

// Change is one difference in meaning. Was and Now are short phrases, one of them empty where a thing was added or taken out.
type Change struct {
	Kind     Kind
	Step     string // of the new version; of the old one for what is gone; empty for what stands before the steps
	What     string // what it is about: "cover bolt", "remove end cover"
	Was, Now string
	Sentence string      // all of it in one sentence: lower-case start, no full stop
	At       source.Span // in the new version; unknown for what is gone
	OldAt    source.Span // in the old version; unknown for what is new
}

// Procedures gives the changes from an old version to a new one, in the order in which the new one reads; none when both mean
// the same. Neither is changed.
func Procedures(old, now *procedure.Procedure) []Change {
	c := &comparison{old: old, now: now, names: renamed(old, now), torqued: map[string]bool{}}
	c.job()
	c.blocks(messagesOf(old.Messages, nil), messagesOf(now.Messages, nil))
	acts := c.acts()
	c.parts()
	c.tools()
	c.supplies()
	c.drawings()
	return slices.Concat(c.changes, acts)
}

// comparison is a comparison underway.
type comparison struct {
	old, now *procedure.Procedure
	names    map[string]string // old name of a part, tool or supply → its new name, both folded
	torqued  map[string]bool   // parts whose torque was told of at a step: not told again for the table
	changes  []Change
}

// add records a change and puts it into a sentence.
func (c *comparison) add(x Change) {
	x.Sentence = sentence(x)
	c.changes = append(c.changes, x)
}

func sentence(x Change) string {
	s := ""
	if x.Step != "" {
		s = "step " + x.Step + ": "
	}
	switch {
	case x.Now == Done:
		return s + x.What + " is new"
	case x.Was == Done:
		return s + x.What + " is gone"
	case x.Was == "":
		return s + x.What + " is new: " + x.Now
	case x.Now == "":
		return s + x.What + " is gone; it was: " + x.Was
	}
	return s + x.What + ": " + whole(x.Now) + ", was " + whole(x.Was)
}

// whole puts marks around sentences, such as those of a safety message, so that they end where they end.
func whole(s string) string {
	if t, ended := strings.CutSuffix(s, "."); ended {
		return "“" + t + "”"
	}
	return s
}

// field is one trait of a thing in both versions: what it means, and how it is shown.
type field struct {
	meaning string // equal meanings are no change
	shown   string
}

// differ records a change where two fields differ in meaning.
func (c *comparison) differ(kind Kind, what string, old, now field, oldAt, at source.Span) {
	if old.meaning == now.meaning {
		return
	}
	if old.shown == now.shown { // a drawing of as many places, a part that moved from name to name
		now.shown += ", otherwise"
	}
	c.add(Change{Kind: kind, What: what, Was: old.shown, Now: now.shown, At: at, OldAt: oldAt})
}
