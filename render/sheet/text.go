package sheet

import (
	"strings"

	"refitcard/render/document"
)

// millimetre is the length of one point in mm.
const millimetre = 25.4 / 72

// atom is a word, or a piece of one where the face changes inside it. Widths are in mm at one point of type.
type atom struct {
	text  string
	face  Face
	width float64
	space float64 // of the white before it; 0 where it touches the atom before
	glue  bool    // no line may break before it
	cut   bool    // always begins a line
}

// paragraph is running text cut into atoms: measured once, broken at any size.
type paragraph struct {
	atoms  []atom
	units  []unit
	widest float64 // unit, in mm at one point of type
	cut    bool    // some unit always begins a line
}

// line is one line of a broken paragraph; its width is in mm.
type line struct {
	atoms []atom
	width float64
}

// setter cuts and measures paragraphs and remembers them while sizes are tried. Their parts lie in a few large slices.
type setter struct {
	runs    map[*document.Run]*paragraph
	hazards map[*document.Run]*paragraph
	words   map[phrase]*paragraph

	paragraphs slab[paragraph]
	atoms      slab[atom]
	units      slab[unit]
}

// phrase is text in one face, or behind a bold lead-in.
type phrase struct {
	face        Face
	led         bool
	lead, words string
}

func newSetter() *setter {
	return &setter{
		runs: map[*document.Run]*paragraph{}, hazards: map[*document.Run]*paragraph{}, words: map[phrase]*paragraph{},
		paragraphs: slab[paragraph]{least: 32}, atoms: slab[atom]{least: 256}, units: slab[unit]{least: 256},
	}
}

// forget makes the setter as new, but for the room that it has.
func (t *setter) forget() {
	clear(t.runs)
	clear(t.hazards)
	clear(t.words)
	t.paragraphs.clear()
	t.atoms.clear()
	t.units.clear()
}

// of gives the paragraph of runs. Runs of a document do not change while it is laid out.
func (t *setter) of(runs []document.Run) *paragraph {
	if len(runs) == 0 {
		return &paragraph{}
	}
	return remembered(t.runs, &runs[0], func() *paragraph { return t.paragraph(runs) })
}

// plain gives the paragraph of words in one face.
func (t *setter) plain(face Face, words string) *paragraph {
	return remembered(t.words, phrase{face: face, words: words}, func() *paragraph {
		return t.paragraph([]document.Run{{Text: words, Bold: face == Bold, Mono: face == Mono}})
	})
}

// mixed gives the paragraph of a bold lead-in and regular words after it.
func (t *setter) mixed(lead string, runs []document.Run) *paragraph {
	key := phrase{led: true, lead: lead}
	for i := range runs {
		if i == 0 {
			key.words = runs[i].Text
			continue
		}
		key.words += "\x00" + runs[i].Text
	}
	return remembered(t.words, key, func() *paragraph {
		if lead != "" {
			runs = append([]document.Run{{Text: lead + " ", Bold: true}}, runs...)
		}
		return t.paragraph(runs)
	})
}

// hazard gives the paragraph of what can hurt, in bold, and how.
func (t *setter) hazard(b document.Panel) *paragraph {
	make := func() *paragraph {
		var all []document.Run
		for _, r := range b.Hazard {
			r.Bold = true
			all = append(all, r)
		}
		if len(b.Consequence) > 0 {
			all = append(append(all, document.Run{Text: " "}), b.Consequence...)
		}
		return t.paragraph(all)
	}
	if len(b.Hazard) == 0 {
		return make()
	}
	return remembered(t.hazards, &b.Hazard[0], make)
}

// remembered gives what a map holds for a key; what it does not hold is made.
func remembered[K comparable](m map[K]*paragraph, key K, make func() *paragraph) *paragraph {
	p, ok := m[key]
	if !ok {
		p = make()
		m[key] = p
	}
	return p
}

func faceOf(r *document.Run) Face {
	switch {
	case r.Mono:
		return Mono
	case r.Bold:
		return Bold
	}
	return Regular
}

// noBreakSpace is the space that keeps its neighbours on one line.
const noBreakSpace = "\u00a0"

// newParagraph cuts a paragraph that nobody remembers.
func newParagraph(runs []document.Run) *paragraph { return (&setter{}).paragraph(runs) }

func (t *setter) paragraph(runs []document.Run) *paragraph {
	n := 0
	for i := range runs {
		n += strings.Count(runs[i].Text, " ") + 1
	}
	p := &t.paragraphs.take(1)[:1][0]
	p.atoms = t.atoms.take(n)
	space, glue := 0.0, true // nothing breaks before the first atom
	for i := range runs {
		r := &runs[i]
		face := faceOf(r)
		first := true
		for rest := r.Text; rest != ""; {
			if n := blankBytes(rest); n > 0 {
				space = width(face, " ")
				glue = glue || n > 1
				rest = rest[n:]
				continue
			}
			n := 1
			for n < len(rest) && blankBytes(rest[n:]) == 0 {
				n++
			}
			word := rest[:n]
			p.atoms = append(p.atoms, atom{text: word, face: face, width: width(face, word), space: space, glue: glue || space == 0 || r.Keep && !first})
			space, glue, first = 0, false, false
			rest = rest[n:]
		}
	}
	for i := 1; i < len(p.atoms); i++ {
		// A figure stays with what it counts or measures.
		if a := p.atoms[i-1]; figure(a.text) && (i < 2 || p.atoms[i-1].space > 0) {
			p.atoms[i].glue = true
		}
	}
	units := 0
	for i := range p.atoms {
		if i == 0 || !p.atoms[i].glue {
			units++
		}
	}
	p.units = t.units.take(units)
	p.gather()
	return p
}

// blankBytes gives how many bytes of white a text begins with: one, or two of a space that keeps its neighbours together.
func blankBytes(s string) int {
	switch s[0] {
	case ' ', '\t', '\n':
		return 1
	case noBreakSpace[0]:
		if strings.HasPrefix(s, noBreakSpace) {
			return len(noBreakSpace)
		}
	}
	return 0
}

// text gives the words with one space at each white.
func (p *paragraph) text() string {
	var b strings.Builder
	for i, a := range p.atoms {
		if i > 0 && a.space > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(a.text)
	}
	return b.String()
}

// figure tells whether a word is a bare number.
func figure(s string) bool {
	digit := false
	for _, r := range s {
		switch {
		case '0' <= r && r <= '9':
			digit = true
		case !strings.ContainsRune(".,/–−-±", r):
			return false
		}
	}
	return digit && !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, ",")
}

// cutAtom cuts a word that is wider than the line: at least one letter, and as many as fit.
func cutAtom(a atom, limit float64) (head, tail atom) {
	letters := []rune(a.text)
	n := len(letters) - 1
	for n > 1 && width(a.face, string(letters[:n])) > limit {
		n--
	}
	n = max(n, 1)
	head, tail = a, a
	head.text, tail.text = string(letters[:n]), string(letters[n:])
	head.width, tail.width = width(a.face, head.text), width(a.face, tail.text)
	tail.space, tail.glue = 0, false
	return head, tail
}

// textWidth is the width in mm of words in one face at size pt.
func textWidth(face Face, words string, size float64) float64 { return width(face, words) * size }
