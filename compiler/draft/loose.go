package draft

import (
	"slices"
	"strings"

	"refitcard/compiler/quantity"
)

// handled are the verbs whose things are parts of the table.
var handled = set("remove install replace discard loosen tighten snug torque")

// acting adds an act on things, with what the rest of its clause says of it.
func (r *reader) acting(a *act, objs []object, rest []tok) {
	if len(objs) > 1 {
		objs = slices.DeleteFunc(slices.Clone(objs), func(o object) bool { return a.verb == "lock off" && inClass("lock", o) })
	}
	if slices.ContainsFunc(rest[:min(3, len(rest))], func(t tok) bool { return t.low == "each" || t.low == "every" }) {
		objs = slices.Clone(objs)
		for i := range objs {
			objs[i].each = true
		}
	}
	a.objs = r.resolve(objs, handled[a.verb])
	if len(a.objs) == 0 {
		r.lost = true
		return
	}
	if prior := r.lastAct(); a.verb == "lock off" && prior != nil && prior.verb == "lock off" && prior.objs[0].name == a.objs[0].name {
		return // "switch the pump off and lock it off"
	}
	if rest = r.change(a, rest); len(a.objs) == 0 {
		return
	}
	switch a.verb {
	case "lock off":
		r.d.isolated = &a.objs[0]
	case "support":
		if inClass("stand", objs[0]) && len(rest) > 0 { // "put an axle stand under the axle"
			more, next := objects(rest, 0)
			if len(more) == 0 {
				r.lost = true
				return
			}
			if found, n := r.d.toolAt([]tok{{low: objs[0].name, print: objs[0].name}}, 0, true); n > 0 {
				r.pending = append(r.pending, run{text: "on the"}, run{tool: found[0]})
			}
			a.objs, rest = r.resolve(more, false), rest[next:]
		}
		if len(a.objs) > 0 {
			r.d.supported = &a.objs[0]
		}
	case "release":
		if inClass("stand", objs[0]) {
			if r.d.supported == nil {
				r.plain(append([]tok{{low: "take", print: "take"}}, rest...))
				r.lost = true
				return
			}
			a.objs = []object{*r.d.supported}
		}
	case "mark":
		r.d.marked = &a.objs[0]
	case "align":
		if r.d.marked != nil && (lastWord(a.objs[0].name) == "mark" || a.objs[0].name == "") {
			a.objs = []object{*r.d.marked}
		}
	}
	for _, b := range r.bare {
		b.objs = slices.Clone(a.objs)
		r.step.pieces = append(r.step.pieces, &piece{act: b})
	}
	r.bare = nil
	p := &piece{act: a}
	rest, until := r.until(rest)
	rest = r.together(a, rest)
	more := r.details(a, rest)
	p.tail = append(more, r.pending...)
	r.pending = nil
	r.add(p)
	if until != nil {
		r.step.pieces = append(r.step.pieces, until)
	}
}

// change tells what "replace it with a new one" means: new on, where the old one is off already; and leaves out what was
// said twice ("unscrew the nut and take it out").
func (r *reader) change(a *act, rest []tok) []tok {
	t := a.objs[0].thing
	if t == nil || len(a.objs) > 1 {
		for _, o := range a.objs {
			if o.thing != nil {
				o.thing.off = a.verb == "remove"
			}
		}
		return rest
	}
	if a.verb == "remove" {
		if prior := r.lastAct(); prior != nil && prior.verb == "remove" && len(prior.objs) == 1 && prior.objs[0].thing == t {
			a.objs = nil
			return nil
		}
	}
	if a.verb == "replace" {
		isNew := len(rest) > 1 && rest[0].low == "with" && find(rest, 1, []string{"new"}) > 0
		if isNew {
			rest = nil
		}
		switch {
		case t.off && (isNew || a.objs[0].isNew):
			a.verb, a.spell, a.objs[0].isNew = "install", "install", true
		case t.off:
			r.lost = true // put back, or a new one?
		}
	}
	t.off = a.verb == "remove"
	return rest
}

// there reads "there's three bolts on the guard": what is spoken of, and taken up later.
func (r *reader) there(w []tok) bool {
	if len(w) < 2 {
		return false
	}
	i := 0
	switch {
	case w[0].num > 0 && len(r.step.pieces) == 0: // "two nuts on the cover, take them off"
	case w[0].low == "there" && (w[1].low == "is" || w[1].low == "are"):
		i = 2
	case w[0].low == "there's":
		i = 1
	default:
		return false
	}
	objs, n := objects(w, i)
	if i == 0 && (n >= len(w) || w[n].low != "on" && w[n].low != "in") {
		return false
	}
	if len(objs) != 1 || objs[0].name == "" || !nameable.MatchString(objs[0].name) {
		return false
	}
	r.d.remember(objs)
	return true
}

// until reads "until the sag is 20..30 mm": it is measured.
func (r *reader) until(rest []tok) ([]tok, *piece) {
	for i, t := range rest {
		if t.low != "until" {
			continue
		}
		name := rest[i+1:]
		at := slices.IndexFunc(name, func(t tok) bool { return t.q && t.limit })
		if at < 2 || name[at-1].low != "is" || at+1 < len(name) {
			return rest, nil
		}
		return rest[:i], &piece{act: &act{verb: "measure", spell: "measure", words: plainWords(name[:at-1]), limit: name[at].print}}
	}
	return rest, nil
}

// together reads "the drain plug with a new washer": both go on.
func (r *reader) together(a *act, rest []tok) []tok {
	at := slices.IndexFunc(rest, func(t tok) bool { return t.low == "with" })
	if a.verb != "install" || at < 0 || at+1 >= len(rest) {
		return rest
	}
	objs, next := objects(rest, at+1)
	for _, o := range objs {
		known := r.d.find(o.name)
		if o.name == "" || supplies[lastWord(o.name)] || !o.isNew && (known == nil || known.supply) {
			return rest
		}
	}
	if _, n := r.d.toolAt(rest, at+1, true); n > 0 || len(objs) == 0 {
		return rest
	}
	a.objs = append(a.objs, r.resolve(objs, true)...)
	return slices.Concat(rest[:at], rest[next:])
}

// add puts an act into the step; a torque that stands with another act is an act of its own behind it.
func (r *reader) add(p *piece) {
	a := p.act
	r.step.pieces = append(r.step.pieces, p)
	if a.torque == "" {
		return
	}
	switch a.verb {
	case "tighten", "snug":
		a.verb, a.spell = "torque", "torque"
	case "torque":
	default:
		t := &act{verb: "torque", spell: "torque", objs: slices.Clone(a.objs), torque: a.torque, order: a.order, passes: a.passes}
		a.torque, a.order, a.passes = "", "", ""
		t.objs = fastened(t.objs)
		for i := range t.objs {
			t.objs[i].isNew = false
		}
		r.step.pieces = append(r.step.pieces, &piece{act: t})
	}
	for _, o := range r.lastAct("torque").objs {
		if o.thing != nil {
			o.thing.torque = append(o.thing.torque, r.lastAct("torque").torque)
		}
	}
}

// fastened gives the fasteners among things; all of them where none is known for one.
func fastened(list []object) []object {
	var some []object
	for _, o := range list {
		if inClass("fastener", o) || o.thing != nil && inClass("fastener", object{name: o.thing.name}) {
			some = append(some, o)
		}
	}
	if len(some) == 0 {
		return list
	}
	return some
}

var crossed = set("crosswise criss-cross crisscross diagonally diagonal cross star star-wise")

// details takes torque, order and passes out of the rest of a clause; what is left prints behind the tag.
func (r *reader) details(a *act, w []tok) []run {
	var left []tok
	for i := 0; i < len(w); i++ {
		t := w[i]
		switch {
		case t.q && t.kind == quantity.Torque:
			r.another(a, t.print)
			left = dropLast(left, "then", "and")
			left = dropLast(left, "to", "at", "of", "a", "torque")
		case t.num > 0 && i > 0 && w[i-1].low == "to" && (a.verb == "torque" || a.verb == "tighten"):
			r.lost = true // "torque it to 15": of what?
		case crossed[t.low]:
			a.order = "crosswise"
			left = dropLast(left, "a", "in")
			for i+1 < len(w) && (w[i+1].low == "pattern" || w[i+1].low == "sequence" || w[i+1].low == "order") {
				i++
			}
		case t.num > 0 && i+1 < len(w) && (w[i+1].low == "passes" || w[i+1].low == "pass" || w[i+1].low == "stages" || w[i+1].low == "goes"):
			a.passes = "in " + t.print + " passes"
			left = dropLast(left, "in")
			i++
		default:
			left = append(left, t)
		}
	}
	return r.runs(left, true)
}

// another takes in a torque; a second one makes passes of the two, the last is what counts.
func (r *reader) another(a *act, torque string) {
	first := a.torque
	a.torque = torque
	if first == "" || first == torque {
		return
	}
	f, unit, _ := strings.Cut(first, " ")
	l, same, _ := strings.Cut(torque, " ")
	if unit != same || a.passes != "" || strings.Contains(first+torque, "..") || strings.Contains(first+torque, "±") {
		r.lost = true
		return
	}
	a.passes = "in passes of " + f + ", " + l + " " + unit
}

func dropLast(w []tok, words ...string) []tok {
	for len(w) > 0 && slices.Contains(words, w[len(w)-1].low) {
		w = w[:len(w)-1]
	}
	return w
}

// loose reads a clause without an order: a tool, a torque, a count, a value, or plain words.
func (r *reader) loose(c clause) {
	w := c.w
	if w[0].low == "dab" && r.smeared(w) {
		r.ordered = true
		return
	}
	bare := len(w) < 3 && toolNouns[w[len(w)-1].low]
	if found, n := r.d.toolAt(w, lead(w), lead(w) > 0 || w[0].q || bare); n > 0 && (lead(w) > 0 || w[0].q || marks[w[0].low] || n == len(w)) {
		r.tail(append([]run{{text: "with the"}}, append(tagged(found), r.runs(w[lead(w)+n:], true)...)...))
		return
	}
	if r.there(w) || r.also(w) || r.back(w) || r.torqued(w) || r.counted(w) || r.value(w) {
		return
	}
	runs := r.runs(w, true)
	for _, t := range w {
		if marks[t.low] {
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
	if a := r.lastAct("torque", "tighten"); a != nil && a.order == "" && r.last().act == a {
		trial := *a
		if left := r.details(&trial, w); len(left) == 0 {
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
	objs, n := objects(w, 0)
	if len(objs) == 0 || n < len(w) || objs[0].name == "" {
		return false
	}
	if supplies[strings.ToLower(lastWord(objs[0].name))] && len(objs) == 1 && r.last() != nil && nameable.MatchString(objs[0].name) {
		r.tail([]run{{text: "with"}, {supply: r.d.thing(&objs[0], true)}})
		return true
	}
	a := r.lastAct("install", "remove")
	if a == nil && len(r.step.pieces) == 0 && objs[0].isNew { // "new gasket, cover back on"
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

func protects(objs []object) bool {
	return len(objs) > 0 && classes["protection"][strings.ToLower(lastWord(objs[0].name))]
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
	if k < len(w) && w[k-1].stop == "" && w[n].low != "back" && w[k].low != "as" && w[k].low != "together" {
		if !objs[0].isNew {
			return false // "bolts on the cover …": what is said of them
		}
		k-- // "new drum on top"
	}
	r.ordered = true
	if switched[strings.ToLower(lastWord(objs[0].name))] {
		r.step.pieces = append(r.step.pieces, &piece{tail: r.runs(w, false)})
		return true
	}
	if protects(objs) && name == "install" {
		r.step.pieces = append(r.step.pieces, &piece{act: &act{verb: "wear", spell: "wear", words: plainWords(w[:n])}})
		return true
	}
	r.acting(&act{verb: name, spell: name}, objs, w[k:])
	return true
}

// torqued reads a torque without a verb: "flange bolts 46 N·m", "45 N·m on the bolts", "the cap nut gets 30 lbf·ft".
func (r *reader) torqued(w []tok) bool {
	at := slices.IndexFunc(w, func(t tok) bool { return t.q && t.kind == quantity.Torque })
	if at < 0 {
		return false
	}
	var objs []object
	if at > 0 {
		objs, _ = objects(w, 0)
	}
	if len(objs) == 0 && at+1 < len(w) {
		i := at + 1
		if w[i].low == "on" || w[i].low == "for" {
			objs, _ = objects(w, i+1)
		}
	}
	if len(objs) > 0 && (lastWord(objs[0].name) == "torque" || lastWord(objs[0].name) == "setting") {
		objs = nil
	}
	a := &act{verb: "torque", spell: "torque", torque: w[at].print}
	if len(objs) == 0 {
		prior := r.lastFastened()
		if prior == nil {
			r.lost = true
			return true
		}
		a.objs = slices.Clone(prior)
	} else {
		a.objs = r.resolve(objs, true)
	}
	if len(a.objs) == 0 {
		r.lost = true
		return true
	}
	a.objs = fastened(a.objs)
	for i := range a.objs {
		a.objs[i].isNew = false
	}
	if r.d.reverse { // the refitting is not written out: the table keeps the torque
		for _, o := range a.objs {
			o.thing.torque = append(o.thing.torque, a.torque)
		}
		r.taken = true
		return true
	}
	r.details(a, slices.Concat(w[:at], w[at+1:]))
	r.ordered = true
	r.add(&piece{act: a})
	return true
}

// lastFastened gives the fasteners that were last spoken of in this sentence, else its last things.
func (r *reader) lastFastened() []object {
	for i := len(r.step.pieces) - 1; i >= 0; i-- {
		a := r.step.pieces[i].act
		if a == nil || !handled[a.verb] {
			continue
		}
		return a.objs
	}
	return nil
}

// counted reads "four screws" beside an act: they come off or go on with it.
func (r *reader) counted(w []tok) bool {
	a := r.lastAct()
	if a == nil || len(w) == 0 {
		return false
	}
	name := map[string]string{"open": "remove", "remove": "remove", "close": "install", "install": "install"}[a.verb]
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

// value reads "it should be 3..4 mm" behind a check, "the cover weighs 18 kg", and a value that is measured later.
func (r *reader) value(w []tok) bool {
	at := slices.IndexFunc(w, func(t tok) bool { return t.q })
	if at < 0 {
		return false
	}
	t := w[at]
	if t.kind == quantity.Mass && at > 1 && (w[at-1].low == "weighs" || w[at-1].low == "is") {
		r.d.facts(w)
		r.taken = true
		return false
	}
	a := r.lastAct("measure", "check")
	if a == nil && t.limit && find(w, 1, []string{"for"}) > 0 && w[0].low == "you're" {
		a = r.d.lastCheck
	}
	if a != nil && a.limit == "" && t.kind != quantity.Torque && at == len(w)-1 && t.kind != quantity.Mass {
		if at == 0 || pronouns[w[0].low] || w[0].low == "you're" || w[0].low == "looking" || t.limit {
			a.limit = t.print
			r.taken = true
			return true
		}
	}
	if t.limit && at > 1 {
		name := w[:at]
		for len(name) > 0 && (name[len(name)-1].low == "is" || name[len(name)-1].low == "be" || name[len(name)-1].low == "should" || name[len(name)-1].low == "must") {
			name = name[:len(name)-1]
		}
		for len(name) > 0 && marks[name[0].low] {
			name = name[1:]
		}
		if len(name) > 0 && len(name) < at {
			r.d.fact = &tok{low: plainWords(name), print: t.print}
			return true
		}
	}
	return false
}

// facts takes in what a sentence states of things: "the cover weighs 18 kg", "flange bolts 46 N·m", "oil 0.8 L".
func (d *drafter) facts(w []tok) {
	for from := 0; from < len(w); {
		to := from
		for to < len(w)-1 && !parted(w[to].stop) && w[to].low != "and" {
			to++
		}
		d.factOf(w[from : to+1])
		from = to + 1
	}
}

func (d *drafter) factOf(w []tok) {
	at := slices.IndexFunc(w, func(t tok) bool { return t.q })
	s := skipFillers(w, 0)
	if at <= s {
		return
	}
	objs, _ := objects(w, s)
	if len(objs) != 1 || objs[0].name == "" {
		return
	}
	known := d.find(objs[0].name)
	switch t := w[at]; {
	case t.kind == quantity.Torque && known != nil && !known.supply:
		known.torque = append(known.torque, t.print)
	case t.kind == quantity.Mass && at > 1 && w[at-1].low == "weighs":
		if known == nil {
			known = d.thing(&objs[0], false)
		}
		known.spec = append(known.spec, t.print)
	}
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
	return b.String()
}
