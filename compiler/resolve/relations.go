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
	for _, p := range r.p.Parts {
		if !p.PlaceAt.Known() {
			continue
		}
		last := ""
		for _, piece := range splitCommas(procedure.Text{Value: p.PlaceAt.Text(), At: p.PlaceAt}) {
			last = r.relation(p, piece, last)
		}
	}
	r.circles()
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
			if offer := verb.Near(name, r.names.supplies); offer != "" || name == "" {
				word, _, _ := strings.Cut(piece.Value, " ")
				r.fault("part/unknown-place", piece.At, piece.Value, word+" "+offer, "name").Thing = p.Name.Value
			}
		}
		p.Places = append(p.Places, rel)
		return
	}
	rel.Part = r.partNamed(name)
	if rel.Part == nil {
		offer := near(name, r.names.parts)
		if offer != "" {
			word, _, _ := strings.Cut(piece.Value, " ")
			offer = word + " " + offer
		}
		r.fault("part/unknown-place", piece.At, piece.Value, offer, "name").Thing = p.Name.Value
		return
	}
	p.Places = append(p.Places, rel)
}

func (r *resolver) partNamed(name string) *procedure.Part {
	t := tokens(strings.TrimPrefix(procedure.Fold(name), "the "))
	if e, n := r.names.match(t, 0, isPart); n > 0 && n == len(t) {
		return e.part
	}
	return nil
}

func (r *resolver) supplyNamed(name string) *procedure.Supply {
	t := tokens(strings.TrimPrefix(procedure.Fold(name), "the "))
	if e, n := r.names.match(t, 0, isSupply); n > 0 && n == len(t) {
		return e.supply
	}
	return nil
}

// edge says that one part has to come off, or loose, before another, and which relation says so.
type edge struct {
	to  *procedure.Part
	of  *procedure.Part // the part whose row has the relation
	rel procedure.Relation
}

// circles reports relations that come back to where they began: nothing of them could ever be taken off.
func (r *resolver) circles() {
	edges := map[*procedure.Part][]edge{}
	for _, p := range r.p.Parts {
		for _, rel := range p.Places {
			switch {
			case rel.Part == nil:
			case rel.Kind == procedure.Behind:
				edges[rel.Part] = append(edges[rel.Part], edge{p, p, rel})
			default:
				edges[p] = append(edges[p], edge{rel.Part, p, rel})
			}
		}
	}
	const underway, done = 1, 2
	state := map[*procedure.Part]int{}
	var visit func(p *procedure.Part, way []edge) bool
	visit = func(p *procedure.Part, way []edge) bool {
		switch state[p] {
		case done:
			return false
		case underway:
			r.circle(p, way)
			return true
		}
		state[p] = underway
		for _, e := range edges[p] {
			if visit(e.to, append(way, e)) {
				state[p] = done
				return true
			}
		}
		state[p] = done
		return false
	}
	for _, p := range r.p.Parts {
		visit(p, nil)
	}
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
