package assembly

import (
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// ledger is a play underway.
type ledger struct {
	p       *procedure.Procedure
	verbs   *verb.Table
	variant string
	trace   bool

	groups    []*group // by the part's place in the table; nil for parts that this variant lacks
	openings  things[opening]
	fluids    map[*procedure.Supply]*fluid
	waits     things[named]
	marks     things[named]
	isolated  things[isolation]
	lastWork  handled
	firstWork handled
	cleared   bool // a check or a word to somebody came since the last work
	everSafe  bool // something was isolated
	bleeding  bleeding
	removals  []removal // of parts that seal a fluid
	supports  int
	locks     bool // some part locks another

	step       *procedure.Step
	act        *procedure.Act
	clock      int // counts acts
	candidates []candidate
	mutes      []mute
	deaf       bool // from deafAt on too many acts could not be read
	deafAt     int
	lost       []mute  // the words of acts that could not be read: a name in them may have been begun there
	past, log  []event // those before this copy parted from its ledger, which both read, and those since

	order map[*procedure.Step]int // where each step stands in the job
	lasts map[string]int          // where the last step of each condition stands
	open  []branch                // the conditions underway
	skips []string                // the conditions whose steps this copy does not do

	play   *Play
	silent bool // a copy that plays the other way of a branch: it records nothing
}

// candidate is a fault that stands unless a name of it is muted by then, or its late act never comes.
type candidate struct {
	at    int
	fault source.Fault
	names []string
	act   *procedure.Act // the act that it is about, nil for a row
	late  func() bool    // nil: it stands
	// second gives the late act that the fault points to beside its own place.
	second func() (event, bool)
}

// aside parts a name from a matter that is its own: a finding about "gear oil\x00wet" does not mute all else about gear oil.
const aside = "\x00"

// mute silences a name from an act on: what is wrong with it has been said.
type mute struct {
	at   int
	name string
}

// PlayAll plays a procedure through, once a variant. Faults of earlier stages about a declared thing mute it.
func PlayAll(p *procedure.Procedure, verbs *verb.Table, earlier []source.Fault, trace bool) []Play {
	names := []string{""}
	if len(p.Variants) > 0 {
		names = nil
		for _, v := range p.Variants {
			names = append(names, v.Value)
		}
	}
	var plays []Play
	for _, v := range names {
		l := newLedger(p, verbs, v)
		l.trace = trace
		for _, f := range earlier {
			if f.Thing != "" && spoils(f.Name) {
				l.mutes = append(l.mutes, mute{0, procedure.Fold(f.Thing)})
			}
			if f.Name == "tag/hidden" || f.Name == "tag/misplaced" {
				l.muteWords(strings.Trim(f.At.Text(), "{}")) // an act that nobody plays: what it would have done is not missed
			}
			if f.Name == "variant/unknown" {
				p.EachStep(func(s *procedure.Step) { // whose step it is is not known
					for _, act := range s.Acts {
						if s.At.Holds(f.At) {
							l.muteWords(act.Words)
						}
					}
				})
			}
		}
		plays = append(plays, l.run())
	}
	return plays
}

// spoils tells whether a fault of a declaration makes what the table says of the thing unreliable.
func spoils(rule string) bool {
	switch rule {
	case "part/bad-row", "part/unknown-use", "part/unknown-place", "part/repeated", "tag/bad-quantity", "tag/decimal-comma",
		"tag/reversed-range", "tag/dual-mismatch", "torque/bad-unit", "tag/missing-quantity", "torque/layout-count":
		return true
	}
	return false
}

func newLedger(p *procedure.Procedure, verbs *verb.Table, variant string) *ledger {
	l := &ledger{p: p, verbs: verbs, variant: variant, play: &Play{Variant: variant}}
	l.groups = newGroups(p.Parts, variant)
	for _, g := range l.groups {
		l.locks = l.locks || g != nil && slices.ContainsFunc(g.part.Places, func(r procedure.Relation) bool { return r.Kind == procedure.Locks })
	}
	return l
}

// group finds the units of a part, in the row that this variant has; nil when it has none.
func (l *ledger) group(p *procedure.Part) *group {
	if p = p.For(l.variant); p == nil {
		return nil
	}
	return l.groups[p.Stands]
}

// clone copies all state, to play another way from here on without recording anything.
func (l *ledger) clone() *ledger {
	c := *l
	c.silent, c.open = true, nil
	c.groups = cloned(l.groups)
	c.openings = l.openings.clone()
	c.fluids = copied(l.fluids)
	c.waits = l.waits.clone()
	c.marks = l.marks.clone()
	c.isolated = l.isolated.clone()
	c.candidates = slices.Clip(l.candidates)
	c.mutes, c.removals = slices.Clip(l.mutes), slices.Clip(l.removals)
	c.past, c.log = slices.Clip(l.log), nil
	if len(l.past) > 0 {
		c.past = slices.Concat(l.past, l.log)
	}
	play := Play{Variant: l.variant, Spent: slices.Clone(l.play.Spent)}
	for i := range play.Spent {
		x := &play.Spent[i]
		x.Acts = slices.Clip(x.Acts)
	}
	c.play = &play
	return &c
}

func copied[K comparable, V any](m map[K]*V) map[K]*V {
	if len(m) == 0 {
		return nil
	}
	c := make(map[K]*V, len(m))
	for k, v := range m {
		x := *v
		c[k] = &x
	}
	return c
}

func (l *ledger) run() Play {
	l.begin(l.p.Starts)
	l.play.Start = l.state(nil)
	n := 0
	for _, s := range l.p.Stages {
		n += len(s.Steps)
	}
	all := make([]*procedure.Step, 0, n)
	for _, s := range l.p.Stages {
		all = append(all, s.Steps...)
	}
	if conditional(all) {
		l.order, l.lasts = make(map[*procedure.Step]int, n), map[string]int{}
		l.conditions(all, true)
	}
	n = touching(all)
	l.log, l.play.Moves, l.play.Spent = make([]event, 0, n), make([]Move, 0, n), make([]Spent, 0, len(l.p.Supplies))
	l.steps(all)
	l.step, l.act = nil, nil
	l.clock++
	l.play.Due = l.due()
	l.ends()
	l.play.End = l.state(nil)
	l.judge()
	return *l.play
}

// judge turns candidates into faults, in the order of the acts; each mutes its names for the rest.
func (l *ledger) judge() {
	if len(l.candidates) == 0 {
		return
	}
	slices.SortStableFunc(l.candidates, func(a, b candidate) int { return a.at - b.at })
	muted := map[string]bool{}
	slices.SortStableFunc(l.mutes, func(a, b mute) int { return a.at - b.at })
	next := 0
	var stand []candidate // what the faults were, one for one
	for _, c := range l.candidates {
		for next < len(l.mutes) && l.mutes[next].at <= c.at {
			muted[l.mutes[next].name] = true
			next++
		}
		if l.deaf && c.at >= l.deafAt {
			continue
		}
		if slices.ContainsFunc(c.names, func(n string) bool {
			base, _, _ := strings.Cut(n, aside)
			return muted[n] || muted[base] || l.lostBefore(c.at, base)
		}) {
			if last := c.fault.Words[len(c.fault.Words)-1]; c.fault.Name == "order/behind" || last == "locked" || last == "off while held" {
				for _, n := range c.names { // the act was not done in the ledger: what follows from that is no slip
					muted[n] = true
				}
			}
			continue
		}
		if c.late != nil && !c.late() {
			continue
		}
		for _, n := range c.names {
			muted[n] = true
		}
		if i := l.partOf(stand, c); i >= 0 {
			l.play.Faults[i].Related = append(l.play.Faults[i].Related, source.Related{At: c.fault.At, Words: "also", Step: c.fault.Step})
			continue
		}
		stand = append(stand, c)
		if c.second != nil {
			if e, ok := c.second(); ok {
				c.fault.Related = append(c.fault.Related, e.deed.related("later")...)
			}
		}
		l.play.Faults = append(l.play.Faults, c.fault)
	}
}

// maxCandidates is how many slips are kept in one play; from there on nobody reads on, and each costs time.
const maxCandidates = 20_000

// full tells whether no more candidates are kept.
func (l *ledger) full() bool { return len(l.candidates) >= maxCandidates }

// find records a candidate at the act at hand. names are what it is about, folded: the first is the thing.
func (l *ledger) find(name string, at source.Span, words []string, names ...string) *candidate {
	f := source.Fault{Name: name, At: at, Words: words, Variant: l.variant}
	if l.step != nil {
		f.Step = l.step.Number
	}
	if len(names) > 0 {
		f.Thing, _, _ = strings.Cut(names[0], aside)
	}
	c := candidate{at: l.clock, fault: f, names: names, act: l.act}
	if l.full() {
		return &c
	}
	l.candidates = append(l.candidates, c)
	return &l.candidates[len(l.candidates)-1]
}

// mute silences a name from here on.
func (l *ledger) mute(name string) { l.mutes = append(l.mutes, mute{l.clock, procedure.Fold(name)}) }

// related points at an act.
func (h handled) related(words string) []source.Related {
	if h.act == nil {
		return nil
	}
	r := source.Related{At: h.at, Words: words}
	if h.step != nil {
		r.Step = h.step.Number
	}
	return []source.Related{r}
}

// inner is the words of a tag without its braces.
func inner(a *procedure.Act) source.Span {
	at := a.At
	if at.End-at.Start > 1 && at.File.Text[at.Start] == '{' && at.File.Text[at.End-1] == '}' {
		at.Start++
		at.End--
	}
	return at
}

// at is the place of an object: the whole tag when it is the only one.
func (l *ledger) at(o *procedure.Object) source.Span { return placeOf(l.act, o) }

func placeOf(a *procedure.Act, o *procedure.Object) source.Span {
	if len(a.Objects) == 1 {
		return inner(a)
	}
	return o.At
}

func (l *ledger) here(o *procedure.Object) handled { return handled{l.at(o), l.step, l.act} }
