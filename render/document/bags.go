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
	at := map[*procedure.Part]int{}
	for _, m := range play.Moves {
		if !m.Part.Fastener() || m.New {
			continue
		}
		i, known := at[m.Part]
		switch {
		case m.To == "off" && !known && returns(m.Part):
			at[m.Part] = len(bags)
			bags = append(bags, Bag{
				Count: min(m.N, m.Part.Qty), Item: m.Part.Name.Value, Detail: m.Part.Spec.Value,
				Off: m.Step.Name(), Where: held(m.Part),
			})
		case m.To == "off" && known && bags[i].On == "":
			bags[i].Count = min(bags[i].Count+m.N, m.Part.Qty)
		case known && bags[i].On == "" && (m.To == "on" || m.To == "hand" || m.To == "in"):
			bags[i].On = m.Step.Name()
		}
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
