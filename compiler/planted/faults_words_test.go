package planted_test

import (
	"slices"
	"strings"
)

// inText plants a fault into the tag of an act, as text: the finding marks something in it.
func inText(name, rule string, kinds []string, change func(p *plan, h hit) (text string, ok bool)) fault {
	return fault{name: name, rule: rule, plant: func(p *plan) bool {
		h, ok := p.one(p.d.hits(kinds...))
		if !ok {
			return false
		}
		text, ok := change(p, h)
		if !ok {
			return false
		}
		h.t.becomes(text)
		p.want.tag = h.t
		return true
	}}
}

var parts = []string{"remove", "install", "replace", "loosen", "tighten", "torque"}

// misspelt leaves one letter of a word out, or doubles its last where none can go.
func (p *plan) misspelt(word string) string {
	from := p.IntN(len(word))
	for k := range word {
		i := (from + k) % len(word)
		if i > 0 && i+1 < len(word) && word[i] >= 'a' && word[i] <= 'z' && word[i] != word[i-1] && word[i] != word[i+1] {
			return word[:i] + word[i+1:]
		}
	}
	return word + word[len(word)-1:]
}

// stray puts a sentence of plain words, or of one tag, at the end of a step.
func (p *plan) stray(st *stage, words ...any) *step {
	s := &step{sents: []*sentence{p.line(words...)}}
	st.insert(-1, s)
	return s
}

// anyStage draws a stage.
func (p *plan) anyStage() *stage { return pick(p.maker, p.d.stages...) }

// wordFaults are slips in the writing: tags, quantities, names, prose.
func wordFaults() []fault {
	return slices.Concat(tagFaults(), nameFaults(), strayFaults(), proseFaults(), frontFaults())
}

// tagFaults are slips in how a tag is written.
func tagFaults() []fault {
	return []fault{
		inText("a verb is misspelt", "tag/unknown-verb", append([]string{"disconnect", "measure", "drain", "check"}, parts...), func(p *plan, h hit) (string, bool) {
			v := h.t.verb
			if len(v) < 5 || strings.Contains(v, " ") {
				return "", false
			}
			return "{" + p.misspelt(v) + strings.TrimPrefix(h.t.text(), "{"+v), true
		}),
		inText("a brace is not closed", "tag/unclosed", parts, func(_ *plan, h hit) (string, bool) {
			return strings.TrimSuffix(h.t.text(), "}"), true
		}),
		inText("a tag stands in a code span", "tag/hidden", parts, func(_ *plan, h hit) (string, bool) {
			return "`" + h.t.text() + "`", true
		}),
		{
			name: "an empty tag", rule: "tag/empty",
			plant: func(p *plan) bool {
				t := &tag{kind: "empty", raw: "{}"}
				p.stray(p.anyStage(), "look here ", t)
				p.want.tag = t
				return true
			},
		},
		{
			name: "a tag in a heading", rule: "tag/hidden",
			plant: func(p *plan) bool {
				st := p.anyStage()
				st.name += " {check it}"
				p.want.stage = st
				return true
			},
		},
		{
			name: "an act in a note", rule: "tag/misplaced",
			plant: func(p *plan) bool {
				s := pick(p.maker, p.d.steps()...)
				s.notes = append(s.notes, "Here {check the colour of it}.")
				p.want.words = "{check the colour of it}"
				return true
			},
		},
		{
			name: "a question is open", rule: "tag/question",
			plant: func(p *plan) bool {
				st := p.anyStage()
				st.items = append([]any{"> question: how deep is the well?"}, st.items...)
				p.want.words = "question"
				return true
			},
		},
		inText("limits turned round", "tag/reversed-range", []string{"measure"}, func(_ *plan, h hit) (string, bool) {
			low, rest, ok := strings.Cut(h.t.text(), "..")
			i := strings.LastIndexByte(low, ' ') + 1
			high, tail, _ := strings.Cut(rest, " ")
			return low[:i] + high + ".." + low[i:] + " " + tail, ok
		}),
		inText("a comma for a point", "tag/decimal-comma", []string{"measure"}, func(_ *plan, h hit) (string, bool) {
			return strings.Replace(h.t.text(), "0.", "0,", 1), strings.Contains(h.t.text(), " 0.")
		}),
		inText("a wait with no time", "tag/missing-quantity", []string{"wait"}, func(*plan, hit) (string, bool) { return "{wait}", true }),
		inText("a cure with no time", "tag/missing-quantity", []string{"start"}, func(*plan, hit) (string, bool) { return "{start sealant cure}", true }),
		inText("the second unit is another torque", "tag/dual-mismatch", []string{"torque"}, func(_ *plan, h hit) (string, bool) {
			open := strings.IndexByte(h.t.tail, '(')
			if open < 0 {
				return "", false
			}
			first, second, _ := strings.Cut(h.t.text(), "(")
			_, rest, _ := strings.Cut(second, " ")
			return first + "(1.5 " + rest, true
		}),
	}
}

// nameFaults are slips in names and in the parts table.
func nameFaults() []fault {
	return []fault{
		inText("a part is misspelt", "part/unknown", []string{"remove", "install"}, func(p *plan, h hit) (string, bool) {
			name := lastWord(h.o.row.name)
			if len(h.t.objs) > 1 || len(name) < 5 || strings.Contains(h.t.text(), h.o.row.plural) && h.o.row.qty > 1 {
				return "", false
			}
			text := h.t.text()
			i := strings.LastIndex(text, name)
			wrong := p.misspelt(name)
			if i < 0 || wrong+"s" == name {
				return "", false
			}
			return text[:i] + wrong + text[i+len(name):], true
		}),
		inText("a part by another name", "part/unknown", []string{"remove"}, func(_ *plan, h hit) (string, bool) {
			word := lastWord(h.o.row.name) // by a word of four letters the compiler takes it for the part that is meant
			return "{remove the float " + word + " stay}", len(h.t.objs) == 1 && len(word) >= 4 && h.o.row.name != "float bracket"
		}),
		inText("one of several", "part/singular", []string{"remove"}, func(_ *plan, h hit) (string, bool) {
			return "{remove the " + h.o.row.name + "}", len(h.t.objs) == 1 && h.o.row.qty > 1 && h.o.n == h.o.row.qty && h.o.row.variant == ""
		}),
		inText("how many is not said", "part/no-count", []string{"remove"}, func(_ *plan, h hit) (string, bool) {
			return "{remove the " + h.o.row.plural + "}", len(h.t.objs) == 1 && isFastener(h.o.row) && h.o.n == h.o.row.qty
		}),
		{
			name: "a row nobody touches", rule: "part/unused",
			plant: func(p *plan) bool {
				r := p.row(row{name: "name board", qty: 1})
				p.want.row = r
				return true
			},
		},
		{
			name: "a row twice", rule: "part/repeated",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return r.variant == "" })
				if r == nil {
					return false
				}
				again := *r
				p.d.parts = append(p.d.parts, &again)
				p.want.row = &again
				return true
			},
		},
		{
			name: "a count in letters", rule: "part/bad-row",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return true })
				r.typedQty = "some"
				p.want.row = r
				return true
			},
		},
		{
			name: "a use that is none", rule: "part/unknown-use",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return r.use != "" })
				if r == nil {
					return false
				}
				r.use = p.misspelt(r.use)
				p.want.row = r
				return true
			},
		},
		{
			name: "a place of a part that is not there", rule: "part/unknown-place",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return p.heldBy(r) != nil })
				if r == nil {
					return false
				}
				r.place = []string{"holds swing gate"}
				p.want.row = r
				return true
			},
		},
		{
			name: "a place with no relation", rule: "part/unknown-place",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return p.heldBy(r) != nil })
				if r == nil {
					return false
				}
				r.place = []string{"hold " + p.heldBy(r).name}
				p.want.row = r
				return true
			},
		},
		{
			name: "a heading is misspelt", rule: "part/unknown-column",
			plant: func(p *plan) bool {
				i := slices.Index(p.d.columns, "Spec")
				p.d.columns[i] = "Spec?"
				p.d.wholly = func(s string) string { return strings.Replace(s, "Spec?", "Spek", 1) }
				p.want.words = "Spek"
				return true
			},
		},
	}
}

// strayFaults put something at the end of a stage that leads nowhere.
func strayFaults() []fault {
	return []fault{
		{
			name: "a number of no label", rule: "label/unknown",
			plant: func(p *plan) bool {
				t := p.words("number", "nowhere")
				p.stray(p.anyStage(), "go back to step ", t)
				p.want.tag = t
				return true
			},
		},
		{
			name: "a label that nobody needs", rule: "label/unused",
			plant: func(p *plan) bool {
				t := p.words("label", "alone")
				p.stray(p.anyStage(), "look here ", t)
				p.want.tag = t
				return true
			},
		},
		{
			name: "a label twice", rule: "label/repeated",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("label"))
				if !ok {
					return false
				}
				t := cloneTag(h.t)
				p.stray(p.d.stages[len(p.d.stages)-1], "look here ", t)
				p.want.tag = t
				return true
			},
		},
		{
			name: "a waiver with no reason", rule: "waive/no-reason",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("waive"))
				if !ok {
					return false
				}
				h.t.becomes("{waive refit/left-loose:}")
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "a waiver of nothing", rule: "waive/no-finding",
			plant: func(p *plan) bool {
				t := p.words("waive", pick(p.maker, "order/held", "refit/left-loose", "part/no-count")+": the maker says so")
				p.stray(p.d.stages[len(p.d.stages)-1], "look here. ", t)
				p.want.tag = t
				return true
			},
		},
		{
			name: "a waiver of what can't be waived", rule: "waive/not-waivable",
			plant: func(p *plan) bool {
				t := p.words("waive", "refit/left-off: nobody minds")
				p.stray(p.anyStage(), "look here. ", t)
				p.want.tag = t
				return true
			},
		},
		{
			name: "another variant", rule: "variant/unknown",
			plant: func(p *plan) bool {
				if len(p.kinds) == 0 {
					return false
				}
				s := p.stray(p.anyStage(), p.words("check", "the outer seats"))
				s.lead = []*tag{p.words("for", "RW90")}
				p.want.tag = s.lead[0]
				return true
			},
		},
		{
			name: "a file that is not there", rule: "include/missing",
			plant: func(p *plan) bool {
				p.d.intro = append(p.d.intro, "{include shared/gone.md}")
				p.want.words = "shared/gone.md"
				return true
			},
		},
		{
			name: "a figure that is not there", rule: "figure/missing",
			plant: func(p *plan) bool {
				p.d.intro = append(p.d.intro, "![the bay from above](figures/bay.png)")
				p.want.words = "figures/bay.png"
				return true
			},
		},
	}
}
