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
	alt      string
	box      [4]float64 // of a figure: left, top, width, height in mm
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
	m := mark{page: t.page, id: t.next, role: role, block: x.Block}
	if role == sheet.Figure {
		m.alt = x.String
	}
	if t.open && !t.decor && x.Block != 0 && t.current.block == x.Block && t.current.role == role {
		return page
	}
	return t.element(page, m)
}

// figure marks a picture; one without words for it is decoration.
func (t *tagger) figure(page []byte, alt string, box [4]float64) []byte {
	if alt == "" {
		return t.artifact(page)
	}
	return t.element(page, mark{page: t.page, id: t.next, role: sheet.Figure, alt: alt, box: box})
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

// structure writes the structure tree: a document whose children are the elements in the order in which they are drawn.
// It gives the tree's root, and fills in for each page which element owns which piece.
func structure(out *output, marks []mark, pages []ref, height float64) ref {
	root, document := out.reserve(), out.reserve()
	var kids array
	byBlock := map[int]ref{}
	owners := make([]array, len(pages))
	pieces := map[ref]array{}
	elements := map[ref]dict{}
	for _, m := range marks {
		e, known := byBlock[m.block]
		if m.block == 0 || !known {
			e = out.reserve()
			kids = append(kids, e)
			elements[e] = element(m, document, pages[m.page], height)
			if m.block != 0 {
				byBlock[m.block] = e
			}
		}
		piece := any(integer(m.id))
		if elements[e]["Pg"] != pages[m.page] { // the element began on another page
			piece = dict{"Type": name("MCR"), "Pg": pages[m.page], "MCID": integer(m.id)}
		}
		pieces[e] = append(pieces[e], piece)
		owners[m.page] = append(owners[m.page], e)
	}
	for e, d := range elements { // each is set in its own place: the order does not matter
		d["K"] = pieces[e]
		out.set(e, d)
	}
	numbers := array{}
	for n, list := range owners {
		if list == nil {
			list = array{}
		}
		numbers = append(numbers, integer(n), out.add(list))
	}
	out.set(document, dict{"Type": name("StructElem"), "S": name("Document"), "P": root, "K": kids})
	out.set(root, dict{
		"Type": name("StructTreeRoot"), "K": document,
		"ParentTree": out.add(dict{"Nums": numbers}), "ParentTreeNextKey": integer(len(pages)),
	})
	return root
}

func element(m mark, parent, page ref, height float64) dict {
	e := dict{"Type": name("StructElem"), "S": name(m.role), "P": parent, "Pg": page}
	if m.alt != "" {
		e["Alt"] = textString(m.alt)
	}
	if m.box[2] > 0 {
		left, top := m.box[0], height-m.box[1]
		e["A"] = dict{"O": name("Layout"), "Placement": name("Block"), "BBox": array{
			decimal(left * pointsPerMM), decimal((top - m.box[3]) * pointsPerMM),
			decimal((left + m.box[2]) * pointsPerMM), decimal(top * pointsPerMM),
		}}
	}
	return e
}
