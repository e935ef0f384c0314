package draft

import (
	"slices"
	"strings"

	"refitcard/compiler/quantity"
)

// loose reads a clause without an order: a tool, a torque, a count, a value, or plain words.
func (r *reader) loose(c clause) {
	w := c.w
	if w[0].low == "dab" && r.smeared(w) {
		r.ordered = true
		return
	}
	bare := len(w) < 3 && toolNouns.has(w[len(w)-1].low)
	if found, n := r.d.toolAt(w, lead(w), lead(w) > 0 || w[0].q || bare); n > 0 && (lead(w) > 0 || w[0].q || marks.has(w[0].low) || n == len(w)) {
		r.tail(append([]run{{text: "with the"}}, append(tagged(found), r.runs(w[lead(w)+n:], true)...)...))
		return
	}
	if r.withBolts(w) || r.there(w) || r.heldBy(w) || r.also(w) || r.back(w) || r.nominally(w) || r.torqued(w) || r.counted(w) || r.value(w) {
		return
	}
	if objs, n := objects(w, 0); n == len(w) && len(r.step.pieces) == 0 && strings.Contains(w[n-1].stop, ":") && !slices.ContainsFunc(objs, func(o object) bool { return o.pron != "" || noName(o.name) || !nameable().MatchString(o.name) }) {
		r.subject = &objs // "fan guard: 8 screws"
		r.d.remember(objs)
		r.pending = append(r.pending, r.runs(w, true)...)
		return
	}
	runs := r.runs(w, true)
	for _, t := range w {
		if marks.has(t.low) {
			r.d.lastOne = nil // it speaks of another thing
		}
		r.valued = r.valued || t.q
	}
	if len(runs) > 0 && (r.last() != nil || len(w) < 3) {
		runs[0].comma = true
		r.tail(runs)
		return
	}
	r.step.pieces = append(r.step.pieces, &piece{tail: runs})
}

// also reads what only adds to the act before it: an order of tightening, an amount, another thing, a supply.
func (r *reader) also(w []tok) bool {
	if a := r.lastAct("torque"); a != nil && len(w) == 1 && w[0].q && w[0].kind == quantity.Torque && strings.Contains(w[0].open, "(") && !strings.Contains(a.torque, "(") && a.passes == "" {
		a.torque += " (" + w[0].print + ")" // the same in another unit
		return true
	}
	if a := r.lastAct("torque", "tighten"); a != nil && (a.order == "" || a.torque == "") && r.last().act == a {
		trial := *a
		if left := r.details(&trial, w); len(left) == 0 {
			if trial.torque != a.torque {
				trial.verb, trial.spell = "torque", "torque"
				for _, o := range a.objs {
					r.torqueOf(o.thing, trial.torque)
				}
			}
			*a = trial
			return true
		}
	}
	if w[0].low == "else" || w[0].low == "otherwise" {
		if a := r.lastAct("measure"); a != nil && a.limit != "" && len(w) > 1 {
			a.limit += ", else " + tagText(plainWords(w[1:]))
			return true
		}
	}
	if len(w) == 1 && w[0].q && w[0].kind == quantity.Volume {
		if a := r.lastAct("drain", "fill", "top up"); a != nil && a.amount == "" {
			a.amount = w[0].print
			if a.verb != "drain" {
				a.objs[0].thing.amount = append(a.objs[0].thing.amount, a.amount)
			}
			return true
		}
	}
	if w[0].low == "no" || w[0].low == "not" || w[0].low == "without" {
		return false
	}
	objs, n := objects(w, 0)
	if len(objs) == 1 && objs[0].isNew && objs[0].name != "" && n < len(w) && w[n-1].stop == "" && (w[n].low == "with" || arriving.has(w[n].low) && n+1 < len(w)) && len(r.step.pieces) == 0 {
		r.ordered = true
		r.acting(&act{verb: "install", spell: "install"}, objs, w[n:]) // "new gasket with a thin smear of sealer"
		return true
	}
	if len(objs) == 0 || n < len(w) || objs[0].name == "" {
		return false
	}
	if supplies.has(strings.ToLower(lastWord(objs[0].name))) && len(objs) == 1 && r.last() != nil && nameable().MatchString(objs[0].name) {
		r.tail([]run{{text: "with"}, {supply: r.d.thing(&objs[0], true)}})
		return true
	}
	a := r.lastAct("install", "remove")
	if a == nil && objs[0].isNew && (len(r.step.pieces) == 0 || r.lastAct() == nil) { // "new gasket, cover back on"
		a = &act{verb: "install", spell: "install"}
		r.ordered = true
	} else if a == nil || r.last().act != a || len(r.last().tail) > 0 {
		return false
	}
	for i, o := range objs {
		known := i > 0 || o.one || o.both || o.isNew || r.d.find(o.name) != nil
		if o.name == "" || !known || o.count > 0 && !o.isNew {
			return false
		}
	}
	r.acting(&act{verb: a.verb, spell: a.spell}, objs, nil)
	return true
}

var arriving = set("onto into over in on")

func lead(w []tok) int {
	if len(w) > 1 && (w[0].low == "with" || w[0].low == "using" || w[0].low == "use") {
		return 1
	}
	return 0
}

func tagged(found []*tool) []run {
	var all []run
	for i, t := range found {
		if i > 0 {
			all = append(all, run{text: "and"})
		}
		all = append(all, run{tool: t})
	}
	return all
}

// tail puts words behind the last piece, or keeps them for the next act.
func (r *reader) tail(runs []run) {
	if p := r.last(); p != nil {
		p.tail = append(p.tail, runs...)
		return
	}
	r.pending = append(r.pending, runs...)
}

// switched are things that are on or off without being taken off.
var switched = set("engine motor ignition power brake handbrake light lights key radio pump mains engine's radio lamp heater")

// facing are what tells which way round a thing goes.
var facing = set("side lip face chamfer arrow edge end nose")

// mains are what power comes through: with it off, the machine is.
var mains = set("power mains breaker isolator supply")

// plugged are things that are off or on by being plugged.
var plugged = set("lead leads battery cable connector wire plug-in neg negative")

func protects(objs []object) bool {
	return len(objs) > 0 && classes["protection"].has(strings.ToLower(lastWord(objs[0].name)))
}

// back reads "caliper back on", "new belt on", "guard off".
func (r *reader) back(w []tok) bool {
	objs, n := objects(w, 0)
	if len(objs) == 0 || n >= len(w) || w[n-1].stop != "" || objs[0].name == "" {
		return false
	}
	name := "install"
	k := n
	switch w[k].low {
	case "back":
		k++
		if k < len(w) && (w[k].low == "on" || w[k].low == "in") && w[k-1].stop == "" {
			k++
		}
	case "on", "in":
		k++
	case "off", "out":
		name = "remove"
		k++
	default:
		return false
	}
	if last := strings.ToLower(lastWord(objs[0].name)); facing.has(last) {
		return false // "boss side in": which way round
	}
	if k < len(w) && w[k-1].stop == "" && w[n].low != "back" && w[k].low != "as" && w[k].low != "together" {
		known := r.d.find(objs[0].name)
		switch {
		case name == "remove" && (preps.has(w[k].low) || marks.has(w[k].low)): // "4 nuts off the cover"
			if marks.has(w[k].low) {
				k--
				w = slices.Clone(w)
				w[k] = tok{low: "from", print: "from"}
			}
		case name == "install" && (objs[0].isNew || known != nil && known.off):
			k-- // "new drum on top"
		default:
			return false // "bolts on the cover …": what is said of them
		}
	}
	r.ordered = true
	if inClass("lock", objs[0]) {
		r.step.pieces = append(r.step.pieces, &piece{tail: r.runs(w, false)})
		return true
	}
	if mains.has(strings.ToLower(lastWord(objs[0].name))) {
		verb := map[string]string{"install": "unlock", "remove": "lock off"}[name]
		r.acting(&act{verb: verb, spell: verb}, objs, w[k:])
		return true
	}
	if last := lastWord(objs[0].name); toolNouns.has(last) || last == "meter" {
		r.step.pieces = append(r.step.pieces, &piece{tail: r.runs(w, true)})
		return true
	}
	if last := strings.ToLower(lastWord(objs[0].name)); switched.has(last) && len(objs) == 1 && r.d.find(objs[0].name) == nil {
		r.step.pieces = append(r.step.pieces, &piece{tail: r.runs(w, false)})
		return true
	}
	if protects(objs) && name == "install" {
		r.step.pieces = append(r.step.pieces, &piece{act: &act{verb: "wear", spell: "wear", words: plainWords(w[:n])}})
		return true
	}
	if plugged.has(strings.ToLower(lastWord(objs[0].name))) && objs[0].count == 0 && !objs[0].isNew {
		name = map[string]string{"install": "connect", "remove": "disconnect"}[name]
	}
	r.acting(&act{verb: name, spell: name}, objs, w[k:])
	return true
}

// counted reads "four screws" beside an act: they come off or go on with it.
func (r *reader) counted(w []tok) bool {
	a := r.lastAct()
	if a == nil || len(w) == 0 {
		return false
	}
	name := map[string]string{"open": "remove", "remove": "remove", "close": "install", "install": "install"}[a.verb]
	if len(w) == 2 && w[0].num > 0 && w[1].low == "off" && len(a.objs) == 1 && a.objs[0].count == 0 && a.objs[0].thing != nil {
		a.objs[0].count = w[0].num
		a.objs[0].thing.qty = max(a.objs[0].thing.qty, w[0].num)
		return true
	}
	if len(w) == 1 && threaded().MatchString(w[0].print) && len(a.objs) > 0 && a.objs[len(a.objs)-1].thing != nil {
		t := a.objs[len(a.objs)-1].thing
		t.spec, r.taken = append(t.spec, strings.ReplaceAll(w[0].print, "x", "×")), true
		return true
	}
	o, n := phrase(w, 0)
	if w[0].q && w[0].kind == quantity.Length && len(w) == 1 && len(a.objs) > 0 && a.objs[len(a.objs)-1].thing != nil && !a.objs[len(a.objs)-1].thing.supply {
		t := a.objs[len(a.objs)-1].thing
		t.spec, r.taken = append(t.spec, w[0].print), true
		return true
	}
	if name == "" || o.count == 0 || o.name == "" || !inClass("fastener", o) || n < len(w) {
		return false
	}
	before := len(r.step.pieces)
	r.acting(&act{verb: name, spell: name}, []object{o}, nil)
	if k := len(r.step.pieces); name == "remove" && a.verb == "remove" && k == before+1 { // the screws come off before what they hold
		r.step.pieces[k-1], r.step.pieces[k-2] = r.step.pieces[k-2], r.step.pieces[k-1]
	}
	return true
}

// measured are things that a bare value is said of: "gap at the floor 8..12 mm".
var measured = set("gap clearance sag play distance height depth thickness level free-play backlash tension runout")

// value reads "it should be 3..4 mm" behind a check, "the cover weighs 18 kg", and a value that is measured later.
func (r *reader) value(w []tok) bool {
	at := slices.IndexFunc(w, func(t tok) bool { return t.q })
	if at < 0 {
		return false
	}
	t := w[at]
	if t.kind == quantity.Length && at+1 < len(w) && (w[at+1].low == "across" || w[at+1].low == "a/f" || w[at+1].low == "af") {
		if n := len(r.d.lastMany); n > 0 && r.d.lastMany[n-1].thing != nil {
			x := r.d.lastMany[n-1].thing
			x.spec, r.taken = append(x.spec, t.print), true
			return true
		}
	}
	if t.kind == quantity.Mass && at > 1 && (w[at-1].low == "weighs" || w[at-1].low == "is") {
		r.d.facts(w)
		r.taken = true
		return false
	}
	a := r.lastAct("measure", "check", "record")
	if a == nil && t.limit && find(w, 1, []string{"for"}) > 0 && w[0].low == "you're" {
		a = r.d.lastCheck
	}
	if a != nil && a.limit == "" && t.kind != quantity.Torque && at == len(w)-1 && t.kind != quantity.Mass {
		if at == 0 || pronouns.has(w[0].low) || w[0].low == "you're" || w[0].low == "looking" || t.limit {
			a.limit = t.print
			if a.verb == "record" {
				a.verb, a.spell = "measure", "measure"
			}
			r.taken = true
			return true
		}
	}
	if t.limit && at > 0 && measured.has(w[0].low) {
		r.ordered = true
		p := &piece{act: &act{verb: "measure", spell: "measure", words: strings.ToLower(w[0].print[:1]) + plainWords(w[:at])[1:], limit: t.print}, tail: r.runs(w[at+1:], true)}
		r.step.pieces = append(r.step.pieces, p)
		return true
	}
	if t.limit && at > 1 {
		name := w[:at]
		for len(name) > 0 && (name[len(name)-1].low == "is" || name[len(name)-1].low == "be" || name[len(name)-1].low == "should" || name[len(name)-1].low == "must") {
			name = name[:len(name)-1]
		}
		for len(name) > 0 && marks.has(name[0].low) {
			name = name[1:]
		}
		if len(name) > 0 && len(name) < at {
			r.d.fact = &tok{low: plainWords(name), print: t.print}
			return true
		}
	}
	return false
}

// plainWords gives the words of a clause as they were typed, with the marks between them.
func plainWords(w []tok) string {
	var b strings.Builder
	for i, t := range w {
		if i > 0 {
			b.WriteByte(' ')
		}
		if strings.Contains(t.open, "(") {
			b.WriteString("(")
		}
		b.WriteString(t.print)
		if i+1 < len(w) || strings.Contains(t.stop, ")") && strings.Contains(b.String(), "(") {
			b.WriteString(strings.TrimRight(t.stop, ".!?;:,"))
			if i+1 < len(w) && strings.Contains(t.stop, ",") {
				b.WriteString(",")
			}
		}
	}
	s := b.String()
	if strings.Count(s, "(") > strings.Count(s, ")") {
		s = strings.Replace(s, "(", "", 1) // its other half stands in the next clause
	}
	return s
}
