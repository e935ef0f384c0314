package draft

import (
	"slices"
	"strings"
)

// nameable is what a name may be made of: nothing that means something in a tag or a table.
var nameable = pattern(`^[\p{L}\d][\p{L}\d '’/.&-]*$`)

// resolve finds the things that an act is done to. Where parts are handled a thing that is not known yet is declared.
// It is empty, and the sentence is lost, when one of them can't be told.
func (r *reader) resolve(objs []object, parts bool) []object {
	var out []object
	for _, o := range objs {
		if o.pron != "" {
			meant := r.d.meant(o)
			if o.pron == sameAgain && r.last() != nil && r.last().act != nil && len(r.d.recent) > 0 {
				meant = slices.Clone(r.d.recent)
			}
			if len(meant) == 0 {
				r.lost = true
				return nil
			}
			for _, m := range meant {
				if m.thing == nil && parts {
					m.thing = r.d.thing(&m, false)
				}
				m.isNew, m.old = o.isNew, false
				out = append(out, m)
			}
			continue
		}
		if !nameable().MatchString(o.name) || len(o.name) > 80 || strings.ContainsFunc(o.name, func(c rune) bool { return c == '&' }) || noName(o.name) {
			r.lost = true
			return nil
		}
		r.which(o)
		fluid := supplies.has(strings.ToLower(lastWord(o.name)))
		if two := r.d.both(o); parts && len(two) == 2 {
			out = append(out, two...)
			continue
		}
		switch {
		case parts:
			o.thing = r.d.thing(&o, fluid)
		default:
			o.thing = r.d.find(o.name)
			if o.thing == nil {
				o.name = r.d.called(r.d.asTool(o.name))
			}
		}
		out = append(out, o)
	}
	r.d.remember(out)
	r.d.recent = slices.Clone(out)
	return out
}

// both gives the two things that "both plugs" are, where exactly two kinds of plug are known.
func (d *drafter) both(o object) (two []object) {
	if !o.both {
		return nil
	}
	for _, t := range d.things {
		low := strings.ToLower(t.name)
		if low == strings.ToLower(o.name) || t.qty > 1 && strings.HasSuffix(low, " "+strings.ToLower(o.name)) {
			return nil
		}
		if strings.HasSuffix(low, " "+strings.ToLower(o.name)) {
			t.used = d.clock
			two = append(two, object{name: t.name, one: true, thing: t, isNew: o.isNew})
		}
	}
	return two
}

// asTool gives the whole name of a listed tool that a shorter one means.
func (d *drafter) asTool(name string) string {
	for _, t := range d.tools {
		if strings.HasSuffix(strings.ToLower(t.name), " "+strings.ToLower(name)) {
			t.used = true
			return t.name
		}
	}
	return name
}

// called gives the name by which a thing that nobody declares was called before: "the box" is the junction box.
func (d *drafter) called(name string) string {
	low := strings.ToLower(name)
	for i := len(d.free) - 1; i >= 0; i-- {
		if known := strings.ToLower(d.free[i]); known == low || strings.HasSuffix(known, " "+low) {
			return d.free[i]
		}
	}
	d.free = append(d.free, name)
	return name
}

// which asks where a name may be that of several things, and only one of them was not just spoken of.
func (r *reader) which(o object) {
	low := strings.ToLower(o.name)
	if r.d.counted(&o) != nil {
		return
	}
	var fit []string
	recent := 0
	for _, t := range r.d.things {
		known := strings.ToLower(t.name)
		if known == low {
			return
		}
		if strings.HasSuffix(known, " "+low) && !(o.plural && t.qty == 1 && !t.plural) {
			fit = append(fit, t.name)
			if t.used >= r.d.clock-1 {
				recent++
			}
		}
	}
	if len(fit) < 2 || recent == 1 {
		return
	}
	r.step.asked = append(r.step.asked, Question{Text: "which is meant by “" + escape(o.name) + "”: " + strings.Join(fit, ", or ") + "?", Rule: "which"})
}

// noName tells whether a phrase names nothing: it is made of words that stand for others.
func noName(name string) bool {
	if !strings.Contains(name, " ") && strings.HasSuffix(name, "ed") && base(name) != "" {
		return true // "turned back": a thing has another name
	}
	if manner.has(strings.ToLower(lastWord(name))) {
		return true
	}
	for _, w := range strings.Fields(strings.ToLower(name)) {
		if marks.has(w) || pronouns.has(w) || preps.has(w) || halts.has(w) || w == "want" || w == "only" || w == "bit" || w == "lot" || w == "everything" || w == "anything" || w == "nothing" || w == "something" || w == "other" {
			return true
		}
	}
	return false
}

// manner are words that tell how far or how often, and name nothing.
var manner = set("turn turns stroke strokes time times hour hours minute minutes pass passes about bit")

// dirt is what comes off and is no part.
var dirt = set("weed weeds dirt dust sludge swarf rust scale grit mud debris silt burrs burr")

// remember keeps what "it" and "them" stand for.
func (d *drafter) remember(list []object) {
	if len(list) == 0 {
		return
	}
	last := list[len(list)-1]
	if len(list) > 1 || last.plural || last.count > 1 {
		d.lastMany = slices.Clone(list)
	}
	if len(list) == 1 && !last.plural && last.count < 2 {
		d.lastOne = &last
	}
}

// meant gives what a pronoun stands for: the last thing, or the last several.
func (d *drafter) meant(o object) []object {
	switch o.pron {
	case "them", "em", "those", "these", "they", "ones":
		return slices.Clone(d.lastMany)
	}
	if d.lastOne == nil {
		return nil
	}
	return []object{*d.lastOne}
}

// forFasteners are the verbs of a tag that only fasteners take.
var forFasteners = set("torque tighten loosen snug")

// fastening are the last words of the names of what such a verb turns.
var fastening = set("bolt bolts nut nuts screw screws stud studs plug plugs clip clips clamp clamps setscrew setscrews capscrew capscrews fastener fasteners knob knobs cap caps union unions fitting fittings")

// fasteners lets a pronoun behind a verb that turns something stand for the fastener that was spoken of last, where what it
// would stand for is none: "clean the faces, … bolts in, torque them".
func (d *drafter) fasteners(objs []object) {
	for i := range objs {
		if objs[i].pron == "" {
			continue
		}
		meant := d.meant(objs[i])
		if len(meant) == 0 || slices.ContainsFunc(meant, func(o object) bool { return o.thing != nil || fastening.has(strings.ToLower(lastWord(o.name))) }) {
			continue
		}
		var last *thing
		for _, t := range d.things {
			if fastening.has(strings.ToLower(lastWord(t.name))) && (last == nil || t.used >= last.used) {
				last = t
			}
		}
		if last != nil {
			objs[i].pron, objs[i].name, objs[i].plural = "", last.name, last.qty != 1
		}
	}
}

// find gives the thing of a name. A shorter name is the longer one that ends with it, the last spoken of where there are
// several ("the bolts", and there are cover bolts).
func (d *drafter) find(name string) *thing {
	low := strings.ToLower(name)
	var best *thing
	for _, t := range d.things {
		known := strings.ToLower(t.name)
		if known == low {
			return t
		}
		if strings.HasSuffix(known, " "+low) && (best == nil || t.used > best.used) {
			best = t
		}
	}
	return best
}

// thing finds or declares what an act is done to, and takes in what was said of it.
func (d *drafter) thing(o *object, supply bool) *thing {
	t := d.find(o.name)
	if o.plural && !o.both {
		t = d.several(o)
	}
	if byCount := d.counted(o); byCount != nil {
		t = byCount
	}
	if t != nil && !strings.EqualFold(t.name, o.name) && o.count > 0 && t.qty > 0 && o.count > t.qty && !o.rest {
		t = nil // another count: another thing
	}
	if t == nil && o.count == 0 && !supply {
		t = d.fuller(o.name)
	}
	if t == nil {
		t = &thing{name: o.name, supply: supply}
		d.things = append(d.things, t)
	}
	t.used = d.clock
	if t.supply {
		return t
	}
	switch {
	case o.each:
		t.each = true
	case o.rest:
		t.rest = true
	case o.some:
		t.qty = max(t.qty, o.of)
	case o.count > t.qty:
		t.qty = o.count
	case !o.plural && o.count == 0 && t.qty == 0 && !t.plural:
		t.qty = 1
	}
	t.plural = t.plural || o.plural
	for _, s := range o.spec {
		if !slices.Contains(t.spec, s) {
			t.spec = append(t.spec, s)
		}
	}
	return t
}

// onlyFluid gives the fluid of the notes where they know one only.
func (d *drafter) onlyFluid() []object {
	var list []object
	for _, t := range d.things {
		if t.supply && classes["fluid"].has(strings.ToLower(lastWord(t.name))) {
			list = append(list, object{name: t.name, thing: t})
		}
	}
	if len(list) != 1 {
		return nil
	}
	return list
}

// several gives the thing that a shorter name in the plural means: never one of which there is only one.
func (d *drafter) several(o *object) *thing {
	low := strings.ToLower(o.name)
	var best *thing
	for _, t := range d.things {
		known := strings.ToLower(t.name)
		if known == low {
			return t
		}
		if strings.HasSuffix(known, " "+low) && (t.qty != 1 || t.plural) && (best == nil || t.used > best.used) {
			best = t
		}
	}
	return best
}

// counted gives the one thing that a shorter name and a count mean: "the three nuts", where one kind of three is known.
func (d *drafter) counted(o *object) *thing {
	var only *thing
	for _, t := range d.things {
		if o.count == 0 || t.qty != o.count || !strings.HasSuffix(strings.ToLower(t.name), " "+strings.ToLower(o.name)) {
			continue
		}
		if only != nil {
			return nil
		}
		only = t
	}
	return only
}

// fuller gives the screws that "guard screws" were called before, where the guard is known and no other screws are.
func (d *drafter) fuller(name string) *thing {
	at := strings.LastIndexByte(name, ' ')
	if at < 0 || !slices.ContainsFunc(d.things, func(t *thing) bool { return strings.EqualFold(t.name, name[:at]) }) {
		return nil
	}
	for _, t := range d.things {
		if strings.EqualFold(t.name, name[at+1:]) {
			t.name = name
			return t
		}
	}
	return nil
}

// runs turns the words of a clause into what prints: plain words, tools and supplies with their tags.
func (r *reader) runs(w []tok, tags bool) []run {
	var all []run
	from := 0
	flush := func(to int) {
		if to > from {
			all = append(all, run{text: plainWords(w[from:to])})
		}
	}
	for i := 0; tags && i < len(w); i++ {
		start := i
		lead := leadIn.has(w[i].low) && w[i].stop == ""
		if !lead && w[i].low == "and" && from == i && len(all) > 0 && all[len(all)-1].tool != nil {
			lead = true // "with a drift and hammer"
		}
		if lead {
			start++
		}
		found, n := r.d.toolAt(w, start, lead)
		if n == 0 {
			if s, amount, m := r.supplyAt(w, i); m > 0 {
				flush(i + 1)
				all = append(all, run{supply: s, amount: amount})
				i += m
				from = i + 1
			}
			continue
		}
		mark := start
		for mark < start+n && (marks.has(w[mark].low) || w[mark].num > 0) {
			mark++
		}
		flush(mark)
		if mark > start && w[mark-1].num > 1 && len(all) > 0 {
			all[len(all)-1].text += " ×"
		}
		all = append(all, tagged(found)...)
		i = start + n - 1
		from = i + 1
		for _, t := range found {
			t.used = true
		}
	}
	flush(len(w))
	return all
}

// supplyAt reads "with a rag", "with 20 mL of grease" at i; n counts the words behind "with".
func (r *reader) supplyAt(w []tok, i int) (s *thing, amount string, n int) {
	if w[i].low != "with" && w[i].low != "using" || w[i].stop != "" {
		return nil, "", 0
	}
	objs, next := r.things(w, i+1)
	if len(objs) != 1 || objs[0].name == "" || !supplies.has(strings.ToLower(lastWord(objs[0].name))) || !nameable().MatchString(objs[0].name) {
		return nil, "", 0
	}
	s = r.d.thing(&objs[0], true)
	if len(objs[0].spec) > 0 {
		amount = objs[0].spec[0]
		s.amount = append(s.amount, amount)
	}
	return s, amount, next - i - 1
}
