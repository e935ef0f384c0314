package planted_test

import (
	"fmt"
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

func proseFaults() []fault {
	sentence := func(name, rule, words, mark string) fault {
		return fault{name: name, rule: rule, plant: func(p *plan) bool {
			p.want.step = p.stray(p.d.stageNamed("Refit", "Build up"), words)
			p.want.words = mark
			return true
		}}
	}
	return []fault{
		sentence("refitting is the reverse", "wording/reverse-of-removal", "refitting is the reverse of removal", "reverse of removal"),
		sentence("the other side likewise", "wording/other-side", "repeat for the other side", "epeat for the other side"),
		sentence("by sample", "part/by-sample", "use the same bolts as removed", "same bolts as removed"),
		sentence("a torque in plain words", "wording/untagged-quantity", "pull the strap to 22 N·m", "22 N·m"),
		sentence("a wait in plain words", "wording/untagged-quantity", "wait 10 min", "10 min"),
		{
			name: "an act without its braces", rule: "wording/untagged-act",
			plant: func(p *plan) bool {
				h, ok := p.one(where(always(p.d.hits("remove", "install", "disconnect", "connect", "loosen", "tighten", "drain", "fill")), func(h hit) bool {
					return !strings.ContainsAny(h.t.verb, " ") && (len(h.t.objs) < 2)
				}))
				if !ok || h.clauseOf() != 0 || h.x.clauses[0][0].tag != h.t {
					return false
				}
				h.t.becomes(strings.Trim(h.t.text(), "{}"))
				p.want = place{step: h.s, words: h.t.verb[1:]}
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "a message that says no way out", rule: "safety/no-avoidance",
			plant: func(p *plan) bool {
				p.d.intro = append(p.d.intro, "> **CAUTION** Hot oil. It scalds.")
				p.want.words = "CAUTION"
				return true
			},
		},
		{
			name: "a message behind the act", rule: "safety/after-action",
			plant: func(p *plan) bool {
				st := p.d.stageNamed("Strip", "Take apart")
				if len(st.items) == 0 {
					return false
				}
				st.items = append(st.items, "> **CAUTION** Hot oil burns. Keep your hands off it.")
				p.want.words = "CAUTION"
				text := "> **CAUTION** Hot oil burns."
				p.d.wholly = func(s string) string {
					p.want.line = 1 + strings.Count(s[:strings.Index(s, text)], "\n")
					return s
				}
				return true
			},
		},
	}
}

func frontFaults() []fault {
	return []fault{
		{
			name: "a key is missing", rule: "file/missing-key",
			plant: func(p *plan) bool {
				p.want.line = 1
				return p.unsay(pick(p.maker, "title", "number", "revision"))
			},
		},
		{
			name: "a key is misspelt", rule: "file/unknown-key",
			plant: func(p *plan) bool {
				for i, e := range p.d.front {
					if e.key == "date" || e.key == "machine" {
						p.d.front[i].key = p.misspelt(e.key)
						p.want.front = p.d.front[i].key
						return true
					}
				}
				return false
			},
		},
		{
			name: "a key twice", rule: "file/repeated-key",
			plant: func(p *plan) bool {
				p.d.front = append(p.d.front, entry{key: "revision", value: "Z"})
				p.want.words = "revision"
				p.d.wholly = func(s string) string {
					p.want.line = p.d.front[len(p.d.front)-1].line
					return s
				}
				return true
			},
		},
		{
			name: "a date that is none", rule: "file/bad-value",
			plant: func(p *plan) bool {
				p.unsay("date")
				p.d.front = append(p.d.front, entry{key: "date", value: pick(p.maker, "2026-02-30", "12.5.2026", "May")})
				p.want.front = "date"
				return true
			},
		},
		{
			name: "tools listed in two sections", rule: "section/repeated",
			plant: func(p *plan) bool {
				p.d.wholly = func(s string) string {
					text := strings.Replace(s, "## Supplies\n", "## Tools\n\n- none\n\n## Supplies\n", 1)
					p.want.line = 1 + strings.Count(text[:strings.LastIndex(text, "## Tools")], "\n")
					return text
				}
				return true
			},
		},
		{
			name: "no supplies, and nobody says so", rule: "section/silent",
			plant: func(p *plan) bool {
				if len(p.d.supplies) > 0 {
					return false
				}
				p.d.wholly = func(s string) string { return strings.Replace(s, "## Supplies\n\n- none\n\n", "", 1) }
				p.want.words = "Parts" // the section that is there speaks for the one that is not
				return true
			},
		},
		{
			name: "Latin-1 in the text", rule: "file/not-text",
			plant: func(p *plan) bool {
				p.d.wholly = func(s string) string { return strings.Replace(s, "## Tools", "\xe4\xf6 ## Tools", 1) }
				p.want.words = "\xe4"
				return true
			},
		},
		{
			name: "nothing to do", rule: "file/no-steps",
			plant: func(p *plan) bool {
				p.d.stages, p.d.parts, p.d.tools, p.d.supplies = nil, nil, nil, nil
				p.d.front = p.d.front[:3]
				p.want.words = "Supplies" // the last that stands there
				return true
			},
		},
	}
}

// torqueFaults are slips in torques, patterns and drawings.
func torqueFaults() []fault {
	return []fault{
		{
			name: "more than the table says", rule: "torque/differs-from-table",
			plant: func(p *plan) bool { return p.otherTorque(2) },
		},
		{
			name: "less than the table says", rule: "torque/differs-from-table",
			plant: func(p *plan) bool { return p.otherTorque(0.8) },
		},
		{
			name: "foot-pounds for newton metres", rule: "torque/differs-from-table",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("torque"), func(h hit) bool {
					return strings.HasPrefix(h.t.tail, " to ") && strings.Count(h.t.tail, "N·m") == 1 && torqued(h.o.row) && !strings.Contains(h.t.tail, "(")
				}))
				if !ok {
					return false
				}
				h.t.tail = strings.Replace(h.t.tail, "N·m", "lbf·ft", 1)
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "a unit that is none", rule: "torque/bad-unit",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return torqued(r) && !strings.ContainsAny(r.torque, "(±+.–") })
				if r == nil {
					return false
				}
				number, _, _ := strings.Cut(r.torque, " ")
				r.torque = number + pick(p.maker, " lb", " ft/lb")
				p.want.row = r
				return true
			},
		},
		{
			name: "a table no bolt can bear", rule: "torque/over-proof",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool {
					return isFastener(r) && torqued(r) && !strings.ContainsAny(r.torque, "(±+.–") && len(where(of(p.d.hits("torque"), r), func(h hit) bool { return strings.Contains(h.t.tail, " to ") || strings.Contains(h.t.tail, "passes of") })) == 0
				})
				if r == nil {
					return false
				}
				number, unit, _ := strings.Cut(r.torque, " ")
				r.torque = number + "0 " + unit
				p.want.row = r
				return true
			},
		},
		{
			name: "passes that fall", rule: "torque/passes",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("torque"), func(h hit) bool { return strings.Contains(h.t.tail, "passes of ") }))
				if !ok {
					return false
				}
				before, after, _ := strings.Cut(h.t.tail, "passes of ")
				first, rest, _ := strings.Cut(after, ", ")
				second, tail, _ := strings.Cut(rest, " ")
				second, comma := strings.CutSuffix(second, ",")
				if comma {
					tail = ", " + tail
				} else {
					tail = " " + tail
				}
				h.t.tail = before + "passes of " + second + ", " + first + tail
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "the last pass falls short", rule: "torque/passes",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("torque"), func(h hit) bool { return strings.Contains(h.t.tail, "passes of ") }))
				if !ok {
					return false
				}
				words := strings.Fields(h.t.tail)
				i := slices.IndexFunc(words, func(w string) bool { return w == "of" })
				unit := words[len(words)-1]
				if unit != "N·m" && unit != "lbf·ft" {
					return false
				}
				h.t.tail = " " + strings.Join(words[:i+1], " ") + " " + strings.Trim(words[i+1], ",") + ", " + strings.Trim(words[i+2], ",") + " " + unit
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "no order for the torque", rule: "torque/no-pattern",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("torque"), func(h hit) bool {
					return h.o.row.qty >= 4 && h.o.n >= 4 && p.heldBy(h.o.row) != nil && p.heldBy(h.o.row).qty == 1 && h.o.row.layout == "" && len(h.t.objs) == 1
				}))
				if !ok {
					return false
				}
				was := h.t.tail
				for _, w := range []string{" crosswise", " from the centre", " in order"} {
					h.t.tail = strings.Replace(h.t.tail, w, "", 1)
				}
				p.want.tag = h.t
				return was != h.t.tail
			},
		},
		{
			name: "one place too few is drawn", rule: "torque/layout-count",
			plant: func(p *plan) bool {
				x := p.drawing()
				if x == nil || len(x.lines) > 2 {
					return false
				}
				i := strings.LastIndex(x.lines[1], "o")
				x.lines[1] = x.lines[1][:i]
				p.want = place{}
				p.d.wholly = func(s string) string {
					p.want.line = x.line
					return s
				}
				return true
			},
		},
		{
			name: "two lengths and no drawing", rule: "part/mixed-lengths",
			plant: func(p *plan) bool {
				x := p.drawing()
				if x == nil || len(x.lines) < 3 {
					return false
				}
				for _, st := range p.d.stages {
					st.items = slices.DeleteFunc(st.items, func(it any) bool { return it == any(x) })
				}
				long := p.rowWhere(func(r *row) bool { return r.layout == x.name && strings.HasPrefix(r.name, "long ") })
				for _, r := range p.d.parts {
					if r.layout == x.name {
						r.layout = ""
						for _, h := range of(p.d.hits("torque"), r) {
							if !strings.HasPrefix(h.t.tail, " then") && !strings.Contains(h.t.tail, "crosswise") && !strings.Contains(h.t.tail, "centre") && !strings.Contains(h.t.tail, "in order") {
								h.t.tail += " crosswise"
							}
						}
					}
				}
				p.want.row = long
				return true
			},
		},
		{
			name: "no threadlocker", rule: "torque/condition-unsupplied",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("supply"), func(h hit) bool { return h.t.sup.name == "threadlocker" }))
				if !ok || len(where(p.d.hits("supply"), func(h hit) bool { return h.t.sup.name == "threadlocker" })) > 1 {
					return false
				}
				r := p.rowWhere(func(r *row) bool { return strings.HasSuffix(r.spec, "threadlocker") })
				t := of(p.d.hits("torque"), r)
				p.want.tag = last(t).t
				p.d.supplies = slices.DeleteFunc(p.d.supplies, func(s *supply) bool { return s == h.t.sup })
				p.drop(h)
				return true
			},
		},
		{
			name: "a slot that one value can't meet", rule: "torque/castle-no-range",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return r.name == "lever nut" })
				if r == nil {
					return false
				}
				r.torque = "105 N·m"
				p.want.row = r
				return true
			},
		},
		{
			name: "the wrench reads another unit", rule: "torque/other-unit",
			plant: func(p *plan) bool {
				t := p.toolWhere(func(t *tool) bool {
					return t.name == "torque wrench" && !strings.Contains(t.detail, "300") && strings.HasSuffix(t.detail, "N·m")
				})
				if t == nil {
					return false
				}
				h := where(p.d.hits("torque"), func(h hit) bool { return slices.ContainsFunc(h.x.tags(), func(x *tag) bool { return x.tool == t }) })
				if len(h) != 1 || strings.Contains(h[0].t.tail+h[0].o.row.torque, "(") {
					return false
				}
				var low, high int
				if _, err := fmt.Sscanf(strings.Replace(t.detail, "–", " ", 1), "%d %d", &low, &high); err != nil {
					return false
				}
				t.detail = fmt.Sprintf("%d–%d lbf·ft", low*3/4, high*3/4)
				if p.toolWhere(func(x *tool) bool { return x != t && x.detail == t.detail }) != nil {
					return false
				}
				p.want.tag = h[0].t
				return true
			},
		},
		{
			name: "tightened, and how tight is not said", rule: "torque/none",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return r.name == "tension nut" })
				if r == nil {
					return false
				}
				r.torque = ""
				h := of(p.d.hits("tighten"), r)
				if said := h[0].s.text(); strings.Contains(said, "play") || strings.Contains(said, "hand") || strings.Contains(said, "finger") {
					return false // words of the step may say how tight
				}
				p.want.tag = h[0].t
				return true
			},
		},
	}
}

// drawing gives a layout block of the job.
func (p *plan) drawing() *drawing {
	var all []*drawing
	for _, st := range p.d.stages {
		for _, it := range st.items {
			if x, ok := it.(*drawing); ok {
				all = append(all, x)
			}
		}
	}
	if len(all) == 0 {
		return nil
	}
	return pick(p.maker, all...)
}

// otherTorque writes another torque into a tag than the table has.
func (p *plan) otherTorque(factor float64) bool {
	h, ok := p.one(where(p.d.hits("torque"), func(h hit) bool {
		return strings.HasPrefix(h.t.tail, " to ") && torqued(h.o.row) && !strings.Contains(h.t.tail, "passes of") && !strings.ContainsAny(h.o.row.torque, "(±–+") && !strings.Contains(h.o.row.torque, "..")
	}))
	if !ok {
		return false
	}
	words := strings.Fields(h.t.tail)
	var value float64
	if _, err := fmt.Sscanf(words[1], "%g", &value); err != nil {
		return false
	}
	words[1] = fmt.Sprintf("%.0f", value*factor)
	h.t.tail = " " + strings.Join(words, " ")
	p.want.tag = h.t
	return true
}
