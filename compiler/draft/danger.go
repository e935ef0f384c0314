package draft

import (
	"slices"
	"strings"
)

var (
	signalled = pattern(`^(?i)(danger|warning|caution|notice)\s*(?:[:!,–—-]+|$)\s*`)
	careful   = pattern(`^(?i)(?:(?:and|but|now|so|again|please)[, ]+)?(?:be (?:very |really )?careful|careful\b|watch out|watch your|mind your|mind the|beware|take care|keep (?:your |the )?(?:hands?|fingers?|feet|head)\b)`)
	harms     = pattern(`(?i)\b(?:will|can|could|may|might|would|does|goes)\b[^.]*\b(?:crush|burn|scald|kill|cut|pinch|trap|injure|hurt|blind|electrocute|drop|fall|shock|through skin|take your|have your|break your|suffocate|explode|ignite|catch fire)\b`)
	forbids   = pattern(`(?i)^(?:never|don't|do not|nobody|no one)\b[^.]*\b(?:hand|hands|finger|fingers|under|underneath|stand|reach|flame|smoke|spark|sparks|alone)\b`)
)

// danger tells whether a sentence is a safety message: its signal word, and what it says. Where the notes give no signal
// word it is WARNING, with a question.
func (d *drafter) danger(s said) (signal, text string) {
	if m := signalled().FindStringSubmatch(s.text); m != nil {
		return strings.ToUpper(m[1]), s.text[len(m[0]):]
	}
	if careful().MatchString(s.text) || harms().MatchString(s.text) || forbids().MatchString(s.text) {
		return "WARNING", s.text
	}
	if d.warned != nil && d.warned.said.para == s.para && signalled().MatchString(d.warned.said.text) {
		return "more", s.text
	}
	return "", ""
}

// before puts a message before the steps that are said in one breath with it: it prints before their acts.
func (d *drafter) before(x *step) {
	i := len(d.steps)
	for i > 0 && d.steps[i-1].said.para == x.said.para && d.items[x.said.para] {
		i--
	}
	d.steps = slices.Insert(d.steps, i, x)
	d.warned = x
}

func (d *drafter) message(s said, signal, text string) {
	if signal == "more" {
		d.warned.message = strings.TrimSpace(d.warned.message + " " + text)
		d.warned.said.text += " " + s.text
		return
	}
	x := &step{said: s, signal: signal, message: text, stage: d.heading}
	if !signalled().MatchString(s.text) {
		x.asked = append(x.asked, Question{Text: "the notes give the message below no signal word. Is it WARNING, or another?", Rule: "signal"})
	}
	d.before(x)
	d.facts(tokens(text))
}
