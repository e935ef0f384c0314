package assembly

import (
	"slices"

	"refitcard/compiler/procedure"
)

// partOf finds the fault that a further one only says again, -1 for none: the same of another thing that one act handled, or
// what can't be done in one step to a thing that is held by, holds, or stands behind what could not be done there before.
func (l *ledger) partOf(stand []candidate, c candidate) int {
	return slices.IndexFunc(stand, func(s candidate) bool {
		if s.act == nil || c.act == nil || s.fault.At.File != c.fault.At.File {
			return false
		}
		if s.act == c.act && s.fault.Name == c.fault.Name {
			return true
		}
		return impossible(s.fault.Name) && impossible(c.fault.Name) && s.act.Step == c.act.Step &&
			(s.fault.Name == c.fault.Name || l.relatedNames(s.names, c.names))
	})
}

// impossible tells whether a fault says that an act can't be done where it stands.
func impossible(fault string) bool {
	switch fault {
	case "refit/already-on", "refit/already-off", "refit/used-after-scrap", "order/behind", "order/held", "order/filled-open", "part/too-many":
		return true
	}
	return false
}

// relatedNames tells whether a part of one list has a relation to one of the other.
func (l *ledger) relatedNames(a, b []string) bool {
	for _, p := range l.p.Parts {
		name := procedure.Fold(p.Name.Value)
		for _, r := range p.Places {
			if slices.Contains(a, name) && slices.Contains(b, r.Name) || slices.Contains(b, name) && slices.Contains(a, r.Name) {
				return true
			}
		}
	}
	return false
}

// onWith adds to the names of a fault what holds, or clamps, a part that never came off and never came off itself: the
// act, or the line under starts, that was left out would have taken both.
func (l *ledger) onWith(g *group, names []string) []string {
	for _, x := range l.groups {
		if x == nil || x.off() > 0 {
			continue
		}
		for _, r := range x.part.Places {
			if r.Part == g.part && (r.Kind == procedure.Holds || r.Kind == procedure.Clamps) {
				names = append(names, procedure.Fold(x.part.Name.Value))
			}
		}
	}
	return names
}

// offWith adds to the names of a fault what a fastener that is off would hold and what is off with it: one act that was
// left out is missed at both.
func (l *ledger) offWith(g *group, names []string) []string {
	for _, r := range g.part.Places {
		if r.Part == nil || r.Kind != procedure.Holds && r.Kind != procedure.Clamps {
			continue
		}
		if x := l.group(r.Part); x != nil && x.off() > 0 {
			names = append(names, procedure.Fold(x.part.Name.Value))
		}
	}
	for _, x := range l.groups { // a bolt and its nut
		if x != nil && x != g && x.off() > 0 && x.part.Hardware.Thread != nil && g.part.Hardware.Thread != nil &&
			sameThread(x.part, g.part) && sameRelations(x.part, g.part) {
			names = append(names, procedure.Fold(x.part.Name.Value))
		}
	}
	return names
}
