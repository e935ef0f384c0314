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
	at, acts, same, alike := 0, 0, true, true
	for _, stage := range p.Stages {
		stage.EachStep(func(s *procedure.Step) {
			if !same || at == len(l.steps) {
				same = false
				return
			}
			if was := l.steps[at].Step; was != s {
				same = l.replace(at, s)
				if alike = alike && slices.EqualFunc(was.Acts, s.Acts, sameEffect); alike {
					l.exchange(acts, was.Acts, s.Acts)
				}
			}
			at++
			acts += len(s.Acts)
		})
	}
	if same = same && at == len(l.steps); same && !alike {
		l.deal(p)
	}
	return same
}

// exchange puts acts in the place of earlier ones of the same effects, which begin at a place of the list.
func (l *lists) exchange(at int, was, now []*procedure.Act) {
	for i, a := range now {
		list := l.by[a.Verb.Effect]
		list[slices.Index(list, was[i])], l.acts[at+i] = a, a
		l.use(was[i], -1)
		l.use(a, 1)
	}
}

// replace puts a step and what is said at it in the place of an earlier one. It is false where the step has not so many messages
// and notes as that.
func (l *lists) replace(at int, s *procedure.Step) bool {
	seen := &l.steps[at]
	was, first := seen.Step, seen.said-len(seen.Messages)-notes(seen.Before)
	if was.Number != s.Number || was.Sub != s.Sub || len(was.Messages) != len(s.Messages) || notes(was.Before) != notes(s.Before) ||
		notes(was.Notes) != notes(s.Notes) {
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
