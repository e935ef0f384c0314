package wording

import (
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// clause is the start of a clause in the plain text of a step: what may be an order.
type clause struct {
	text string // from the start of the clause to the end of its piece of text
	span source.Span
	step int
	next *procedure.Act // the tag that follows the piece at once, nil when none does
}

// at is the place of the first words of the clause.
func (c clause) at(words string) source.Span {
	return c.span.File.At(c.span.Start, c.span.Start+len(words))
}

// offer is the act as it would stand in a tag: the words up to the end of the thing, with a verb of the language.
func (c clause) offer(word, object string) string {
	verb := strings.ToLower(word)
	switch verb {
	case "take off", "undo", "unscrew", "unbolt":
		verb = "remove"
	case "put back", "screw in", "screw on":
		verb = "install"
	}
	rest := clauseWords(c.text[len(word):])
	if strings.Contains(rest, object) {
		return verb + rest
	}
	return verb + " the " + object
}

// clauseWords cuts what is said of a tool, and what follows the sentence, off a clause.
func clauseWords(s string) string {
	for i := range s {
		stop := strings.ContainsRune(";:!", rune(s[i])) || s[i] == '.' && (i+1 == len(s) || s[i+1] == ' ')
		if stop || strings.HasPrefix(s[i:], " with ") || strings.HasPrefix(s[i:], ", then ") {
			return s[:i]
		}
	}
	return strings.TrimRight(s, " ,")
}

// eachClause visits the clauses outside tags that begin with a verb which changes the machine: at the start of a step, behind a
// stop, behind a comma, "and" or "then".
func eachClause(j *rules.Job, visit func(c clause, verb string)) {
	var lost map[*rules.Passage]bool
	steps := j.Steps()
	for i := range steps {
		s := &steps[i]
		if !plainOrder.On(j, s.Passage) {
			continue
		}
		if lost = unreadPassages.Of(j); !lost[s.Passage] {
			clausesOf(j, s.Passage, visit)
		}
	}
}

// plainOrder marks the passages that have such a clause: few do.
var plainOrder = rules.NewMark(func(j *rules.Job, p *rules.Passage) (found bool) {
	clausesOf(j, p, func(clause, string) { found = true })
	return found
})

// clausesOf visits those of one passage.
func clausesOf(j *rules.Job, p *rules.Passage, visit func(c clause, verb string)) {
	fresh := true // a clause may begin here
	for i := range p.Spoken {
		r := &p.Spoken[i]
		if r.Act != nil || r.Step != nil || r.Code || r.End {
			fresh = r.End
			continue
		}
		var next *procedure.Act
		if i+1 < len(p.Spoken) {
			next = p.Spoken[i+1].Act
		}
		starts := clauseStarts{text: r.Text, fresh: fresh}
		for from := starts.next(); from >= 0; from = starts.next() {
			verb := changing(r.Text[from:], j.Verbs)
			if verb == "" {
				continue
			}
			if !r.Exact() {
				break // escapes: places can't be trusted
			}
			if !joined(r.Text[:from]) {
				visit(clause{r.Text[from:], r.At.File.At(r.At.Start+from, r.At.End), p.Within, next}, verb)
			}
		}
		fresh = ends(r.Text)
	}
}

// unreadPassages are what those steps say of which a tag could not be read: what looks like plain text there may be its words.
var unreadPassages = rules.NewFact(func(j *rules.Job) map[*rules.Passage]bool {
	faults := slices.Concat(j.Named("tag/unclosed"), j.Named("tag/hidden"))
	if len(faults) == 0 {
		return nil
	}
	lost := map[*rules.Passage]bool{}
	for _, s := range j.Steps() {
		if slices.ContainsFunc(faults, func(f source.Fault) bool { return s.At.Holds(f.At) }) {
			lost[s.Passage] = true
		}
	}
	return lost
})

// unreadSteps gives the numbers of the steps with such a tag.
func unreadSteps(j *rules.Job) map[int]bool {
	numbers := map[int]bool{}
	for p := range unreadPassages.Of(j) {
		numbers[p.Within] = true
	}
	return numbers
}

func ends(s string) bool {
	s = strings.TrimRight(s, " ")
	return s == "" || strings.ContainsRune(".;:!,", rune(s[len(s)-1])) || strings.HasSuffix(s, " then") || strings.HasSuffix(s, " and")
}

// clauseStarts gives the offsets at which the clauses of a text begin.
type clauseStarts struct {
	text  string
	at    int
	fresh bool // a clause may begin at the next word
}

// next gives the next offset, -1 when there is none.
func (c *clauseStarts) next() int {
	for c.at < len(c.text) {
		c.skip()
		start := c.at
		found := c.fresh && start < len(c.text)
		c.fresh = false
		c.word()
		if found {
			return start
		}
	}
	return -1
}

// skip passes over what stands between two clauses.
func (c *clauseStarts) skip() {
	s := c.text
	for c.at < len(s) && (s[c.at] == ' ' || s[c.at] == '.' || s[c.at] == ',' || s[c.at] == ';' || s[c.at] == ':' || s[c.at] == '!') {
		c.fresh = c.fresh || s[c.at] != ' '
		c.at++
	}
	if c.at == len(s) || s[c.at]|0x20 != 't' && s[c.at]|0x20 != 'n' && s[c.at] != 'a' {
		return
	}
	for _, w := range [...]string{"then ", "and ", "now ", "Then ", "Now "} {
		if strings.HasPrefix(s[c.at:], w) {
			c.at += len(w)
			c.fresh = true
		}
	}
}

// word passes over a word.
func (c *clauseStarts) word() {
	s := c.text
	for c.at < len(s) && s[c.at] != ' ' && s[c.at] != '.' && s[c.at] != ',' && s[c.at] != ';' && s[c.at] != ':' {
		c.at++
	}
	if c.at+1 < len(s) && s[c.at] == '.' && s[c.at+1] != ' ' { // a point inside a figure
		c.at++
	}
}

// plain are verbs that change the machine and are no verbs of the language.
var plain = []string{"take off", "put back", "undo", "unscrew", "screw in", "screw on", "unbolt"}

// unclear are verbs that are nouns or adjectives too: "lower bearing", "drain plug". They need an article or a count behind them.
var unclear = map[string]bool{
	"lower": true, "drain": true, "open": true, "cap": true, "support": true, "close": true, "release": true, "fill": true, "torque": true,
	"snug": true, "insert": true, "lift": true, "fit": true, "isolate": false, "relieve": false, "shut": true, "connect": false,
}

// hidden tells whether the clause, which begins with a verb, orders a change to something that the compiler follows; it gives the
// thing.
func (c clause) hidden(j *rules.Job, word string) (object string, ok bool) {
	marked := false
	rest := strings.Fields(c.text[len(word):])
	if v, n, bad := quantity.Prefix(strings.Join(rest, " ")); n > 0 && bad == nil && v.Unit.Kind == quantity.Volume { // "drain 0.3 L of mixer oil"
		marked, rest = true, strings.Fields(strings.TrimPrefix(strings.TrimSpace(strings.Join(rest, " ")[n:]), "of "))
	}
	for len(rest) > 0 && isMark(strings.ToLower(rest[0])) {
		marked, rest = true, rest[1:]
	}
	if unclear[strings.ToLower(word)] && !marked {
		return "", false
	}
	if len(rest) == 0 {
		if c.next != nil && c.next.Verb.Effect == verb.Speak && len(c.next.Objects) > 0 {
			return c.next.Objects[0].Typed, true
		}
		return "", false
	}
	for n := min(len(rest), 5); n > 0; n-- {
		name := strings.Trim(strings.Join(rest[:n], " "), ".,;:()")
		stop := n == len(rest) || strings.ContainsAny(rest[n-1][len(rest[n-1])-1:], ".,;:)") || boundary(strings.Trim(strings.ToLower(rest[n]), ".,;:()"))
		if stop && knownThings.Of(j)[procedure.Fold(name)] {
			return name, true
		}
	}
	return "", false
}

// changing gives the state-changing verb that a text opens with, as typed.
func changing(text string, verbs *verb.Table) string {
	n := 0
	for _, p := range plain {
		if len(text) > len(p) && text[len(p)] == ' ' && strings.EqualFold(text[:len(p)], p) {
			n = len(p)
			break
		}
	}
	if n == 0 {
		v, long := verbs.Longest(text)
		if v == nil || !v.Changes {
			return ""
		}
		n = long
	}
	if len(strings.ToLower(text)) != len(text) {
		return ""
	}
	return text[:n]
}

func isMark(w string) bool {
	switch w {
	case "the", "a", "an", "its", "new", "old", "all", "both", "each", "every", "other", "remaining", "of",
		"one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve":
		return true
	}
	return w != "" && strings.Trim(w, "0123456789") == ""
}

func boundary(w string) bool {
	switch w {
	case "in", "on", "from", "to", "at", "by", "with", "of", "through", "over", "under", "for", "against", "into", "onto", "until", "and",
		"then", "or", "again", "off", "back", "out", "up", "down", "while", "so", "as", "first", "by-hand", "a", "an", "the", "one",
		"half", "last", "away", "together", "crosswise", "hand-tight", "finger-tight":
		return true
	}
	return strings.HasSuffix(w, "ly")
}

// knownThings are the names that are declared or that a tag acts on, singular and plural.
var knownThings = rules.NewFact(func(j *rules.Job) map[string]bool {
	known := map[string]bool{}
	add := func(name string) {
		known[procedure.Fold(name)] = true
		known[procedure.Fold(procedure.Plural(name))] = true
	}
	for _, p := range j.Proc.Parts {
		add(p.Name.Value)
	}
	for _, s := range j.Proc.Supplies {
		add(s.Name.Value)
	}
	for _, a := range j.Acts() {
		if a.Verb.Changes && a.Verb.Takes == verb.Anything {
			for _, o := range a.Objects {
				if o.Tool == nil {
					add(o.Name)
				}
			}
		}
	}
	return known
})
