package editor

import (
	"fmt"
	"strings"

	"refitcard/compiler/procedure"
)

// rows puts "name value" lines together, those without a value left out.
func rows(head string, pairs ...string) string {
	var b strings.Builder
	b.WriteString(head)
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			fmt.Fprintf(&b, "\n- %s: %s", pairs[i], pairs[i+1])
		}
	}
	return b.String()
}

func (v *View) partRow(p *procedure.Part) string {
	count := procedure.CountName(p.Qty, p.Name.Value)
	if p.UpTo {
		count = "up to " + count
	}
	var variants []string
	for _, x := range p.Variants {
		variants = append(variants, x.Value)
	}
	place := ""
	if p.PlaceAt.Known() {
		place = strings.Join(strings.Fields(p.PlaceAt.Text()), " ")
	}
	return rows(fmt.Sprintf("**%s** %s", escaped(count), useWords(p.Use)),
		"spec", escaped(p.Spec.Value),
		"number", escaped(p.Number.Value),
		"bin", escaped(v.Result.Settings.BinOf(p)),
		"place", escaped(place),
		"torque", torqueWords(p),
		"loads", loadWords(p),
		"turned by", turnedBy(p),
		"variants", escaped(strings.Join(variants, ", ")),
	)
}

// useWords says what becomes of a part.
func useWords(u procedure.Use) string {
	switch u {
	case procedure.ReplaceUse:
		return "replace: the old one is scrapped, a new one fitted"
	case procedure.Add:
		return "add: not on the machine before"
	case procedure.Omit:
		return "omit: comes off and stays off"
	case procedure.IfWorn:
		return "if worn: goes back unless it is worn"
	}
	return "reuse: comes off and goes back"
}

func (v *View) toolRow(t *procedure.Tool, c procedure.Choice) string {
	line := v.Result.Settings.CribOf(c)
	or := ""
	if len(t.Choices) > 1 {
		or = "one of: " + t.Whole
	}
	return rows("**"+escaped(c.Name)+"** tool",
		"details", escaped(c.Detail),
		"choice", escaped(or),
		"crib", escaped(line.Crib),
		"serial", escaped(line.Serial),
		"calibrated to", escaped(line.CalibratedTo),
		"turns", escaped(v.turnedWith(c)),
	)
}

func (v *View) supplyRow(s *procedure.Supply) string {
	amount := ""
	switch {
	case s.Quantity != nil:
		amount = s.Quantity.Running()
	case s.Count > 0:
		amount = fmt.Sprint(s.Count)
	}
	from, drains := "", ""
	if s.FromMachine {
		from = "the machine: not on the pick list"
	}
	if s.Drains != nil {
		drains = s.Drains.Running()
	}
	return rows("**"+escaped(s.Name.Value)+"** supply",
		"for the job", amount,
		"details", escaped(s.Detail),
		"from", from,
		"drains", drains,
		"bin", escaped(v.Result.Settings.SupplyBin(s)),
		"pack", escaped(v.Result.Settings.PackOf(s)),
	)
}
