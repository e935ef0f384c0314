package rules

import (
	"slices"
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
	fixes := Spell(at, written, meant, nil)
	was, is := procedure.Fold(written), procedure.Fold(meant)
	for i := range fixes {
		fixes[i].Safe = slip(was, is, names) && (workshopWord(differing(is, was)) || j.uses(was) == 1 && j.uses(is) > 1)
	}
	return fixes
}

// vocabulary is what the names of a job are looked up in, made when a rule first asks for it.
type vocabulary struct {
	parts, supplies, tools []string          // singular and plural, folded
	singular               map[string]string // by the plural, both folded
	text                   string            // of all files of the job, folded
	counts                 map[string]int    // how often a name stands in the text
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
		v.parts = both(v.parts, p.Name.Value)
	}
	for _, s := range j.Proc.Supplies {
		v.supplies = both(v.supplies, s.Name.Value)
	}
	for _, t := range j.Proc.Tools {
		for _, c := range t.Choices {
			v.tools = both(v.tools, c.Name)
		}
	}
	var texts []string
	for _, t := range j.Trees {
		texts = append(texts, procedure.Fold(string(t.File.Text)))
	}
	v.text = strings.Join(texts, "\n")
	j.words = v
	return v
}

// PartNames lists what an act can be done to, singular and plural, folded, as SpellName takes them.
func (j *Job) PartNames() []string { return slices.Clip(j.vocabulary().parts) }

// SupplyNames lists the supplies likewise.
func (j *Job) SupplyNames() []string { return j.vocabulary().supplies }

// ToolNames lists the tools likewise, each side of an "or" by itself.
func (j *Job) ToolNames() []string { return j.vocabulary().tools }

// uses counts how often a name, folded, singular or plural, stands in the files of the job.
func (j *Job) uses(one string) int {
	v := j.vocabulary()
	if singular, ok := v.singular[one]; ok {
		one = singular
	}
	n, ok := v.counts[one]
	if !ok {
		n = wholeWords(v.text, one) + wholeWords(v.text, procedure.Fold(procedure.Plural(one)))
		v.counts[one] = n
	}
	return n
}

func wholeWords(text, words string) int {
	count, part := 0, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	for at := 0; words != ""; {
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
