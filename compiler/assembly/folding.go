package assembly

import (
	"slices"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// partOf finds the fault that a further one only says again, -1 for none: the same of another thing that one act handled, or
// what can't be done in one step to a thing that is held by, holds, or stands behind what could not be done there before.
func (l *ledger) partOf(stand []candidate, c candidate) int {
	return slices.IndexFunc(stand, func(s candidate) bool {
		if s.act == nil || c.act == nil || s.fault.At.File != c.fault.At.File {
			return false
		}
		if s.fault.Name == c.fault.Name && (s.act == c.act || s.act.Step == c.act.Step && forgotten(c.fault.Name)) {
			return true
		}
		if s.fault.Name == "refit/already-off" && c.fault.Name == "refit/already-off" && l.neverInstalled(s) && l.neverInstalled(c) {
			return true
		}
		return impossible(s.fault.Name) && impossible(c.fault.Name) && s.act.Step == c.act.Step &&
			(s.fault.Name == c.fault.Name || l.relatedNames(s.names, c.names))
	})
}

// neverInstalled tells whether what a fault is about came off and no act puts it on: several such may want one missing act.
func (l *ledger) neverInstalled(c candidate) bool {
	if c.act.Verb.Effect == verb.Remove {
		return false
	}
	for _, g := range l.groups {
		if g == nil || len(c.names) == 0 || procedure.Fold(g.part.Name.Value) != c.names[0] {
			continue
		}
		return !g.put
	}
	return false
}

// forgotten tells whether a fault says that an act is missing: two things that one step leaves so may want the same one.
func forgotten(fault string) bool {
	return fault == "refit/left-off" || fault == "refit/left-open" || fault == "refit/not-torqued"
}

// impossible tells whether a fault says that an act can't be done where it stands.
func impossible(fault string) bool {
	switch fault {
	case "refit/already-on", "refit/already-off", "refit/used-after-scrap", "order/behind", "order/held", "order/filled-open", "part/too-many",
		"refit/never-opened":
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
	for _, x := range l.groups { // what came off in one act goes back in one
		if x != nil && x != g && x.lying() > 0 && x.took.act != nil && x.took.act == g.took.act {
			names = append(names, procedure.Fold(x.part.Name.Value))
		}
	}
	return names
}
