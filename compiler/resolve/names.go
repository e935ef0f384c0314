package resolve

import (
	"slices"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// token is a word or a mark of punctuation of a tag, with its bytes in the tag's text.
type token struct {
	text       string // folded
	start, end int
	punct      bool
}

// tokens cuts text into words and punctuation. A hyphen between letters parts words, so that "end-cover" is "end cover";
// a point or comma inside a figure belongs to it.
func tokens(s string) []token {
	if s == "" {
		return nil
	}
	all := make([]token, 0, 4+len(s)/8)
	for i := 0; i < len(s); {
		r, n := runeAt(s, i)
		switch {
		case isGap(r) || r == '-' && i > 0:
			i += n
			continue
		case punctuation(r) || r == '.':
			all = append(all, token{s[i : i+n], i, i + n, true})
			i += n
			continue
		}
		start := i
		for i < len(s) {
			r, n := runeAt(s, i)
			if isGap(r) || r == '-' && i > start || punctuation(r) {
				break
			}
			if r == '.' && !(i > start && isDigit(s[i-1]) && i+1 < len(s) && isDigit(s[i+1])) {
				break
			}
			i += n
		}
		if word := procedure.Fold(s[start:i]); word != "" { // a lone hyphen is no word
			all = append(all, token{word, start, i, false})
		}
	}
	return all
}

func runeAt(s string, i int) (rune, int) {
	if s[i] < utf8.RuneSelf {
		return rune(s[i]), 1
	}
	return utf8.DecodeRuneInString(s[i:])
}

// isGap tells whether a rune parts words; so does a hyphen inside one.
func isGap(r rune) bool { return r == ' ' || r == '‑' || unicode.IsSpace(r) }

// punctuation tells whether a rune is a mark of its own; a point inside a figure is none.
func punctuation(r rune) bool {
	switch r {
	case ',', ';', ':', '(', ')', '!', '?', '"':
		return true
	}
	return false
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// entry is one form of a declared name.
type entry struct {
	words  []string
	plural bool // this form is the plural, and differs from the singular
	part   *procedure.Part
	supply *procedure.Supply
	tool   *procedure.Tool
}

// dictionary finds declared names, the longest first.
type dictionary struct {
	first    map[string][]entry
	parts    []string // names as typed, for the nearest one
	supplies []string
	tools    []string
}

func newDictionary(p *procedure.Procedure) *dictionary {
	d := &dictionary{first: map[string][]entry{}}
	for _, x := range p.Parts {
		d.add(x.Name.Value, entry{part: x})
		d.parts = append(d.parts, x.Name.Value)
	}
	for _, x := range p.Supplies {
		d.add(x.Name.Value, entry{supply: x})
		d.supplies = append(d.supplies, x.Name.Value)
	}
	for _, x := range p.Tools {
		for _, c := range x.Choices {
			d.add(c.Name, entry{tool: x})
			d.tools = append(d.tools, c.Name)
		}
	}
	for _, list := range d.first {
		sort.SliceStable(list, func(a, b int) bool { return len(list[a].words) > len(list[b].words) })
	}
	return d
}

// add puts a name in with its plurals; two rows of one name (for variants apart) share the first row's entry.
func (d *dictionary) add(name string, e entry) {
	forms := []string{name}
	plural := procedure.Plural(name)
	if procedure.Fold(plural) != procedure.Fold(name) {
		forms = append(forms, plural)
	}
	if more := looseVes(name); more != "" {
		forms = append(forms, more)
	}
	for i, form := range forms {
		e.plural = i > 0
		e.words = nil
		for _, t := range tokens(form) {
			e.words = append(e.words, t.text)
		}
		if len(e.words) == 0 {
			return
		}
		if e.part != nil && d.taken(e) {
			continue
		}
		d.first[e.words[0]] = append(d.first[e.words[0]], e)
	}
}

// looseVes gives the other plural of a name in f, which some write: "cuffs", "roofs", "rooves".
func looseVes(name string) string {
	low := strings.ToLower(name)
	if !strings.HasSuffix(low, "f") || strings.HasSuffix(low, "ff") {
		return ""
	}
	if strings.HasSuffix(procedure.Plural(low), "ves") {
		return name + "s"
	}
	return name[:len(name)-1] + "ves"
}

func (d *dictionary) taken(e entry) bool {
	for _, o := range d.first[e.words[0]] {
		if o.part != nil && slices.Equal(o.words, e.words) {
			return true
		}
	}
	return false
}

// match finds the longest declared name that begins at token i. Parts go before supplies, supplies before tools.
func (d *dictionary) match(t []token, i int, fits func(entry) bool) (entry, int) {
	if i >= len(t) {
		return entry{}, 0
	}
	for _, e := range d.first[t[i].text] {
		if len(t)-i < len(e.words) || !fits(e) {
			continue
		}
		same := true
		for k, w := range e.words {
			if t[i+k].text != w {
				same = false
				break
			}
		}
		if same {
			return e, len(e.words)
		}
	}
	return entry{}, 0
}

// near offers the declared name that a phrase was probably meant to be: nearly spelt so, or with the same last word.
func near(phrase string, names []string) string {
	forms := make([]string, 0, 2*len(names))
	for _, n := range names {
		forms = append(forms, n, procedure.Plural(n))
	}
	if found := verb.Near(procedure.Fold(phrase), forms); found != "" {
		return found
	}
	words := strings.Fields(procedure.Fold(phrase))
	for k := len(words) - 1; k >= 0; k-- {
		if len(words[k]) < 4 {
			continue
		}
		for _, n := range names {
			for _, w := range strings.Fields(procedure.Fold(n)) {
				if w == words[k] || procedure.Plural(w) == words[k] {
					return n
				}
			}
		}
	}
	return ""
}

// numberWords are the counts that may be written as words.
var numberWords = map[string]int{
	"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
}

// countOf reads a count: digits, or one to twelve.
func countOf(s string) (int, bool) {
	if n, ok := numberWords[s]; ok {
		return n, true
	}
	n := 0
	for i := range len(s) {
		if !isDigit(s[i]) || i > 5 {
			return 0, false
		}
		n = n*10 + int(s[i]-'0')
	}
	return n, s != ""
}

var prepositions = set("in on from to at by with of through over under for against into onto until")

var stops = set("a an the one half so while as again first last back up down out off away together crosswise hand finger then or")

func set(words string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(words) {
		m[w] = true
	}
	return m
}

// boundary tells whether a token ends a name: a preposition, a stop word, an adverb, or "hand-tight".
func boundary(t []token, i int, first bool) bool {
	w := t[i].text
	if prepositions[w] {
		return true
	}
	if len(w) > 3 && strings.HasSuffix(w, "ly") && !first {
		return true
	}
	if (w == "hand" || w == "finger") && !(i+1 < len(t) && t[i+1].text == "tight") {
		return false
	}
	return stops[w] && !first
}

// singular makes the last word of a free name singular, so that "both faces" and "the face" are one thing.
func singular(name string) string {
	cut := strings.LastIndexByte(name, ' ') + 1
	w := name[cut:]
	for one, many := range map[string]string{"foot": "feet", "tooth": "teeth"} {
		if w == many {
			return name[:cut] + one
		}
	}
	switch {
	case len(w) > 4 && strings.HasSuffix(w, "ies"):
		w = w[:len(w)-3] + "y"
	case len(w) > 4 && (strings.HasSuffix(w, "xes") || strings.HasSuffix(w, "ches") || strings.HasSuffix(w, "shes") || strings.HasSuffix(w, "sses")):
		w = w[:len(w)-2]
	case len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") && !strings.HasSuffix(w, "us") && !strings.HasSuffix(w, "is"):
		w = w[:len(w)-1]
	}
	return name[:cut] + w
}
