package resolve

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// message reads a safety message; nil for a quote without a signal word.
func (r *resolver) message(q *syntax.Quote) *procedure.Message {
	if q.Signal == "" {
		return nil
	}
	m := &procedure.Message{At: q.At, Signal: q.Signal}
	for _, i := range q.Text {
		switch i := i.(type) {
		case *syntax.Text:
			m.Runs = append(m.Runs, procedure.Run{Text: i.Text, At: i.At, Code: i.Code})
		case *syntax.Break:
			m.Runs = append(m.Runs, procedure.Run{Text: " ", At: i.At})
		case *syntax.Tag:
			if i.Verb != nil && i.Verb.Effect == verb.Number {
				m.Runs = append(m.Runs, r.numberRun(i))
			} else if i.Verb != nil {
				r.fault("tag/misplaced", i.At, i.Verb.Name, "a safety message", "a step")
			}
		}
	}
	m.Hazard, m.Rest = cutHazard(m.Runs)
	return m
}

// inlineMessage reads {warning …} inside a step.
func (r *resolver) inlineMessage(t *syntax.Tag) *procedure.Message {
	m := &procedure.Message{At: t.At, Signal: strings.ToUpper(t.Verb.Name), Inline: true}
	if t.Body.Text == "" {
		r.fault("tag/empty", t.At)
	} else {
		m.Runs = []procedure.Run{{Text: t.Body.Text, At: t.Body.At(0, len(t.Body.Text))}}
	}
	m.Hazard, m.Rest = cutHazard(m.Runs)
	return m
}

// cutHazard parts the first sentence, which is the hazard, from the rest.
func cutHazard(runs []procedure.Run) (hazard, rest []procedure.Run) {
	for i, run := range runs {
		end := sentenceEnd(run.Text)
		if end < 0 {
			continue
		}
		first, second := run, run
		first.Text = run.Text[:end]
		second.Text = strings.TrimLeft(run.Text[end:], " ")
		hazard = append(append(hazard, runs[:i]...), first)
		if second.Text != "" {
			rest = append(rest, second)
		}
		return hazard, append(rest, runs[i+1:]...)
	}
	return runs, nil
}

// sentenceEnd gives the place behind the first stop that ends a sentence, -1 when there is none. A stop inside a figure or
// behind a single letter ends none.
func sentenceEnd(s string) int {
	for i := range len(s) {
		if s[i] != '.' && s[i] != '!' && s[i] != '?' {
			continue
		}
		if i+1 < len(s) && s[i+1] != ' ' {
			continue
		}
		if i >= 2 && s[i-2] == ' ' && s[i] == '.' && isLetter(s[i-1]) { // an initial
			continue
		}
		return i + 1
	}
	return -1
}

func isLetter(c byte) bool { return 'a' <= c|0x20 && c|0x20 <= 'z' }
