package editor

import (
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/verb"
)

// valueOffers offers the torque of the table behind "to".
func (c *cursor) valueOffers(body int) []Offer {
	typed := c.word(body)
	i := strings.LastIndex(typed, " to ")
	if i < 0 {
		return nil
	}
	var list []Offer
	for _, p := range c.v.Result.Proc.Parts {
		named := procedure.Fold(typed[:i])
		if p.Torque.Value != nil && (strings.Contains(named, procedure.Fold(p.Name.Value)) || strings.Contains(named, procedure.Fold(procedure.Plural(p.Name.Value)))) {
			list = append(list, Offer{Text: p.Torque.At.Text(), Detail: "the table's value for the " + p.Name.Value, Kind: ValueOffer})
		}
	}
	return c.fitting(body+i+len(" to "), list)
}

// unitOffers lists units behind a figure: nil where none stands before the cursor.
func (c *cursor) unitOffers(body int) []Offer {
	typed := c.word(body)
	unit := len(typed)
	for unit > 0 && !(typed[unit-1] == ' ' || '0' <= typed[unit-1] && typed[unit-1] <= '9') {
		unit--
	}
	figure := strings.TrimRight(typed[:unit], " ")
	if figure == "" || figure[len(figure)-1] < '0' || figure[len(figure)-1] > '9' {
		return nil
	}
	kinds := c.unitKinds(body)
	if len(kinds) == 0 {
		return nil
	}
	space := ""
	if figure == typed[:unit] {
		space = " "
	}
	var list []Offer
	for _, u := range quantity.Units() {
		if slices.Contains(kinds, u.Kind) && strings.HasPrefix(strings.ToLower(plain.Replace(u.Name)), strings.ToLower(plain.Replace(typed[unit:]))) {
			text := space + u.Name
			if u.Joined {
				text = u.Name
			}
			list = append(list, c.put(body+unit, Offer{Text: text, Kind: UnitOffer}))
		}
	}
	return list
}

// plain takes the point out of a unit: "Nm" is how "N·m" is typed.
var plain = strings.NewReplacer("·", "", "-", "")

// unitKinds tells which quantities make sense at the cursor: those of the verb, or of the column.
func (c *cursor) unitKinds(body int) []quantity.Kind {
	if c.tag < 0 {
		if strings.EqualFold(c.headOf(strings.Count(strings.ReplaceAll(c.before, `\|`, ""), "|")-1), "torque") {
			return []quantity.Kind{quantity.Torque}
		}
		return nil
	}
	x, _ := c.v.Result.Settings.Verbs.Longest(strings.TrimLeft(string(c.v.File.Text[c.tag:body]), " \n\r\t"))
	if x == nil {
		return nil
	}
	switch x.Takes {
	case verb.Torque:
		if !strings.Contains(c.word(body), " to ") && !strings.Contains(c.word(body), "passes") {
			return nil // a count
		}
		return []quantity.Kind{quantity.Torque}
	case verb.Duration, verb.OneThing:
		return []quantity.Kind{quantity.Time}
	case verb.Fluids, verb.Supply:
		return []quantity.Kind{quantity.Volume, quantity.Mass, quantity.Length}
	case verb.Measure, verb.Limit:
		return []quantity.Kind{
			quantity.Length, quantity.Pressure, quantity.Torque, quantity.Temperature, quantity.Voltage, quantity.Resistance, quantity.Current,
			quantity.Time, quantity.Rotation, quantity.Angle, quantity.Volume, quantity.Mass, quantity.Flow,
		}
	}
	return nil
}
