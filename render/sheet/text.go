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
}

// paragraph is running text cut into atoms: measured once, broken at any size.
type paragraph struct {
	atoms []atom
	text  string
}

// line is one line of a broken paragraph; its width is in mm.
type line struct {
	atoms []atom
	width float64
}

// setter cuts and measures paragraphs and remembers them while sizes are tried.
type setter struct {
	runs  map[*document.Run]*paragraph
	words map[string]*paragraph
}

func newSetter() *setter {
	return &setter{map[*document.Run]*paragraph{}, map[string]*paragraph{}}
}

// of gives the paragraph of runs. Runs of a document do not change while it is laid out.
func (t *setter) of(runs []document.Run) *paragraph {
	if len(runs) == 0 {
		return &paragraph{}
	}
	if p, ok := t.runs[&runs[0]]; ok {
		return p
	}
	p := newParagraph(runs)
	t.runs[&runs[0]] = p
	return p
}

// plain gives the paragraph of words in one face.
func (t *setter) plain(face Face, words string) *paragraph {
	key := string(rune('0'+int(face))) + words
	if p, ok := t.words[key]; ok {
		return p
	}
	p := newParagraph([]document.Run{{Text: words, Bold: face == Bold, Mono: face == Mono}})
	t.words[key] = p
	return p
}

// mixed gives the paragraph of a bold lead-in and regular words after it.
func (t *setter) mixed(lead string, runs []document.Run) *paragraph {
	var key strings.Builder
	key.WriteString("\x00" + lead)
	for _, r := range runs {
		key.WriteString("\x00" + r.Text)
	}
	if p, ok := t.words[key.String()]; ok {
		return p
	}
	all := runs
	if lead != "" {
		all = append([]document.Run{{Text: lead + " ", Bold: true}}, runs...)
	}
	p := newParagraph(all)
	t.words[key.String()] = p
	return p
}

func faceOf(r document.Run) Face {
	switch {
	case r.Mono:
		return Mono
	case r.Bold:
		return Bold
	}
	return Regular
}

// noBreak is the space that keeps its neighbours on one line.
const noBreak = '\u00a0'

func newParagraph(runs []document.Run) *paragraph {
	p := &paragraph{}
	var text strings.Builder
	space, glue := 0.0, true // nothing breaks before the first atom
	for _, r := range runs {
		face := faceOf(r)
		blank := width(face, " ")
		first := true
		for rest := r.Text; rest != ""; {
			n := strings.IndexAny(rest, " \t\n\u00a0")
			if n != 0 {
				word := rest
				if n > 0 {
					word = rest[:n]
				}
				p.atoms = append(p.atoms, atom{word, face, width(face, word), space, glue || space == 0 || r.Keep && !first})
				space, glue, first = 0, false, false
				rest = rest[len(word):]
				continue
			}
			space = blank
			if strings.HasPrefix(rest, string(noBreak)) {
				glue = true
				rest = rest[len(string(noBreak)):]
			} else {
				rest = rest[1:]
			}
		}
		text.WriteString(r.Text)
	}
	for i := 1; i < len(p.atoms); i++ {
		// A figure stays with what it counts or measures.
		if a := p.atoms[i-1]; figure(a.text) && (i < 2 || p.atoms[i-1].space > 0) {
			p.atoms[i].glue = true
		}
	}
	p.text = strings.Join(strings.Fields(text.String()), " ")
	return p
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

// lines breaks the paragraph at size pt into lines of at most width mm. A last line of one word takes a second one from
// the line before.
func (p *paragraph) lines(size, width float64) []line {
	limit := width/size + 1e-9
	var out []line
	atoms := p.atoms
	for start := 0; start < len(atoms); {
		end := fill(atoms[start:], limit)
		if end == 0 && len([]rune(atoms[start].text)) < 2 {
			end = 1 // a letter is not cut, however little room there is
		}
		if end == 0 { // the first atom alone is too wide: cut inside it
			head, tail := cutAtom(atoms[start], limit)
			rest := append([]atom{head, tail}, atoms[start+1:]...)
			atoms, start, end = rest, 0, 1
		}
		out = append(out, newLine(atoms[start:start+end], size))
		start += end
	}
	return mendLast(out, size, limit)
}

// fill gives how many atoms fit on a line, ending at a place where it may break if there is one.
func fill(atoms []atom, limit float64) int {
	w, last := 0.0, 0
	for i, a := range atoms {
		if i > 0 && !a.glue {
			last = i
		}
		if i > 0 {
			w += a.space
		}
		w += a.width
		if w > limit {
			if last > 0 {
				return last
			}
			return i // a group wider than the line: it breaks where it must
		}
	}
	return len(atoms)
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

func newLine(atoms []atom, size float64) line {
	w := 0.0
	for i, a := range atoms {
		if i > 0 {
			w += a.space
		}
		w += a.width
	}
	return line{atoms, w * size}
}

// words counts the words of a line.
func (l line) words() int {
	n := 1
	for _, a := range l.atoms[1:] {
		if a.space > 0 {
			n++
		}
	}
	return n
}

// mendLast takes a word down to a last line that has only one.
func mendLast(out []line, size, limit float64) []line {
	n := len(out)
	if n < 2 || out[n-1].words() > 1 || len(out[n-1].atoms) == 0 {
		return out
	}
	prev := out[n-2].atoms
	cut := len(prev) - 1
	for cut > 0 && prev[cut].glue {
		cut--
	}
	if cut <= 0 || out[n-1].atoms[0].glue {
		return out
	}
	joined := append(append([]atom{}, prev[cut:]...), out[n-1].atoms...)
	if l := newLine(joined, size); l.width <= limit*size {
		out[n-2], out[n-1] = newLine(prev[:cut], size), l
	}
	return out
}

// textWidth is the width in mm of words in one face at size pt.
func textWidth(face Face, words string, size float64) float64 { return width(face, words) * size }
