package wording

import (
	"fmt"
	"strings"
	"sync"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// synonyms are words that a workshop uses for one kind of thing. Common practice, no source.
var synonyms = [][]string{
	{"circlip", "snap ring", "retaining ring"},
	{"split pin", "cotter pin"},
	{"grub screw", "set screw", "setscrew"},
	{"hose clip", "hose clamp"},
	{"grease nipple", "grease fitting"},
	{"earth strap", "ground strap"},
	{"tab washer", "lock tab"},
	{"check valve", "non return valve", "one way valve"},
	{"lip seal", "oil seal"},
	{"bush", "bushing"},
	{"spring washer", "split washer"},
	{"filler plug", "fill plug"},
	{"dowel", "locating pin"},
	{"petrol", "gasoline"},
	{"hex key", "allen key"},
	{"wrench", "spanner"},
	{"isolator", "disconnect switch"},
}

var twoNames = rules.Rule{
	Name:     "wording/two-names",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, pair := range pairs(j, doubled(j)) {
			if f, ok := secondName(j, pair); ok {
				all = append(all, f)
			}
		}
		if len(all) > 0 && !twice(j) {
			return nil
		}
		return all
	},
}

// twice tells whether two words of one group stand in the text at all.
func twice(j *rules.Job) bool {
	for _, group := range synonyms {
		n := 0
		for _, word := range group {
			if written(j, word[1:], strings.ReplaceAll(word[1:], " ", "-")) {
				n++
			}
		}
		if n > 1 {
			return true
		}
	}
	for _, w := range joints {
		if written(j, w.one[1:]) && written(j, w.two[1:], strings.Replace(w.two[1:], " ", "-", 1)) {
			return true
		}
	}
	return false
}

// thing is a declared thing.
type thing struct {
	name   string
	at     source.Span
	groups uint64 // of synonyms, then of joints: those that one has in which a word ends like its name
}

// doubled lists the declared things whose name ends in a word that has a synonym, or that is written as one or as two.
func doubled(j *rules.Job) []thing {
	var all []thing
	last := lastWords()
	add := func(name string, at source.Span) {
		folded := procedure.Fold(name)
		if groups := last[folded[strings.LastIndexByte(folded, ' ')+1:]]; groups != 0 {
			all = append(all, thing{folded, at, groups})
		}
	}
	for _, p := range j.Proc.Parts {
		add(p.Name.Value, p.Name.At)
	}
	for _, s := range j.Proc.Supplies {
		add(s.Name.Value, s.Name.At)
	}
	for _, t := range j.Proc.Tools {
		for _, c := range t.Choices {
			add(c.Name, c.NameAt)
		}
	}
	return all
}

// lastWords are the last words of all synonyms and joints, with the groups that they stand in.
var lastWords = sync.OnceValue(func() map[string]uint64 {
	last := map[string]uint64{}
	add := func(word string, group int) { last[word[strings.LastIndexByte(word, ' ')+1:]] |= 1 << group }
	for i, group := range synonyms {
		for _, word := range group {
			add(word, i)
		}
	}
	for i, w := range joints {
		add(w.one, len(synonyms)+i)
		add(w.two, len(synonyms)+i)
	}
	return last
})

// pair is a declared thing with another word for it that the procedure seems to use.
type pair struct {
	thing thing
	other string // the other word, in lower case
}

// pairs gives the other words for things that are the only ones of their kind, and only where no declared thing has the
// other word in its name: then "the snap ring" can only be the circlip.
func pairs(j *rules.Job, things []thing) []pair {
	var all []pair
	var groups uint64
	for _, t := range things {
		groups |= t.groups
	}
	for i, group := range synonyms {
		if groups&(1<<i) == 0 {
			continue
		}
		var have []thing
		var used string
		mixed := false
		for _, word := range group {
			for _, t := range things {
				if !named(t.name, word) {
					continue
				}
				mixed = mixed || used != "" && used != word
				used = word
				have = append(have, t)
			}
		}
		if mixed || len(have) != 1 {
			continue
		}
		for _, word := range group {
			if word != used && inAnyForm(j, word) {
				all = append(all, pair{have[0], word})
			}
		}
	}
	if groups>>len(synonyms) == 0 {
		return all
	}
	return append(all, split(j, things)...)
}

// inAnyForm tells whether a word, or words with a blank or a hyphen between them, stand in the procedure.
func inAnyForm(j *rules.Job, word string) bool {
	stem, _, _ := strings.Cut(word[1:], " ") // stands in all forms
	return written(j, stem) && written(j, word, strings.ReplaceAll(word, " ", "-"), capital(word))
}

// named tells whether a name ends in a word, or in its plural.
func named(name, word string) bool {
	return strings.HasSuffix(name, word) && (len(name) == len(word) || name[len(name)-len(word)-1] == ' ')
}

// split gives things whose name ends in a word that can be written as one or as two: "gearbox" and "gear box".
func split(j *rules.Job, things []thing) []pair {
	var all []pair
	for i, w := range joints {
		for _, t := range things {
			switch {
			case t.groups&(1<<(len(synonyms)+i)) == 0:
			case named(t.name, w.one) && inAnyForm(j, w.two):
				all = append(all, pair{t, w.two})
			case named(t.name, w.two) && inAnyForm(j, w.one):
				all = append(all, pair{t, w.one})
			}
		}
	}
	return all
}

// joints are shop words that are written as one or as two. Common practice, no source.
var joints = []joint{
	{"gearbox", "gear box"},
	{"gearcase", "gear case"},
	{"driveshaft", "drive shaft"},
	{"tailshaft", "tail shaft"},
	{"wheelhouse", "wheel house"},
	{"flywheel", "fly wheel"},
	{"switchgear", "switch gear"},
	{"handwheel", "hand wheel"},
	{"dipstick", "dip stick"},
	{"pipework", "pipe work"},
	{"chaincase", "chain case"},
	{"ropedrum", "rope drum"},
}

// joint is a word in its two spellings.
type joint struct{ one, two string }

// secondName finds the first place where a procedure says the other word with "the" or "its" before it.
func secondName(j *rules.Job, p pair) (f diag.Finding, found bool) {
	eachSaid(j, nil, func(_ *rules.Passage, text string) bool {
		return !found && strings.Contains(procedure.Fold(text), p.other)
	}, func(s *said) {
		low := procedure.Fold(s.plain)
		if !strings.Contains(low, p.other) {
			return
		}
		i, n := definite(s.plain, p.other)
		if n == 0 || s.act(i) != nil {
			return
		}
		found = true
		f = diag.Finding{
			At: s.at(i, i+n), Step: s.passage.Within, Thing: p.thing.name,
			Message: fmt.Sprintf("%q is called %q in the list", s.text[i:i+n], p.thing.at.Text()),
			Do:      fmt.Sprintf("write %q everywhere", p.thing.at.Text()),
			Related: []source.Related{{At: p.thing.at, Words: "here"}},
		}
	})
	return f, found
}

// definite finds "the snap ring": an article, and the words with a blank or a hyphen between them, as a whole phrase.
func definite(text, phrase string) (at, n int) {
	low := strings.ToLower(text)
	if len(low) != len(text) {
		return 0, 0
	}
	low = strings.ReplaceAll(low, "-", " ")
	for _, article := range []string{"the ", "its ", "this ", "that "} {
		for from := 0; ; {
			i := strings.Index(low[from:], article+phrase)
			if i < 0 {
				break
			}
			i += from
			start, end := i+len(article), i+len(article)+len(phrase)
			if (i == 0 || !letter(low[i-1])) && closed(text[end:]) {
				return start, len(phrase)
			}
			from = end
		}
	}
	return 0, 0
}

// closed tells whether a phrase ends here: what follows is no further noun that would make it another thing.
func closed(rest string) bool {
	if rest == "" || strings.ContainsRune(".,;:)", rune(rest[0])) {
		return true
	}
	w := strings.Fields(rest)
	return rest[0] == ' ' && len(w) > 0 && (boundary(strings.ToLower(w[0])) || strings.ContainsRune("(", rune(w[0][0])) || finite(strings.ToLower(w[0])))
}

func finite(w string) bool {
	switch w {
	case "is", "are", "was", "were", "can", "will", "must", "should", "has", "sits", "lies", "seats", "comes", "stays", "stands":
		return true
	}
	return false
}
