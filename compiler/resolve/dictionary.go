package resolve

import (
	"math/bits"
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// kinds says what declared names are looked for.
type kinds uint8

const (
	isPart kinds = 1 << iota
	isSupply
	isTool
	isAny = isPart | isSupply | isTool
)

// form is one form of a name: the singular, a plural.
type form struct {
	words  []string
	plural bool // it differs from the singular
	hash   uint32
}

// name is a declared name in all its forms.
type name struct {
	folded string
	forms  []form // none when there is no word in it
}

// readName gives the forms of a name as it is typed.
func readName(typed string) *name {
	n := &name{folded: procedure.Fold(typed)}
	if !n.add(typed, false) {
		return n
	}
	if plural := procedure.Plural(typed); plural != typed && procedure.Fold(plural) != n.folded && !n.add(plural, true) {
		return n
	}
	if more := looseVes(typed); more != "" {
		n.add(more, true)
	}
	return n
}

// add puts a form in; false for one without words.
func (n *name) add(typed string, plural bool) bool {
	var room [8]token
	cut := tokens(room[:0], typed)
	if len(cut) == 0 {
		return false
	}
	f := form{make([]string, len(cut)), plural, cut[0].hash}
	for i, t := range cut {
		f.words[i] = t.text
	}
	n.forms = append(n.forms, f)
	return true
}

// entry is one form of a declared name, and the thing that has it.
type entry struct {
	*form
	name   *name
	hash   uint32 // of the first word
	next   int32  // the entry behind it in its chain, counted from 1
	kind   kinds
	part   *procedure.Part
	supply *procedure.Supply
	tool   *procedure.Tool
}

// dictionary finds declared names, the longest first. It is never changed once made.
type dictionary struct {
	p       *procedure.Procedure
	entries []entry
	heads   []int32 // by the hash of the first word: the first entry of the chain, counted from 1, the longest names first
}

func newDictionary(p *procedure.Procedure, m *Memory) *dictionary {
	n := len(p.Parts) + len(p.Supplies) + len(p.Tools)
	d := &dictionary{p: p, entries: make([]entry, 0, 2*n+n/4), heads: make([]int32, 1<<bits.Len(uint(2*n)))}
	for _, x := range p.Parts {
		d.add(m.name(x.Name.Value), entry{kind: isPart, part: x})
	}
	for _, x := range p.Supplies {
		d.add(m.name(x.Name.Value), entry{kind: isSupply, supply: x})
	}
	for _, x := range p.Tools {
		for i := range x.Choices {
			d.add(m.name(x.Choices[i].Name), entry{kind: isTool, tool: x})
		}
	}
	return d
}

// add puts a name in. Two rows of one name (for variants apart) share the first row's entry.
func (d *dictionary) add(n *name, e entry) {
	e.name = n
	for i := range n.forms {
		e.form, e.hash = &n.forms[i], n.forms[i].hash
		d.put(&e)
	}
}

func (d *dictionary) put(e *entry) {
	slot := d.slot(e.hash)
	before, behind := int32(0), d.heads[slot]
	for behind != 0 {
		o := &d.entries[behind-1]
		if len(o.words) < len(e.words) {
			break
		}
		if e.part != nil && o.part != nil && slices.Equal(o.words, e.words) {
			return
		}
		before, behind = behind, o.next
	}
	e.next = behind
	d.entries = append(d.entries, *e)
	if last := int32(len(d.entries)); before == 0 {
		d.heads[slot] = last
	} else {
		d.entries[before-1].next = last
	}
}

func (d *dictionary) slot(hash uint32) uint32 { return hash & uint32(len(d.heads)-1) }

// match finds the longest declared name of some kinds that begins at token i. Parts go before supplies, supplies before tools.
func (d *dictionary) match(t []token, i int, of kinds) (*entry, int) {
	if i >= len(t) {
		return nil, 0
	}
	for k := d.heads[d.slot(t[i].hash)]; k != 0; k = d.entries[k-1].next {
		e := &d.entries[k-1]
		if e.hash == t[i].hash && e.kind&of != 0 && spells(t[i:], e.words) {
			return e, len(e.words)
		}
	}
	return nil, 0
}

// spells tells whether tokens begin with some words.
func spells(t []token, words []string) bool {
	if len(t) < len(words) {
		return false
	}
	for k, w := range words {
		if t[k].text != w {
			return false
		}
	}
	return true
}

// whole finds the thing of a kind whose name a text is, with or without the article.
func (r *resolver) whole(name string, of kinds) *entry {
	r.words = tokens(r.words[:0], strings.TrimPrefix(procedure.Fold(name), "the "))
	if e, n := r.names.match(r.words, 0, of); n > 0 && n == len(r.words) {
		return e
	}
	return nil
}

func (r *resolver) partNamed(name string) *procedure.Part {
	if e := r.whole(name, isPart); e != nil {
		return e.part
	}
	return nil
}

func (r *resolver) supplyNamed(name string) *procedure.Supply {
	if e := r.whole(name, isSupply); e != nil {
		return e.supply
	}
	return nil
}

// typed lists the names of some kinds as they were typed, for the nearest one.
func (d *dictionary) typed(of kinds) (names []string) {
	if of&isPart != 0 {
		for _, x := range d.p.Parts {
			names = append(names, x.Name.Value)
		}
	}
	if of&isSupply != 0 {
		for _, x := range d.p.Supplies {
			names = append(names, x.Name.Value)
		}
	}
	if of&isTool != 0 {
		for _, x := range d.p.Tools {
			for _, c := range x.Choices {
				names = append(names, c.Name)
			}
		}
	}
	return names
}

// looseVes gives the other plural of a name in f, which some write: "cuffs", "roofs", "rooves".
func looseVes(name string) string {
	n := len(name)
	if n == 0 || name[n-1]|0x20 != 'f' || n > 1 && name[n-2]|0x20 == 'f' {
		return ""
	}
	if strings.HasSuffix(procedure.Plural(strings.ToLower(name)), "ves") {
		return name + "s"
	}
	return name[:len(name)-1] + "ves"
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
