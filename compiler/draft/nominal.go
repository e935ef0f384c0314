package draft

import (
	"slices"
	"strings"
)

// Checklists and talk leave the verb out: "guard off", "8 flange bolts out", "new seal in", "headplate up 1.5 m".

// valves are what is open or shut.
var valves = set("valve cock petcock gate door lid penstock hatch vent drain tap sluice vent flap window")

// nominal gives the act of a thing and the word behind it, and how many words that takes; "" where it is no act.
func (r *reader) nominal(w []tok, objs []object, n int) (verb string, next int) {
	o := objs[0]
	last := strings.ToLower(lastWord(o.name))
	if strings.HasSuffix(last, "ed") && base(last) != "" {
		return "", n // "chain joined up"
	}
	end := n+1 == len(w) || w[n].stop != ""
	behind := ""
	if !end {
		behind = w[n+1].low
	}
	placed := end || behind == "on" || behind == "onto" || behind == "to" || behind == "into" || w[min(n+1, len(w)-1)].q
	turns := slices.ContainsFunc(objs, func(o object) bool { return inClass("fastener", o) })
	switch w[n].low {
	case "up":
		if placed && behind != "to" && !turns {
			return "raise", n + 1
		}
	case "down":
		if placed && !turns && !supplies.has(last) {
			return "lower", n + 1
		}
	case "tight":
		if end && turns {
			return "tighten", n + 1
		}
	case "loose", "slack":
		if end && turns {
			return "loosen", n + 1
		}
	case "snug":
		if turns {
			return "snug", n + 1
		}
	case "shut", "closed":
		if valves.has(last) {
			return "close", n + 1
		}
	case "open", "opened":
		if valves.has(last) {
			return "open", n + 1
		}
	}
	return "", n
}

// nominally reads a thing with the word behind it as the act that it is: "headplate down on the studs".
func (r *reader) nominally(w []tok) bool {
	objs, n := objects(w, 0)
	if len(objs) == 0 || n >= len(w) || w[n-1].stop != "" || objs[0].name == "" || slices.ContainsFunc(objs, func(o object) bool { return noName(o.name) || !nameable().MatchString(o.name) }) {
		return false
	}
	verb, next := r.nominal(w, objs, n)
	if verb == "" {
		return false
	}
	r.ordered = true
	a := &act{verb: verb, spell: verb}
	r.acting(a, objs, w[next:])
	return true
}

// heldBy reads "the drive nut is held with two grub screws": they are what is spoken of next.
func (r *reader) heldBy(w []tok) bool {
	for k := 1; k+2 < len(w) && w[k-1].stop == ""; k++ {
		i := k + 1
		if w[k].low == "has" || w[k].low == "have" {
			objs, _ := objects(w, i)
			if len(objs) == 1 && objs[0].count > 0 && (inClass("fastener", objs[0]) || fastening.has(lastWord(objs[0].name))) && nameable().MatchString(objs[0].name) && thingly(w[:k]) {
				r.announce(objs)
				return true
			}
			return false
		}
		if w[k].low != "is" && w[k].low != "are" {
			continue
		}
		switch w[i].low {
		case "held", "secured", "fixed", "fastened", "retained", "bolted":
		default:
			return false
		}
		for i++; i < len(w) && (w[i].low == "on" || w[i].low == "in" || w[i].low == "down"); i++ {
		}
		if i >= len(w) || w[i].low != "by" && w[i].low != "with" {
			return false
		}
		objs, _ := objects(w, i+1)
		if len(objs) != 1 || objs[0].count == 0 || !inClass("fastener", objs[0]) || !nameable().MatchString(objs[0].name) {
			return false
		}
		r.announce(objs)
		return true
	}
	return false
}

// announce keeps what is spoken of before anything is done to it, with its count.
func (r *reader) announce(objs []object) {
	for i := range objs {
		if objs[i].count > 0 && objs[i].plural && !supplies.has(strings.ToLower(lastWord(objs[i].name))) && !noName(objs[i].name) {
			objs[i].thing = r.d.thing(&objs[i], false)
		}
	}
	r.d.remember(objs)
}

// withBolts reads "fan guard: 8 screws, 7/16 socket": a thing and what holds it, and no verb. It comes off, or goes on where it
// is off already; nothing is guessed in silence, so it is asked.
func (r *reader) withBolts(w []tok) bool {
	if len(r.step.pieces) > 0 || r.subject == nil {
		return false
	}
	o, n := phrase(w, 0)
	if o.count == 0 || o.name == "" || !inClass("fastener", o) || n < len(w) && w[n-1].stop == "" && !threaded().MatchString(w[n].print) {
		return false
	}
	held := *r.subject
	r.subject, r.pending = nil, nil
	off := !slices.ContainsFunc(held, func(h object) bool { t := r.d.find(h.name); return t != nil && t.off })
	if !strings.Contains(o.name, " ") && nameable().MatchString(held[0].name+" "+o.name) {
		o.name = held[0].name + " " + o.name // "fan guard screws": others may be called screws as well
	}
	verb, order := "remove", [][]object{{o}, held}
	if !off {
		verb, order = "install", [][]object{held, {o}}
	}
	r.step.pieces = nil
	for _, objs := range order {
		r.acting(&act{verb: verb, spell: verb}, objs, nil)
	}
	r.ordered = true
	r.step.asked = append(r.step.asked, Question{Text: quoted(plainWords(w)) + ": the notes say no more. Does it " + map[string]string{"remove": "come off", "install": "go on"}[verb] + " here?", Rule: "unsaid"})
	if n < len(w) {
		r.tail(r.runs(w[n:], true))
	}
	return true
}

// sameWay reads "do them crosswise" behind a torque.
func (r *reader) sameWay(w []tok) bool {
	a := r.lastAct("torque", "tighten")
	if a == nil || w[0].low != "do" || len(w) < 3 || !pronouns.has(w[1].low) || !crossed.has(w[2].low) || a.order != "" {
		return false
	}
	a.order = "crosswise"
	return true
}

// remindedOf reads "don't forget the circlip": it goes on, where it is off.
func (r *reader) remindedOf(w []tok) bool {
	if len(w) < 3 || w[0].low != "don't" || w[1].low != "forget" {
		return false
	}
	objs, n := objects(w, 2)
	if len(objs) == 0 || n < len(w) {
		return false
	}
	for _, o := range objs {
		if t := r.d.find(o.name); o.name == "" || t == nil || !t.off {
			return false
		}
	}
	r.acting(&act{verb: "install", spell: "install"}, objs, nil)
	return true
}

// worked tells whether something was taken apart by now.
func (d *drafter) worked() bool {
	return slices.ContainsFunc(d.steps, func(x *step) bool { return x.does(takesApart) })
}

// allOff tells whether things are known and off.
func (r *reader) allOff(objs []object) bool {
	for _, o := range objs {
		list := []object{o}
		if o.pron != "" {
			list = r.d.meant(o)
		}
		for _, m := range list {
			t := m.thing
			if t == nil {
				t = r.d.find(m.name)
			}
			if t == nil || !t.off {
				return false
			}
		}
		if len(list) == 0 {
			return false
		}
	}
	return true
}

// laidDown tells whether a thing is put where it waits, and not on the machine: on a rag, on the bench.
func laidDown(rest []tok) bool {
	i := 0
	if i < len(rest) && (rest[i].low == "on" || rest[i].low == "onto") {
		i++
	}
	objs, _ := objects(rest, i)
	return len(objs) > 0 && waiting.has(strings.ToLower(lastWord(objs[0].name)))
}

var waiting = set("rag cloth towel bench table floor ground deck grating tray paper cardboard pallet sheet trestle")
