package rules

import (
	"slices"
	"strings"

	"refitcard/compiler/procedure"
)

// Follow takes over what the rules gathered of a procedure for an earlier job, where only steps of it were read anew since then:
// those alone are gone over. The earlier job can't be judged again.
func (j *Job) Follow(last *Job) {
	if last.flat != nil && last.flat.renew(j.Proc) {
		j.flat = last.flat
		if j.words = last.words; j.words != nil {
			j.words.text = ""
			clear(j.words.counts)
		}
	}
	last.flat, last.words = nil, nil
}

// renew puts the steps that were read anew in the place of the earlier ones. If it gives false more has changed than that, and
// all has to be gathered again.
func (l *lists) renew(p *procedure.Procedure) bool {
	at, acts, same := 0, 0, true
	for _, stage := range p.Stages {
		stage.EachStep(func(s *procedure.Step) {
			if !same || at == len(l.steps) {
				same = false
				return
			}
			if l.steps[at].Step != s {
				same = l.replace(at, acts, s)
			}
			at++
			acts += len(s.Acts)
		})
	}
	return same && at == len(l.steps)
}

// replace puts a step at its place in the lists, and its acts where those of the earlier one begin. It is false where the step
// is not made as the earlier one was: with so many messages and notes, and acts of the same effects.
func (l *lists) replace(at, acts int, s *procedure.Step) bool {
	seen := &l.steps[at]
	was, first := seen.Step, seen.said-len(seen.Messages)-notes(seen.Before)
	if was.Number != s.Number || was.Sub != s.Sub || len(was.Messages) != len(s.Messages) || notes(was.Before) != notes(s.Before) ||
		notes(was.Notes) != notes(s.Notes) || !slices.EqualFunc(was.Acts, s.Acts, sameEffect) {
		return false
	}
	if place, sub := l.subs[was]; sub {
		delete(l.subs, was)
		l.subs[s] = place
	}
	said := l.passages[first : seen.said+1+notes(s.Notes)]
	say := func(kind PassageKind, head bool, runs []procedure.Run) *Passage {
		p := &said[0]
		said = said[1:]
		*p = Passage{Kind: kind, Head: head, Within: s.Number, Spoken: runs}
		var b strings.Builder
		p.read(&b)
		p.Text = b.String()
		p.seek(phraseFinder())
		return p
	}
	note := func(list []procedure.Remark) {
		for _, r := range list {
			if r.Note != nil {
				say(Noting, r.Note.Head, r.Note.Runs)
			}
		}
	}
	note(s.Before)
	for i, m := range s.Messages {
		say(Cautioning, false, m.Runs)
		heard := slices.IndexFunc(l.messages, func(x Message) bool { return x.Message == was.Messages[i] })
		l.messages[heard].Message = m
	}
	*seen = Step{Step: s, said: seen.said, Passage: say(Instructing, false, s.Runs)}
	seen.Passage.Of = s
	seen.look()
	note(s.Notes)
	for i, a := range s.Acts {
		old := was.Acts[i]
		list := l.by[a.Verb.Effect]
		list[slices.Index(list, old)], l.acts[acts+i] = a, a
		l.use(old, -1)
		l.use(a, 1)
	}
	return true
}

func sameEffect(a, b *procedure.Act) bool { return a.Verb.Effect == b.Verb.Effect }

// notes counts the notes among some remarks.
func notes(list []procedure.Remark) int {
	n := 0
	for _, r := range list {
		if r.Note != nil {
			n++
		}
	}
	return n
}
