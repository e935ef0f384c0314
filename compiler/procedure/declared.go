package procedure

import (
	"refitcard/compiler/hardware"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
)

// Use is what becomes of a part.
type Use int

// The uses of the Use column.
const (
	Reuse Use = iota
	ReplaceUse
	Add
	Omit
	IfWorn
)

// String gives the word of the column.
func (u Use) String() string {
	return [...]string{"reuse", "replace", "add", "omit", "if worn"}[u]
}

// Part is one row of the parts table.
type Part struct {
	At       source.Span // the row
	Name     Text
	Qty      int
	UpTo     bool // "up to 3": an add part that is fitted as needed
	QtyAt    source.Span
	Spec     Text
	Hardware *hardware.Spec // what was understood of Spec; never nil, as parts that have none share NoSpec, and equal cells one
	Number   Text
	Use      Use
	UseAt    source.Span
	PlaceAt  source.Span
	Places   []Relation
	Faces    []Text // "faces …": the way round
	Torque   Torque
	Layout   Text
	Variants []Text // empty: all
	Stands   int    // where it stands among the parts, from 0
	Included bool
	Twins    []*Part // rows of the same name for other variants, itself among them; empty when there are none
}

// For gives the row of this name that a variant has, nil when it has none.
func (p *Part) For(variant string) *Part {
	if p.In(variant) {
		return p
	}
	for _, t := range p.Twins {
		if t.In(variant) {
			return t
		}
	}
	return nil
}

// Fastener tells whether it is tightened: its Torque cell is filled, or its Spec has a thread.
func (p *Part) Fastener() bool { return p.Torque.Written || p.Hardware.Thread != nil }

// In tells whether the variant has it.
func (p *Part) In(variant string) bool {
	if len(p.Variants) == 0 || variant == "" {
		return true
	}
	for _, v := range p.Variants {
		if v.Value == variant {
			return true
		}
	}
	return false
}

// Relation is one entry of the Place column.
type Relation struct {
	Kind   RelationKind
	At     source.Span
	Part   *Part   // of holds, clamps, behind, locks; nil when unknown
	Supply *Supply // of seals, fills; nil when the fluid is not declared as a supply
	Name   string  // as typed
}

// RelationKind is the word of a relation.
type RelationKind int

// The relations.
const (
	Holds RelationKind = iota
	Clamps
	Behind // "behind" and "under"
	Seals
	Fills
	Locks
)

// Torque is a tightening torque as the table or a tag gives it.
type Torque struct {
	At        source.Span
	Written   bool            // the cell is filled
	Value     *quantity.Value // nil for hand-tight, by setting, an angle alone, or when not written
	Angle     *quantity.Value // "+ 90°" or "then 90°"; a fraction of a turn is turned into degrees
	HandTight bool
	BySetting bool
}

// Tool is one bullet of the tools.
type Tool struct {
	At      source.Span
	Whole   string   // as typed, details and all
	Choices []Choice // one, or the sides of "a or b"
}

// Choice is one tool of a bullet.
type Choice struct {
	Name   string // before the first comma: "torque wrench"
	NameAt source.Span
	Detail string // behind it: "5–50 N·m"
	Kind   hardware.Tool
}

// Supply is one bullet of the supplies.
type Supply struct {
	At          source.Span
	Name        Text
	Quantity    *quantity.Value // with a unit
	Count       int             // without one: "shop towel, 4"
	QtyAt       source.Span     // unknown when there is no quantity
	Detail      string          // the rest, as typed: "ISO VG 220"
	FromMachine bool            // "from the machine": not on the pick list
	Drains      *quantity.Value // "drains 1.2 L"
}

// Layout is where the fasteners of a part sit.
type Layout struct {
	At     source.Span
	Name   Text    // of the layout block
	Parts  []*Part // that name it in their Layout column, or through a letter
	Places []LayoutPlace
	Step   *Step // the step it stands in, nil elsewhere
}

// LayoutPlace is one fastener: X in characters, Y in lines.
type LayoutPlace struct {
	X, Y  int
	Order int   // fixed by digits, 0 when not
	Part  *Part // by its letter; nil when the layout has one part
	At    source.Span
}

// Stack is a pile of parts with a target.
type Stack struct {
	At       source.Span
	Name     Text
	Target   *quantity.Value
	TargetAt source.Span
	Layers   []Layer
	Step     *Step
}

// Layer is one entry of a stack: Count pieces of Part. Alternating layers follow one another in turn.
type Layer struct {
	At         source.Span
	Count      int
	Part       *Part
	Alternates bool // with the layer before it
}
