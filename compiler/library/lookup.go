package library

import (
	"strings"

	"refitcard/compiler/procedure"
)

// BinOf finds the bin of a part: by its number, else by its name. Empty when the stock list does not have it.
func (s *Settings) BinOf(p *procedure.Part) string { return s.StockOf(p).Bin }

// nothing is the line of what the stock list does not have.
var nothing = StockLine{Held: -1}

// StockOf finds the line of a part: by its number, else by its name.
func (s *Settings) StockOf(p *procedure.Part) StockLine {
	if s == nil {
		return nothing
	}
	name := procedure.Fold(p.Name.Value)
	for _, l := range s.Stock {
		if p.Number.Value != "" && strings.EqualFold(l.Number, p.Number.Value) {
			return l
		}
	}
	for _, l := range s.Stock {
		if procedure.Fold(l.Item) == name && (l.Number == "" || p.Number.Value == "") {
			return l
		}
	}
	return nothing
}

// SupplyOf finds the line of a supply: its name with its details, else its name alone.
func (s *Settings) SupplyOf(x *procedure.Supply) StockLine {
	if s == nil {
		return nothing
	}
	full, name := procedure.Fold(x.Name.Value+" "+x.Detail), procedure.Fold(x.Name.Value)
	plain := nothing
	for _, l := range s.Stock {
		switch item := procedure.Fold(strings.ReplaceAll(l.Item, ",", " ")); {
		case item == full:
			return l
		case item == name && plain.Item == "":
			plain = l
		}
	}
	return plain
}

// SupplyBin finds the bin of a supply; empty when the stock list does not have it.
func (s *Settings) SupplyBin(x *procedure.Supply) string { return s.SupplyOf(x).Bin }

// PackOf finds the pack that a supply is drawn in, such as "1 L" or "10"; empty when the stock list does not say.
func (s *Settings) PackOf(x *procedure.Supply) string { return s.SupplyOf(x).Pack }

// CribOf finds the line of the tool crib for a tool: its name with its details, else its name alone.
func (s *Settings) CribOf(c procedure.Choice) CribLine {
	if s == nil {
		return CribLine{}
	}
	full, name := procedure.Fold(c.Name+" "+c.Detail), procedure.Fold(c.Name)
	var plain CribLine
	for _, l := range s.Crib {
		switch tool := procedure.Fold(strings.ReplaceAll(l.Tool, ",", " ")); {
		case tool == full:
			return l
		case tool == name && plain.Tool == "":
			plain = l
		}
	}
	return plain
}
