package resolve

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

var relationWords = []struct {
	word string
	kind procedure.RelationKind
}{
	{"holds", procedure.Holds},
	{"clamps", procedure.Clamps},
	{"behind", procedure.Behind},
	{"under", procedure.Behind},
	{"seals", procedure.Seals},
	{"fills", procedure.Fills},
	{"locks", procedure.Locks},
}

// relations reads the Place cells, now that all parts are known.
func (r *resolver) relations() {
	linked := false
	for i, p := range r.p.Parts {
		if r.places[i] == "" {
			continue
		}
		p.Places = r.related.begin()
		last := ""
		for piece := range splitCommas(procedure.Text{Value: r.places[i], At: p.PlaceAt}) {
			last = r.relation(p, piece, last)
		}
		p.Places = r.related.end(p.Places)
		linked = linked || len(p.Places) > 0
	}
	if linked {
		r.circles()
	}
}

// relation reads one piece, "holds end cover". After "and" the word may be left out: "holds cover and plate". It gives the word.
func (r *resolver) relation(p *procedure.Part, piece procedure.Text, last string) string {
	word, rest, _ := strings.Cut(piece.Value, " ")
	word = strings.ToLower(word)
	if word == "faces" {
		p.Faces = append(p.Faces, piece)
		return word
	}
	if last == "faces" && !knownRelation(word) { // "faces outward, lip first"
		p.Faces = append(p.Faces, piece)
		return last
	}
	name := strings.TrimSpace(rest)
	if !knownRelation(word) {
		if last == "" || r.partNamed(piece.Value) == nil && r.supplyNamed(piece.Value) == nil {
			r.unknownPlace(p, piece, "relation")
			return last
		}
		word, name = last, piece.Value
	}
	for _, w := range relationWords {
		if w.word == word {
			r.relate(p, w.kind, piece, name)
		}
	}
	return word
}

func knownRelation(word string) bool {
	for _, w := range relationWords {
		if w.word == word {
			return true
		}
	}
	return false
}

func (r *resolver) unknownPlace(p *procedure.Part, piece procedure.Text, reason string) {
	offer := ""
	if reason == "relation" {
		var words []string
		for _, w := range relationWords {
			words = append(words, w.word)
		}
		word, rest, _ := strings.Cut(piece.Value, " ")
		if n := verb.Near(word, append(words, "faces")); n != "" {
			offer = n + " " + rest
		}
	}
	r.fault("part/unknown-place", piece.At, piece.Value, offer, reason).Thing = p.Name.Value
}

func (r *resolver) relate(p *procedure.Part, kind procedure.RelationKind, piece procedure.Text, name string) {
	rel := procedure.Relation{Kind: kind, At: piece.At, Name: procedure.Fold(name)}
	if kind == procedure.Seals || kind == procedure.Fills {
		rel.Supply = r.supplyNamed(name)
		if rel.Supply == nil { // a fluid that no step drains or fills need not be declared, but a slip of a declared one is a slip
			if offer := verb.Near(name, r.names.typed(isSupply)); offer != "" || name == "" {
				word, _, _ := strings.Cut(piece.Value, " ")
				r.fault("part/unknown-place", piece.At, piece.Value, word+" "+offer, "name").Thing = p.Name.Value
			}
		}
		p.Places = append(p.Places, rel)
		return
	}
	rel.Part = r.partNamed(name)
	if rel.Part == nil {
		offer := near(name, r.names.typed(isPart))
		if offer != "" {
			word, _, _ := strings.Cut(piece.Value, " ")
			offer = word + " " + offer
		}
		r.fault("part/unknown-place", piece.At, piece.Value, offer, "name").Thing = p.Name.Value
		return
	}
	p.Places = append(p.Places, rel)
}

// edge says that one part has to come off, or loose, before another, and which relation says so.
type edge struct {
	to  *procedure.Part
	of  *procedure.Part // the part whose row has the relation
	rel *procedure.Relation

	next int32 // the edge behind it from the same part, counted from 1
}

// circles reports relations that come back to where they began: nothing of them could ever be taken off.
func (r *resolver) circles() {
	n := len(r.p.Parts)
	edges := 0
	for _, p := range r.p.Parts {
		edges += len(p.Places)
	}
	room := make([]int32, 2*n)
	w := &walk{r: r, edges: make([]edge, 0, edges), first: room[:n], last: room[n:], state: make([]uint8, n)}
	for _, p := range r.p.Parts {
		for i := range p.Places {
			rel := &p.Places[i]
			switch {
			case rel.Part == nil:
			case rel.Kind == procedure.Behind:
				w.put(rel.Part, edge{p, p, rel, 0})
			default:
				w.put(p, edge{rel.Part, p, rel, 0})
			}
		}
	}
	way := make([]edge, 0, len(w.edges))
	for _, p := range r.p.Parts {
		w.visit(p, way)
	}
}

// walk follows the relations from part to part, each once.
type walk struct {
	r           *resolver
	edges       []edge
	first, last []int32 // of each part: its first edge and its last, counted from 1
	state       []uint8 // of each part
}

// The states of a part.
const (
	fresh = iota
	underway
	done
)

func (w *walk) put(p *procedure.Part, e edge) {
	w.edges = append(w.edges, e)
	n := int32(len(w.edges))
	if last := w.last[p.Stands]; last > 0 {
		w.edges[last-1].next = n
	} else {
		w.first[p.Stands] = n
	}
	w.last[p.Stands] = n
}

// visit tells whether the way came back to a part that is underway.
func (w *walk) visit(p *procedure.Part, way []edge) bool {
	switch w.state[p.Stands] {
	case done:
		return false
	case underway:
		w.r.circle(p, way)
		return true
	}
	w.state[p.Stands] = underway
	for k := w.first[p.Stands]; k > 0; k = w.edges[k-1].next {
		if e := w.edges[k-1]; w.visit(e.to, append(way, e)) {
			w.state[p.Stands] = done
			return true
		}
	}
	w.state[p.Stands] = done
	return false
}

// circle records one ring at the relation that closes it, the last one in the table.
func (r *resolver) circle(start *procedure.Part, way []edge) {
	from := 0
	for i, e := range way {
		if e.to == start && i < len(way)-1 {
			from = i + 1
		}
	}
	ring := way[from:]
	last := ring[0]
	for _, e := range ring {
		if e.rel.At.Start > last.rel.At.Start {
			last = e
		}
	}
	f := r.fault("part/unknown-place", last.rel.At, last.rel.At.Text(), "", "circle")
	f.Thing = last.of.Name.Value
	for _, e := range ring {
		if e.rel.At != last.rel.At {
			f.Related = append(f.Related, related(e.rel.At, e.of.Name.Value)...)
		}
		for i := range e.of.Places { // a ring can't be played: its relations count for nothing
			if e.of.Places[i].At == e.rel.At {
				e.of.Places[i].Part = nil
			}
		}
	}
}
