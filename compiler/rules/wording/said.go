package wording

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"

	"refitcard/compiler/procedure"
	"refitcard/compiler/prose"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// saidKind is what a paragraph is for.
type saidKind int

const (
	instruction saidKind = iota
	remark
	message
)

// said is one paragraph as it is read: the words of its tags among the others. In plain the declared names, the objects and
// values of tags and code are masked, each as one word of the same length, so that nothing in a name is taken for grammar.
type said struct {
	procedure.Joined
	text, plain string
	kind        saidKind
	step        int
	acts        []*procedure.Act
}

// at is the place of a part of the paragraph.
func (s said) at(from, to int) source.Span {
	to = max(to, from+1)
	for from < to-1 && !s.Byte(from).Known() {
		from++ // what joins the cells of a table stands nowhere
	}
	return s.Span(from, to)
}

// act gives the act whose words stand at a byte of the text, nil for prose.
func (s said) act(i int) *procedure.Act {
	if k := s.In(i); k < len(s.Runs) {
		return s.Runs[k].Act
	}
	return nil
}

// ordered tells whether the words of an act that ticks stand in a part of the text: then it orders something for certain.
// asks tells that all such acts there find out, and change nothing.
func (s said) ordered(from, to int) (yes, asks bool) {
	asks = true
	for k, r := range s.Runs {
		if r.Act == nil || !r.Act.Verb.Ticks || s.From(k) < from || s.From(k) >= to {
			continue
		}
		yes = true
		asks = asks && (r.Act.Verb.Effect == verb.Checked || r.Act.Verb.Effect == verb.Measured)
	}
	return yes, yes && asks
}

// reader puts paragraphs together. They share one text and one list of places, cut when all is read.
type reader struct {
	text  []byte
	from  []int
	all   []said
	texts [][2]int // of each paragraph: its part of text
	froms [][2]int // and of from
}

// paragraphs are all of a job: of messages, steps and notes. The introduction is read sitting down, before the job.
var paragraphs = rules.NewFact(func(j *rules.Job) []said {
	r := &reader{}
	for _, m := range j.Proc.Messages {
		r.runs(m.Runs, message, 0)
	}
	for _, stage := range j.Proc.Stages {
		for _, m := range stage.Messages {
			r.runs(m.Runs, message, 0)
		}
		stage.EachStep(func(s *procedure.Step) {
			r.remarks(s.Before, s.Number)
			for _, m := range s.Messages {
				r.runs(m.Runs, message, s.Number)
			}
			if !unread(j, s) {
				r.runs(s.Runs, instruction, s.Number)
			}
			r.remarks(s.Notes, s.Number)
		})
		r.remarks(stage.Tail, 0)
	}
	text := string(r.text)
	for i := range r.all {
		s, t, f := &r.all[i], r.texts[i], r.froms[i]
		s.text, s.Joined = text[t[0]:t[1]], procedure.NewJoined(s.Runs, r.from[f[0]:f[1]])
	}
	return r.all
})

// eachSaid visits the paragraphs of steps; with the notes of stages and all messages too when all is asked for. wants looks at
// the bare text first: masking is the dear part.
func eachSaid(j *rules.Job, all bool, wants func(text string) bool, visit func(*said)) {
	list := paragraphs.Of(j)
	for i := range list {
		if s := &list[i]; (all || s.kind == instruction) && wants(s.text) {
			s.mask(j)
			visit(s)
		}
	}
}

func (r *reader) remarks(list []procedure.Remark, step int) {
	for _, m := range list {
		if m.Note != nil && !m.Note.Head {
			r.runs(m.Note.Runs, remark, step)
		}
	}
}

// runs cuts a list of runs at the ends of paragraphs.
func (r *reader) runs(list []procedure.Run, kind saidKind, step int) {
	text, from, first := len(r.text), len(r.from), 0
	flush := func(end int) {
		if len(r.text) > text {
			r.all = append(r.all, said{Joined: procedure.NewJoined(list[first:end], nil), kind: kind, step: step})
			r.texts, r.froms = append(r.texts, [2]int{text, len(r.text)}), append(r.froms, [2]int{from, len(r.from)})
		}
		text, from, first = len(r.text), len(r.from), end+1
	}
	for i, run := range list {
		if run.End && softEnd(string(r.text[text:])) {
			flush(i)
			continue
		}
		r.from = append(r.from, len(r.text)-text)
		r.text = append(r.text, run.Read()...)
	}
	flush(len(list))
}

// mask fills in what reading the paragraph for its grammar needs.
func (s *said) mask(j *rules.Job) {
	if s.plain != "" {
		return
	}
	names := declaredNames.Of(j)
	var b strings.Builder
	b.Grow(len(s.text))
	for _, run := range s.Runs {
		b.WriteString(names.masked(run, run.Read()))
		if run.Act != nil && run.Read() != "" && (len(s.acts) == 0 || s.acts[len(s.acts)-1] != run.Act) {
			s.acts = append(s.acts, run.Act)
		}
	}
	s.plain = b.String()
}

// softEnd tells whether a paragraph that ends here is one: a line end inside a sentence is a space.
func softEnd(text string) bool {
	text = strings.TrimRight(text, " ")
	return text == "" || strings.ContainsRune(".!?:;)", rune(text[len(text)-1]))
}

func (l nameList) masked(run procedure.Run, text string) string {
	switch {
	case run.Code:
		return keepSpace(text)
	case run.Act == nil:
		return l.mask(text)
	case run.Weight == procedure.Strong:
		return keepSpace(text)
	}
	switch run.Act.Verb.Effect {
	case verb.UseTool, verb.Speak, verb.Spend:
		return keepSpace(text)
	}
	return l.mask(text)
}

// keepSpace masks a text as one word, with the white space around it left.
func keepSpace(text string) string {
	body := strings.TrimSpace(text)
	i := strings.Index(text, body)
	return text[:i] + prose.Mask(len(body)) + text[i+len(body):]
}

// nameList is the declared names, singular and plural, as folded words by their first word, longest first.
type nameList map[string][][]string

var declaredNames = rules.NewFact(func(j *rules.Job) nameList {
	l := nameList{}
	add := func(name string) {
		for _, form := range []string{name, procedure.Plural(name)} {
			w := strings.Fields(procedure.Fold(form))
			if len(w) == 0 {
				continue
			}
			list := l[w[0]]
			k := 0
			for k < len(list) && len(list[k]) >= len(w) {
				k++
			}
			l[w[0]] = append(list[:k:k], append([][]string{w}, list[k:]...)...)
		}
	}
	for _, p := range j.Proc.Parts {
		add(p.Name.Value)
	}
	for _, s := range j.Proc.Supplies {
		add(s.Name.Value)
	}
	for _, t := range j.Proc.Tools {
		for _, c := range t.Choices {
			add(c.Name)
		}
	}
	return l
})

// mask masks the declared names in a text.
func (l nameList) mask(text string) string {
	if len(l) == 0 {
		return text
	}
	type place struct {
		word     string
		from, to int
	}
	var all []place
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			i += n
			continue
		}
		start := i
		for i < len(text) {
			r, n := utf8.DecodeRuneInString(text[i:])
			if !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '/' {
				break
			}
			i += n
		}
		all = append(all, place{strings.ToLower(text[start:i]), start, i})
	}
	out := []byte(text)
	for i := 0; i < len(all); i++ {
		n := 0
		for _, name := range l[all[i].word] {
			n = len(name)
			for k := range name {
				if i+k >= len(all) || all[i+k].word != name[k] || k > 0 && strings.Trim(text[all[i+k-1].to:all[i+k].from], " -‑\u00a0") != "" {
					n = 0
					break
				}
			}
			if n > 0 {
				break
			}
		}
		if n == 0 {
			continue
		}
		copy(out[all[i].from:all[i+n-1].to], prose.Mask(all[i+n-1].to-all[i].from))
		i += n - 1
	}
	return string(out)
}

// written tells whether any of some texts stand in a file of the procedure: a cheap look before the slow one.
func written(j *rules.Job, any ...string) bool {
	for _, f := range j.Proc.Sources {
		for _, w := range any {
			if bytes.Contains(f.Text, []byte(w)) {
				return true
			}
		}
	}
	return false
}

// joined tells whether a verb behind these words is joined to one that orders nothing.
func joined(before string) bool { return prose.Joined(before) }

// mentions makes a filter: the text has any of some words.
func mentions(any ...string) func(string) bool {
	return func(text string) bool {
		for _, w := range any {
			if strings.Contains(text, w) {
				return true
			}
		}
		return false
	}
}
