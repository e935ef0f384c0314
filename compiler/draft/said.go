package draft

import "strings"

// listOf tells what a heading, or the words before a colon, announce a list of.
func listOf(s string) (kind, rest string) {
	head, rest, colon := strings.Cut(s, ":")
	low := strings.ToLower(strings.TrimSpace(head))
	switch low {
	case "tools", "tool", "equipment", "what you need", "you need", "you will need", "you'll need", "tools needed", "gear", "kit", "tools and parts":
		kind = "tools"
	case "parts", "spares", "spare parts", "parts needed", "new parts":
		kind = "parts"
	case "supplies", "materials", "consumables":
		kind = "supplies"
	}
	if kind == "" || !colon && rest != "" {
		return "", ""
	}
	return kind, strings.TrimSpace(rest)
}

// weigh decides what becomes of a sentence that was read.
func (d *drafter) weigh(x *step, r *reader) {
	d.steps = append(d.steps, x)
	d.begun = d.begun || len(x.pieces) > 0 && (r.ordered || len(r.acts()) > 0)
	switch {
	case r.lost:
		x.lost = true
		d.lastOne, d.recent = nil, nil // nobody knows what "it" is behind it
	case len(x.pieces) == 0 && (x.cond != "" || r.ordered) || len(r.bare) > 0 || len(r.pending) > 0 && len(x.pieces) == 0:
		x.lost = true
	case len(r.acts()) == 0 && !r.ordered:
		d.subject(r)
		x.pieces = nil
		x.remark = true
		switch {
		case guards().MatchString(x.said.text):
			x.lost = true
		case bracketed(x.said.text):
		case r.valued && !r.taken || demands().MatchString(x.said.text) || !states().MatchString(x.said.text):
			x.lost = true
		case d.begun && !chat().MatchString(x.said.text):
			x.note = true
		}
	}
}

// states are words of a sentence that states something; chat begins one that nobody at the machine needs.
var (
	states = pattern(`(?i)(?:\b(?:is|are|was|were|will|can|could|may|has|have|had|does|do|did|takes|weighs|holds|comes|goes|go|sits|means|gets|got|want|wants|done|know|think|says)\b|'s\b|'re\b|’s\b|’re\b|'ve\b|'ll\b)`)
	chat   = pattern(`(?i)^(?:i|we|you|he|she|that's|that’s|this|here|okay|ok|so|right|alright|well|now)\b`)
)

// guards are words of what keeps people safe: a sentence with them that was not understood is asked, never left out.
var guards = pattern(`(?i)\b(?:breaker|isolat\w*|padlock|lock(?:ed)? (?:it |them )?(?:off|out)|power|mains|pressure|live|dead)\b`)

// bracketed tells whether a sentence stands in brackets: an aside.
func bracketed(s string) bool {
	return strings.HasPrefix(s, "(") && strings.HasSuffix(strings.TrimRight(s, "."), ")") && strings.Count(s, "(") == 1
}

// demands are words of a sentence that orders nothing and still asks for something.
var demands = pattern(`(?i)\b(?:must|should|shall|nothing|nobody|remaining|needs? to|has to|have to)\b`)

// subject keeps what a sentence states something of: "it" in the next one is that.
func (d *drafter) subject(r *reader) {
	w := tokens(r.step.said.text)
	objs, _ := objects(w, skipFillers(w, 0))
	if len(objs) != 1 || objs[0].pron != "" {
		return
	}
	d.lastOne, d.recent = nil, nil
	if (objs[0].one || objs[0].plural) && !noName(objs[0].name) && nameable().MatchString(objs[0].name) {
		d.remember(objs)
	}
}

// needs takes in "you'll need a 19 mm spanner and a straight edge".
func (d *drafter) needs(w []tok) bool {
	if len(w) < 3 || w[0].low != "you'll" && w[0].low != "you" {
		return false
	}
	i := 1
	if w[i].low == "will" {
		i++
	}
	if w[i].low != "want" && w[i].low != "need" || i+1 >= len(w) || w[i+1].low == "to" {
		return false
	}
	words := make([]string, 0, len(w))
	for _, t := range w[i+1:] {
		words = append(words, t.print+t.stop)
	}
	d.list(strings.Join(words, " "), "tools")
	return true
}

// reverses are sentences that leave the refitting to the reader.
func unwritten(s string) string {
	low := strings.ToLower(s)
	has := func(words ...string) bool {
		for _, w := range words {
			if !strings.Contains(low, w) {
				return false
			}
		}
		return true
	}
	switch {
	case has("reverse", "removal"), has("reverse", "order"), has("reverse of"), has("reverse the"), has("reassemble in reverse"), has("in reverse"):
		return "reverse"
	case has("same again"), has("same for the"), has("same on the"), has("likewise"), has("do the same"), has("repeat for"), has("repeat on"), has("other side", "same"):
		return "again"
	}
	return ""
}

func (d *drafter) unwritten(s said, how string) {
	x := &step{said: s, stage: d.heading, lost: true}
	d.steps = append(d.steps, x)
	text := quoted(s.text) + ": which steps are these? write each of them out"
	if how == "reverse" {
		d.reverse = true
		text = quoted(s.text) + ": write out each act of the refitting, with its torque. Which torque, which fill?"
	}
	x.asked = append(x.asked, Question{Text: text, Rule: "unwritten/" + how})
	d.facts(tokens(s.text))
}
