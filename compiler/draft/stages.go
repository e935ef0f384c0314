package draft

import "strings"

// The stages of notes that name none.
const (
	makeSafe = "Make safe"
	strip    = "Strip"
	refit    = "Refit"
	work     = "Work"
)

var (
	takesApart = set("remove loosen drain replace")
	putsBack   = set("install fill tighten torque snug") // and "top up", "refill"
	secures    = setOf("lock off", "relieve", "insert", "disconnect", "tell", "support", "close")
)

func (x *step) does(verbs wordSet) bool {
	for _, p := range x.pieces {
		if p.act != nil && verbs.has(p.act.verb) && !x.lost {
			return true
		}
	}
	return false
}

// real tells whether a step prints with a number.
func (x *step) real() bool { return !x.lost && !x.remark && x.signal == "" && len(x.pieces) > 0 }

// settle gives each step its stage, and moves what stands too late: a message behind the last step belongs to the whole job.
func (d *drafter) settle() {
	d.stages()
	next := ""
	var kept []*step
	for i := len(d.steps) - 1; i >= 0; i-- {
		x := d.steps[i]
		if x.real() {
			next = x.stage
		}
		switch {
		case x.real():
		case next == "" && x.signal != "":
			d.intro = append([]*step{x}, d.intro...)
			continue
		case next != "":
			x.stage = next
		}
		kept = append([]*step{x}, kept...)
	}
	d.steps = kept
	// What stands before the first step and orders nothing is the introduction.
	n := 0
	for n < len(d.steps) && d.steps[n].remark {
		n++
	}
	d.intro = append(append([]*step{}, d.steps[:n]...), d.intro...)
	d.steps = d.steps[n:]
	last := work
	for _, x := range d.steps {
		if x.stage == "" {
			x.stage = last
		}
		last = x.stage
	}
	d.unprinted()
	d.uses()
}

// unprinted keeps the headings that no step stands under: they stand as remarks.
func (d *drafter) unprinted() {
	printed := map[string]bool{}
	for _, x := range d.steps {
		printed[x.stage] = true
	}
	for _, s := range d.headings {
		if name := strings.TrimRight(s.text, ":"); !printed[name] {
			d.intro = append(d.intro, &step{said: s, remark: true})
		}
	}
}

// stages finds where the notes turn from making safe to taking off, and from there to putting back.
func (d *drafter) stages() {
	for _, x := range d.steps {
		if x.stage != "" {
			d.first()
			return
		}
	}
	apart, back, safe := -1, -1, false
	for i, x := range d.steps {
		switch {
		case apart < 0 && x.does(takesApart):
			apart = i
		case apart >= 0 && back < 0 && x.does(putsBack) && !x.does(takesApart):
			back = i
		case apart < 0 && x.does(secures):
			safe = true
		}
	}
	for i, x := range d.steps {
		switch {
		case apart < 0:
			x.stage = work
		case back >= 0 && i >= back:
			x.stage = refit
		case i >= apart || !safe:
			x.stage = strip
		default:
			x.stage = makeSafe
		}
	}
}

// first names the stage of what stands before the first heading of the notes.
func (d *drafter) first() {
	for _, x := range d.steps {
		if x.stage != "" {
			return
		}
		x.stage = makeSafe
	}
}

// uses tells what becomes of each part: one that goes on new is replaced.
func (d *drafter) uses() {
	for _, x := range d.steps {
		for _, p := range x.pieces {
			if p.act == nil || x.lost {
				continue
			}
			for _, o := range p.act.objs {
				if o.thing != nil && (p.act.verb == "install" && o.isNew || p.act.verb == "replace") {
					o.thing.use = "replace"
				}
			}
		}
	}
}
