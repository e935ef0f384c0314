package document

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

// segment is the words of one act: its own runs, and the prose that goes with it.
type segment struct {
	act  *procedure.Act
	runs []procedure.Run
}

// at is where its words stand, from the first to the last; words that were made up stand where their step does.
func (g segment) at(s *procedure.Step) source.Span {
	var whole source.Span
	for _, r := range g.runs {
		switch {
		case strings.TrimSpace(r.At.Text()) == "" || whole.Known() && r.At.File != whole.File:
		case !whole.Known():
			whole = r.At
		default:
			whole.Start, whole.End = min(whole.Start, r.At.Start), max(whole.End, r.At.End)
		}
	}
	if !whole.Known() {
		return s.At
	}
	return whole
}

// segments cuts the text of a step before each act. A sentence without an act stays with the act that follows it, or with
// the last one; "then" and "and" open the new line, and the comma at the cut is dropped. Not a word is added.
func segments(s *procedure.Step) []segment {
	out := make([]segment, 0, len(s.Acts)+1)
	all := make([]procedure.Run, 0, len(s.Runs)+len(s.Acts)) // of all segments; a run that is cut counts twice
	begin, from := 0, 0                                      // of the last segment there, and of the prose since the last act
	add := func(runs ...procedure.Run) {
		all = append(all, runs...)
		out[len(out)-1].runs = all[begin:]
	}
	for i := range s.Runs {
		r := &s.Runs[i]
		if r.Act == nil || r.Act.Verb == nil || !r.Act.Verb.Ticks {
			continue
		}
		loose := s.Runs[from:i]
		from = i + 1
		if n := len(out); n > 0 && out[n-1].act == r.Act && len(loose) == 0 {
			add(*r)
			continue
		}
		lead := loose
		if len(out) > 0 {
			var tail []procedure.Run
			tail, lead = between(loose)
			add(tail...)
		}
		begin = len(all)
		out = append(out, segment{act: r.Act})
		add(lead...)
		add(*r)
	}
	switch loose := s.Runs[from:]; {
	case len(out) > 0:
		add(loose...)
	case len(loose) > 0:
		out = append(out, segment{nil, loose})
	}
	return out
}

// between parts the prose between two acts: up to the last end of a sentence it belongs to the first; a "then" or "and" right
// before the second opens its line.
func between(loose []procedure.Run) (tail, lead []procedure.Run) {
	for i := len(loose) - 1; i >= 0; i-- {
		if loose[i].End {
			return loose[:i], loose[i+1:]
		}
		if loose[i].Act != nil {
			continue
		}
		if at := lastStop(loose[i].Text); at >= 0 {
			return parted(loose, i, at)
		}
	}
	if n := len(loose); n > 0 && loose[n-1].Act == nil {
		text := loose[n-1].Text
		for _, w := range []string{", and then ", ", then ", ", and ", " and then ", " then ", " and ", ", "} {
			if strings.HasSuffix(text, w) {
				tail, lead = parted(loose, n-1, len(text)-len(strings.TrimPrefix(strings.TrimPrefix(w, ","), " ")))
				if k := len(tail); k > 0 {
					tail[k-1].Text = strings.TrimRight(tail[k-1].Text, " ,")
				}
				return tail, lead
			}
		}
	}
	return loose, nil
}

// lastStop gives the place behind the last end of a sentence, -1 when there is none.
func lastStop(s string) int {
	for i := len(s) - 1; i >= 0; i-- {
		if strings.ContainsRune(".!?", rune(s[i])) && (i+1 == len(s) || s[i+1] == ' ') {
			return i + 1
		}
	}
	return -1
}

func parted(loose []procedure.Run, i, at int) (tail, lead []procedure.Run) {
	a, b := loose[i], loose[i]
	a.Text, b.Text = a.Text[:at], a.Text[at:]
	tail = append(append(tail, loose[:i]...), a)
	if strings.TrimSpace(b.Text) != "" {
		lead = append(lead, b)
	}
	return tail, append(lead, loose[i+1:]...)
}
