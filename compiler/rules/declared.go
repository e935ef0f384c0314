package rules

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

// SpellName is Spell for a declared name. The slip may as well be in the declaration: so the fix is safe only where the word in
// question is one that a workshop knows, or the name is used elsewhere as it is declared, and the other spelling stands alone.
func (j *Job) SpellName(at source.Span, written, meant string, names []string) []diag.Fix {
	fixes := spelled(at, written, cased(at, meant))
	was, is := procedure.Fold(written), procedure.Fold(meant)
	for i := range fixes {
		fixes[i].Safe = slip(was, is, names) && (workshopWord(differing(is, was)) || j.uses(is) > 1 && j.uses(was) == 1)
	}
	return fixes
}

// vocabulary is what the names of a job are looked up in, made when a rule first asks for it.
type vocabulary struct {
	things   []string          // parts, then supplies: singular and plural, folded
	parts    int               // so many of things are parts
	tools    []string          // likewise
	singular map[string]string // by the plural, both folded
	text     string            // of all files of the job, folded, when a name was first looked for in it
	counts   map[string]int    // how often a name stands in the text: see uses
}

func (j *Job) vocabulary() *vocabulary {
	if j.words != nil {
		return j.words
	}
	v := &vocabulary{singular: map[string]string{}, counts: map[string]int{}}
	both := func(list []string, name string) []string {
		one, many := procedure.Fold(name), procedure.Fold(procedure.Plural(name))
		v.singular[many] = one
		return append(list, one, many)
	}
	for _, p := range j.Proc.Parts {
		v.things = both(v.things, p.Name.Value)
	}
	v.parts = len(v.things)
	for _, s := range j.Proc.Supplies {
		v.things = both(v.things, s.Name.Value)
	}
	for _, t := range j.Proc.Tools {
		for _, c := range t.Choices {
			v.tools = both(v.tools, c.Name)
		}
	}
	j.words = v
	return v
}

// ThingNames lists what an act can be done to, parts and supplies, singular and plural, folded, as SpellName takes them.
func (j *Job) ThingNames() []string { return j.vocabulary().things }

// SupplyNames lists the supplies likewise.
func (j *Job) SupplyNames() []string { return j.vocabulary().things[j.words.parts:] }

// ToolNames lists the tools likewise, each side of an "or" by itself.
func (j *Job) ToolNames() []string { return j.vocabulary().tools }

// uses counts how often a name, folded, singular or plural, stands in the files of the job. More than once is twice.
func (j *Job) uses(one string) int {
	v := j.vocabulary()
	if singular, ok := v.singular[one]; ok {
		one = singular
	}
	n, ok := v.counts[one]
	if !ok {
		if v.text == "" {
			v.text = j.folded()
		}
		if n = wholeWords(v.text, one, 2); n < 2 {
			n += wholeWords(v.text, procedure.Fold(procedure.Plural(one)), 2)
		}
		v.counts[one] = n
	}
	return n
}

// folded gives the text of all files, each as procedure.Fold gives it; but each letter is looked at once.
func (j *Job) folded() string {
	size := 0
	for _, t := range j.Trees {
		size += len(t.File.Text) + 1
	}
	out := make([]byte, 0, size)
	for _, t := range j.Trees {
		out = append(appendFolded(out, string(t.File.Text)), '\n')
	}
	return string(out)
}

// appendFolded folds a text word by word: only words with letters beyond ASCII need more than small letters.
func appendFolded(out []byte, text string) []byte {
	begun := len(out)
	for at := 0; at < len(text); {
		if separates(text[at]) {
			at++
			continue
		}
		from, wide := at, false
		for at < len(text) && !separates(text[at]) {
			wide = wide || text[at] >= utf8.RuneSelf
			at++
		}
		word := text[from:at]
		if wide {
			if word = procedure.Fold(word); word == "" {
				continue
			}
		}
		if len(out) > begun {
			out = append(out, ' ')
		}
		if wide {
			out = append(out, word...)
			continue
		}
		for i := range len(word) {
			c := word[i]
			if 'A' <= c && c <= 'Z' {
				c += 'a' - 'A'
			}
			out = append(out, c)
		}
	}
	return out
}

// separates tells whether a byte of ASCII stands between two words of a name.
func separates(c byte) bool { return c == ' ' || c == '-' || '\t' <= c && c <= '\r' }

// wholeWords counts how often some words stand in a text, but not beyond most.
func wholeWords(text, words string, most int) int {
	count, part := 0, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	for at := 0; words != "" && count < most; {
		i := strings.Index(text[at:], words)
		if i < 0 {
			break
		}
		before, _ := utf8.DecodeLastRuneInString(text[:at+i])
		after, _ := utf8.DecodeRuneInString(text[at+i+len(words):])
		if !part(before) && !part(after) {
			count++
		}
		at += i + len(words)
	}
	return count
}
