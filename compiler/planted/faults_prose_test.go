package planted_test

import "strings"

// proseFaults are slips in plain words and in safety messages.
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
					// "fit" may be a noun: it is an order only with an article or a count behind it
					return !strings.ContainsAny(h.t.verb, " ") && len(h.t.objs) < 2 && !(h.t.verb == "fit" && h.o.n == 0 && h.o.mark == "")
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

// frontFaults are slips in the front matter and the sections.
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
