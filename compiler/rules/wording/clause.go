package wording

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// clause is the start of a clause in the plain text of a step: what may be an order.
type clause struct {
	text  string // from the start of the clause to the end of its piece of text
	span  source.Span
	step  int
	next  *procedure.Act // the tag that follows the piece at once, nil when none does
	verbs *verb.Table
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

// eachClause visits the clauses outside tags: at the start of a step, behind a stop, behind a comma, "and" or "then".
func eachClause(j *rules.Job, visit func(clause)) {
	j.EachStep(func(s *procedure.Step) {
		if unread(j, s) {
			return
		}
		fresh := true // a clause may begin here
		for i, r := range s.Runs {
			if r.Act != nil || r.Step != nil || r.Code || r.End {
				fresh = r.End
				continue
			}
			var next *procedure.Act
			if i+1 < len(s.Runs) {
				next = s.Runs[i+1].Act
			}
			if !r.Exact() {
				fresh = ends(r.Text)
				continue // escapes: places can't be trusted
			}
			for _, from := range starts(r.Text, fresh) {
				if joined(r.Text[:from]) {
					continue
				}
				visit(clause{r.Text[from:], r.At.File.At(r.At.Start+from, r.At.End), s.Number, next, j.Verbs})
			}
			fresh = ends(r.Text)
		}
	})
}

// unread tells whether a tag of the step could not be read: what looks like plain text there may be its words.
func unread(j *rules.Job, s *procedure.Step) bool {
	for _, name := range []string{"tag/unclosed", "tag/hidden"} {
		for _, f := range j.Named(name) {
			if s.At.Holds(f.At) {
				return true
			}
		}
	}
	return false
}

// unreadSteps gives the numbers of the steps with such a tag.
func unreadSteps(j *rules.Job) map[int]bool {
	lost := map[int]bool{}
	j.EachStep(func(s *procedure.Step) {
		if unread(j, s) {
			lost[s.Number] = true
		}
	})
	return lost
}

func ends(s string) bool {
	s = strings.TrimRight(s, " ")
	return s == "" || strings.ContainsRune(".;:!,", rune(s[len(s)-1])) || strings.HasSuffix(s, " then") || strings.HasSuffix(s, " and")
}

// starts gives the offsets at which a clause begins.
func starts(s string, fresh bool) []int {
	var at []int
	i := 0
	skip := func() {
		for i < len(s) && (s[i] == ' ' || s[i] == '.' || s[i] == ',' || s[i] == ';' || s[i] == ':' || s[i] == '!') {
			fresh = fresh || s[i] != ' '
			i++
		}
		for _, w := range []string{"then ", "and ", "now ", "Then ", "Now "} {
			if strings.HasPrefix(s[i:], w) {
				i += len(w)
				fresh = true
			}
		}
	}
	for i < len(s) {
		skip()
		if i < len(s) && fresh {
			at = append(at, i)
		}
		fresh = false
		for i < len(s) && s[i] != ' ' && s[i] != '.' && s[i] != ',' && s[i] != ';' && s[i] != ':' {
			i++
		}
		if i+1 < len(s) && s[i] == '.' && s[i+1] != ' ' { // a point inside a figure
			i++
		}
	}
	return at
}

// plain are verbs that change the machine and are no verbs of the language.
var plain = []string{"take off", "put back", "undo", "unscrew", "screw in", "screw on", "unbolt"}

// unclear are verbs that are nouns or adjectives too: "lower bearing", "drain plug". They need an article or a count behind them.
var unclear = map[string]bool{
	"lower": true, "drain": true, "open": true, "cap": true, "support": true, "close": true, "release": true, "fill": true, "torque": true,
	"snug": true, "insert": true, "lift": true, "fit": true, "isolate": false, "relieve": false, "shut": true, "connect": false,
}

// hidden tells whether the clause orders a change to something that the compiler follows; it gives the verb as typed and the thing.
func (c clause) hidden(j *rules.Job) (word, object string, ok bool) {
	word = c.verb()
	if word == "" {
		return "", "", false
	}
	marked := false
	rest := strings.Fields(c.text[len(word):])
	if v, n, bad := quantity.Prefix(strings.Join(rest, " ")); n > 0 && bad == nil && v.Unit.Kind == quantity.Volume { // "drain 0.3 L of mixer oil"
		marked, rest = true, strings.Fields(strings.TrimPrefix(strings.TrimSpace(strings.Join(rest, " ")[n:]), "of "))
	}
	for len(rest) > 0 && isMark(strings.ToLower(rest[0])) {
		marked, rest = true, rest[1:]
	}
	if unclear[strings.ToLower(word)] && !marked {
		return "", "", false
	}
	if len(rest) == 0 {
		if c.next != nil && c.next.Verb.Effect == verb.Speak && len(c.next.Objects) > 0 {
			return word, c.next.Objects[0].Typed, true
		}
		return "", "", false
	}
	for n := min(len(rest), 5); n > 0; n-- {
		name := strings.Trim(strings.Join(rest[:n], " "), ".,;:()")
		stop := n == len(rest) || strings.ContainsAny(rest[n-1][len(rest[n-1])-1:], ".,;:)") || boundary(strings.Trim(strings.ToLower(rest[n]), ".,;:()"))
		if stop && knownThings.Of(j)[procedure.Fold(name)] {
			return word, name, true
		}
	}
	return "", "", false
}

// verb gives the state-changing verb that the clause opens with, as typed.
func (c clause) verb() string {
	low := strings.ToLower(c.text)
	if len(low) != len(c.text) {
		return ""
	}
	for _, p := range plain {
		if strings.HasPrefix(low, p+" ") {
			return c.text[:len(p)]
		}
	}
	v, n := c.verbs.Longest(c.text)
	if v == nil || !v.Changes {
		return ""
	}
	return c.text[:n]
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
	j.EachAct(func(a *procedure.Act) {
		if a.Verb.Changes && a.Verb.Takes == verb.Anything {
			for _, o := range a.Objects {
				if o.Tool == nil {
					add(o.Name)
				}
			}
		}
	})
	return known
})
