package document

import (
	"refitcard/compiler/assembly"
	"refitcard/compiler/procedure"
)

// bags lists the fasteners that come off and go back, in the order in which they come off.
func (g *gatherer) bags(in PickInput) {
	for _, b := range bagsOf(in.Proc, playOf(in.Plays, in.Variant)) {
		b.Letter = letter(len(g.list.Bags))
		if g.several {
			b.Job = in.Proc.Number.Value
		}
		g.list.Bags = append(g.list.Bags, b)
	}
}

// playOf finds the play of a variant, the first one when there is none of that name.
func playOf(plays []assembly.Play, variant string) assembly.Play {
	for _, p := range plays {
		if p.Variant == variant {
			return p
		}
	}
	if len(plays) == 0 {
		return assembly.Play{}
	}
	return plays[0]
}

func bagsOf(p *procedure.Procedure, play assembly.Play) []Bag {
	var bags []Bag
	for _, t := range bagged(p, play) {
		bags = append(bags, Bag{
			Count: t.n, Item: t.part.Name.Value, Detail: t.part.Spec.Value, Off: t.off.Name(), On: t.on.Name(), Where: held(t.part),
		})
	}
	return bags
}

// returns tells whether the part that came off goes back on.
func returns(p *procedure.Part) bool {
	return p.Use == procedure.Reuse || p.Use == procedure.IfWorn
}

// held names what a fastener goes back on.
func held(p *procedure.Part) string {
	for _, r := range p.Places {
		if (r.Kind == procedure.Holds || r.Kind == procedure.Clamps) && r.Part != nil {
			return r.Part.Name.Value
		}
	}
	return ""
}

// letter names bags A to Z, then AA, AB …
func letter(n int) string {
	s := string(rune('A' + n%26))
	if n >= 26 {
		return letter(n/26-1) + s
	}
	return s
}
