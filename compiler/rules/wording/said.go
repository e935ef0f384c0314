package wording

import (
	"bytes"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"refitcard/compiler/procedure"
	"refitcard/compiler/prose"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// said is one paragraph as it is read: the words of its tags among the others. In plain the declared names, the objects and
// values of tags and code are masked, each as one word of the same length, so that nothing in a name is taken for grammar.
type said struct {
	procedure.Joined
	text, plain string
	passage     *rules.Passage
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

// eachSaid visits the paragraphs of steps that may hold one of some phrases; with nil for them all paragraphs, those of notes and
// messages too. The introduction is read sitting down, before the job. wants looks at the bare text first: masking is the dear
// part.
func eachSaid(j *rules.Job, phrases *rules.Phrases, wants func(p *rules.Passage, text string) bool, visit func(*said)) {
	passages, lost := j.Passages(), unreadPassages.Of(j)
	for i := range passages {
		p := &passages[i]
		switch {
		case p.Kind == rules.Introducing, p.Head, lost[p], phrases != nil && (p.Kind != rules.Instructing || !phrases.MayBeIn(p)):
			continue
		}
		eachText(p, func(runs []procedure.Run, text string) {
			if wants(p, text) {
				s := &said{text: text, passage: p}
				s.mask(j, runs)
				visit(s)
			}
		})
	}
}

// eachText visits the paragraphs of a passage.
func eachText(p *rules.Passage, visit func(runs []procedure.Run, text string)) {
	if p.Lines {
		eachParagraph(p, visit)
	} else if p.Text != "" {
		visit(p.Spoken, p.Text)
	}
}

// eachParagraph cuts a passage at the ends of paragraphs.
func eachParagraph(p *rules.Passage, visit func(runs []procedure.Run, text string)) {
	text, first, at := 0, 0, 0
	for i := range p.Spoken {
		if p.Spoken[i].End && softEnd(p.Text[text:at]) {
			if at > text {
				visit(p.Spoken[first:i], p.Text[text:at])
			}
			text, first = at+1, i+1
		}
		at += len(p.Spoken[i].Read())
	}
	if at > text {
		visit(p.Spoken[first:], p.Text[text:])
	}
}

// mask fills in what reading the paragraph for its grammar needs.
func (s *said) mask(j *rules.Job, runs []procedure.Run) {
	names := declaredNames.Of(j)
	from := make([]int, len(runs))
	var b strings.Builder
	b.Grow(len(s.text))
	for i, run := range runs {
		from[i] = b.Len()
		text := run.Read()
		b.WriteString(names.masked(run, text))
		if run.Act != nil && text != "" && (len(s.acts) == 0 || s.acts[len(s.acts)-1] != run.Act) {
			s.acts = append(s.acts, run.Act)
		}
	}
	s.plain, s.Joined = b.String(), procedure.NewJoined(runs, from)
}

// softEnd tells whether a paragraph that ends here is one: a line end inside a sentence is a space.
func softEnd(text string) bool {
	text = strings.TrimRight(text, " ")
	return text == "" || strings.ContainsRune(".!?:;)", rune(text[len(text)-1]))
}

func (l *nameList) masked(run procedure.Run, text string) string {
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

// nameList is the declared names, singular and plural, as folded words.
type nameList struct {
	names  []declaredName
	first  map[string]int // by their first word: where the longest name stands in names, from 1
	places []place        // of the words of the text at hand
}

type declaredName struct {
	words []string
	next  int // the next shorter one that begins alike, from 1; 0 for none
}

// place is where a word stands.
type place struct {
	word     string // in small letters
	from, to int
}

var declaredNames = rules.NewFact(func(j *rules.Job) *nameList {
	forms := 2 * (len(j.Proc.Parts) + len(j.Proc.Supplies) + len(j.Proc.Tools))
	l := &nameList{names: make([]declaredName, 0, forms), first: make(map[string]int, forms)}
	words := make([]string, 0, 2*forms) // of all names
	add := func(name string) {
		for _, form := range [2]string{name, procedure.Plural(name)} {
			from := len(words)
			for w := range strings.FieldsSeq(procedure.Fold(form)) {
				words = append(words, w)
			}
			l.add(words[from:len(words):len(words)])
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

// add puts a name behind those that begin alike and are as long.
func (l *nameList) add(words []string) {
	if len(words) == 0 {
		return
	}
	before, at := 0, l.first[words[0]]
	for at > 0 && len(l.names[at-1].words) >= len(words) {
		before, at = at, l.names[at-1].next
	}
	l.names = append(l.names, declaredName{words, at})
	if before == 0 {
		l.first[words[0]] = len(l.names)
	} else {
		l.names[before-1].next = len(l.names)
	}
}

// mask masks the declared names in a text.
func (l *nameList) mask(text string) string {
	l.split(text)
	var out []byte
	for i := 0; i < len(l.places); i++ {
		n := l.nameAt(text, i)
		if n == 0 {
			continue
		}
		if out == nil {
			out = []byte(text)
		}
		for k := l.places[i].from; k < l.places[i+n-1].to; k++ {
			out[k] = prose.MaskByte
		}
		i += n - 1
	}
	if out == nil {
		return text
	}
	return string(out)
}

// nameAt tells how many words from the i-th on are a declared name.
func (l *nameList) nameAt(text string, i int) int {
	for at := l.first[l.places[i].word]; at > 0; at = l.names[at-1].next {
		name, n := l.names[at-1].words, 0
		for n < len(name) && i+n < len(l.places) && l.places[i+n].word == name[n] &&
			(n == 0 || strings.Trim(text[l.places[i+n-1].to:l.places[i+n].from], " -‑\u00a0") == "") {
			n++
		}
		if n == len(name) {
			return n
		}
	}
	return 0
}

// split finds the words of a text.
func (l *nameList) split(text string) {
	l.places = l.places[:0]
	for i := 0; i < len(text); {
		n, wordy := letterAt(text, i)
		if !wordy {
			i += n
			continue
		}
		start := i
		for i < len(text) {
			n, wordy := letterAt(text, i)
			if !wordy && text[i] != '/' {
				break
			}
			i += n
		}
		l.places = append(l.places, place{strings.ToLower(text[start:i]), start, i})
	}
}

// letterAt gives the length of the character at i, and tells whether it is a letter or a digit.
func letterAt(text string, i int) (n int, wordy bool) {
	if c := text[i]; c < utf8.RuneSelf {
		return 1, letter(c) || '0' <= c && c <= '9'
	}
	r, n := utf8.DecodeRuneInString(text[i:])
	return n, unicode.IsLetter(r) || unicode.IsDigit(r)
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

// mentions tells whether a text has any of some words.
func mentions(text string, any []string) bool {
	return slices.ContainsFunc(any, func(w string) bool { return strings.Contains(text, w) })
}
