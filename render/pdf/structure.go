package pdf

import (
	"strconv"

	"refitcard/render/sheet"
)

// mark is a piece of a page that a structure element owns: what lies between BDC and EMC (ISO 32000-1, 14.7.4).
type mark struct {
	page, id int // id counts from 0 on each page
	role     sheet.Role
	block    int // 0: an element of its own
	figure   *figure
}

// figure is what is told of a figure beside its piece.
type figure struct {
	alt string
	box [4]float64 // left, top, width, height in mm
}

// tagger writes the operators that mark pieces while a page is drawn.
type tagger struct {
	marks   []mark
	page    int
	next    int
	open    bool
	decor   bool // what is open is decoration
	current mark
}

// expect makes room for the marks of a sheet: the words of one block are one, mostly, and a few are pictures.
func (t *tagger) expect(d *sheet.Document) {
	n, block := 0, 0
	for i := range d.Pages {
		for _, op := range d.Pages[i].Ops {
			if x, ok := op.(sheet.Text); ok && x.Role != sheet.Artifact && (x.Block == 0 || x.Block != block) {
				block = x.Block
				n++
			}
		}
	}
	t.marks = make([]mark, 0, n+8)
}

// turn begins a page.
func (t *tagger) turn(page int) { t.page, t.next = page, 0 }

// close ends what is open. It writes behind page, as all that follow do, and gives the longer page.
func (t *tagger) close(page []byte) []byte {
	if !t.open {
		return page
	}
	t.open = false
	return append(page, "EMC\n"...)
}

// artifact marks what follows as decoration: a reader that speaks passes over it.
func (t *tagger) artifact(page []byte) []byte {
	if t.open && t.decor {
		return page
	}
	page = t.close(page)
	t.open, t.decor = true, true
	return append(page, "/Artifact BMC\n"...)
}

// text marks a string; neighbours of one block stay in one piece.
func (t *tagger) text(page []byte, x sheet.Text) []byte {
	role := x.Role
	switch role {
	case sheet.Artifact:
		return t.artifact(page)
	case "":
		role = sheet.Paragraph
	}
	if t.open && !t.decor && x.Block != 0 && t.current.block == x.Block && t.current.role == role {
		return page
	}
	m := mark{page: t.page, id: t.next, role: role, block: x.Block}
	if role == sheet.Figure && x.String != "" {
		m.figure = &figure{alt: x.String}
	}
	return t.element(page, m)
}

// figure marks a picture; one without words for it is decoration.
func (t *tagger) figure(page []byte, alt string, box [4]float64) []byte {
	if alt == "" {
		return t.artifact(page)
	}
	return t.element(page, mark{page: t.page, id: t.next, role: sheet.Figure, figure: &figure{alt, box}})
}

func (t *tagger) element(page []byte, m mark) []byte {
	page = t.close(page)
	t.next++
	t.current = m
	t.marks = append(t.marks, m)
	t.open, t.decor = true, false
	page = append(page, '/')
	page = append(page, m.role...)
	page = append(page, " <</MCID "...)
	page = strconv.AppendInt(page, int64(m.id), 10)
	return append(page, ">> BDC\n"...)
}

// element is an object of the structure tree: a paragraph, a heading, a figure. It owns pieces of a page.
type element struct {
	mark               // the first that it owns
	parent, on ref     // on which page it begins
	height     float64 // of the page in mm
	more       []piece // what it owns beyond the first
}

// piece is a mark that an element owns beyond its first.
type piece struct {
	page ref
	id   int
}

// structure writes the structure tree: a document whose children are the elements in the order in which they are drawn.
// It gives the tree's root, and fills in for each page which element owns which piece.
func structure(out *output, marks []mark, pages refs, height float64) ref {
	root, document := out.reserve(), out.reserve()
	elements := make([]element, 0, len(marks)) // never moves: objects point into it
	kids := make(refs, 0, len(marks))
	byBlock := make(map[int]int, len(marks)) // where the element of a block stands among them
	owners := make([]refs, len(pages))
	room := make(refs, len(marks))
	for from, n := 0, 0; n < len(marks); from = n { // marks of one page follow each other
		p := marks[from].page
		for n < len(marks) && marks[n].page == p {
			n++
		}
		owners[p] = room[from:from:n]
	}
	for _, m := range marks {
		at, known := byBlock[m.block]
		if m.block == 0 || !known {
			at = len(elements)
			elements = append(elements, element{mark: m, parent: document, on: pages[m.page], height: height})
			kids = append(kids, out.add(&elements[at]))
			if m.block != 0 {
				byBlock[m.block] = at
			}
		} else {
			elements[at].more = append(elements[at].more, piece{pages[m.page], m.id})
		}
		owners[m.page] = append(owners[m.page], kids[at])
	}
	numbers := make(array, 0, 2*len(owners))
	for n, list := range owners {
		numbers = append(numbers, integer(n), out.add(list))
	}
	out.set(document, dict{"Type": name("StructElem"), "S": name("Document"), "P": root, "K": kids})
	out.set(root, dict{
		"Type": name("StructTreeRoot"), "K": document,
		"ParentTree": out.add(dict{"Nums": numbers}), "ParentTreeNextKey": integer(len(pages)),
	})
	return root
}

// put writes the element behind b, as a dictionary with its keys sorted.
func (e *element) put(b []byte) []byte {
	b = append(b, "<<"...)
	if f := e.figure; f != nil {
		if f.box[2] > 0 {
			left, top := f.box[0], e.height-f.box[1]
			b = append(b, "/A <</BBox ["...)
			b = append(appendNumber(b, left*pointsPerMM), ' ')
			b = append(appendNumber(b, (top-f.box[3])*pointsPerMM), ' ')
			b = append(appendNumber(b, (left+f.box[2])*pointsPerMM), ' ')
			b = append(appendNumber(b, top*pointsPerMM), "]/O /Layout/Placement /Block>>"...)
		}
		if f.alt != "" {
			b = appendWords(append(b, "/Alt "...), textString(f.alt))
		}
	}
	b = strconv.AppendInt(append(b, "/K ["...), int64(e.id), 10)
	for _, p := range e.more {
		if p.page == e.on {
			b = strconv.AppendInt(append(b, ' '), int64(p.id), 10)
			continue
		}
		b = strconv.AppendInt(append(b, " <</MCID "...), int64(p.id), 10) // the element began on another page
		b = append(appendRef(append(b, "/Pg "...), p.page), "/Type /MCR>>"...)
	}
	b = appendRef(append(b, "]/P "...), e.parent)
	b = appendRef(append(b, "/Pg "...), e.on)
	b = appendName(append(b, "/S "...), name(e.role))
	return append(b, "/Type /StructElem>>"...)
}
