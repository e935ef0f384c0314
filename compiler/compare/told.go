package compare

import (
	"slices"
	"strings"

	"refitcard/compiler/procedure"
)

// deed tells what became of a deed of the new version.
func (c *comparison) deed(m *matching, j int) {
	n := &m.now[j]
	i := m.ofNow[j]
	if i < 0 {
		c.newDeed(m, j)
		return
	}
	o := &m.old[i]
	if m.moved[j] {
		x := Change{Kind: Order, Step: n.step.Name(), What: n.what, Was: place(m.old, i), Now: place(m.now, j), At: n.at, OldAt: o.at}
		if x.Was == x.Now { // what it comes after has changed places too, under equal words
			x.Now += ", otherwise"
		}
		c.add(x)
	}
	var was, is []string
	for _, label := range labels(o, n) {
		a, b := o.trait(label), n.trait(label)
		if a.meaning == b.meaning {
			continue
		}
		was, is = append(was, a.shown), append(is, b.shown)
		if label == "torque" {
			c.torqued[n.about] = true
		}
	}
	if refs := m.renumbered(o.refs); len(was) == 0 && !slices.Equal(refs, n.refs) {
		was, is = append(was, "names what is now step "+strings.Join(refs, ", ")), append(is, "names step "+strings.Join(n.refs, ", "))
	}
	if len(was) > 0 {
		what := n.what
		if o.about != n.about { // worded anew: the words stand in both cells
			what = n.verb
		}
		x := Change{Kind: n.kind, Step: n.step.Name(), What: what, Was: strings.Join(was, ", "), Now: strings.Join(is, ", "), At: n.at, OldAt: o.at}
		if x.Was == x.Now { // it reads alike and means something else: another use of one part, another picture of one name
			x.Now += ", otherwise"
		}
		c.add(x)
	}
}

// renumbered gives the numbers that steps of the old version have now. A step that is gone keeps its number.
func (m *matching) renumbered(refs []string) []string {
	var all []string
	for _, r := range refs {
		if is, ok := m.steps[r]; ok {
			r = is
		}
		all = append(all, r)
	}
	return all
}

// labels lists the traits of two deeds, those of the first in front.
func labels(o, n *deed) []string {
	var all []string
	for _, d := range []*deed{o, n} {
		for _, t := range d.traits {
			if !slices.Contains(all, t.label) {
				all = append(all, t.label)
			}
		}
	}
	return all
}

// trait finds a trait; one that is not there says so.
func (d *deed) trait(label string) field {
	for _, t := range d.traits {
		if t.label == label {
			return t.field
		}
	}
	return field{"", "no " + label}
}

// place says where a deed stands, by the deed in front of it.
func place(row []deed, i int) string {
	for k := i - 1; k >= 0; k-- {
		if !row[k].loose && row[k].kind == Act {
			return `after "` + row[k].what + `" in step ` + row[k].step.Name()
		}
	}
	return "first of all"
}

// says is a deed in short, for one that is new or gone.
func (d *deed) says() string {
	var all []string
	for _, t := range d.traits {
		if t.meaning != "" && t.shown != "all" && t.label != "order" && !(t.label == "words" && d.about != "") && !(t.label == "passes" && t.meaning == "1") {
			all = append(all, t.shown)
		}
	}
	if len(all) == 0 {
		return Done
	}
	return strings.Join(all, ", ")
}

// newDeed tells of a deed that the old version lacks; of a step that is new as a whole once.
func (c *comparison) newDeed(m *matching, j int) {
	n := &m.now[j]
	if whole, first := wholeStep(m.now, m.ofNow, j); whole {
		if first {
			c.add(Change{Kind: Act, Step: n.step.Name(), What: "the whole step", Now: told(m.now, n.step), At: n.step.At})
		}
		return
	}
	c.add(Change{Kind: n.kind, Step: n.step.Name(), What: n.what, Now: n.says(), At: n.at})
}

// goneBefore tells of deeds that are gone and stood in front of the partner of the new deed at j.
func (c *comparison) goneBefore(m *matching, j int) {
	from, until := 0, len(m.old)
	if j < len(m.now) {
		if until = m.ofNow[j]; until < 0 || m.moved[j] {
			return
		}
	}
	for k := j - 1; k >= 0; k-- {
		if i := m.ofNow[k]; i >= 0 && !m.moved[k] && i < until {
			from = i + 1
			break
		}
	}
	for i := from; i < until; i++ {
		if m.ofOld[i] >= 0 {
			continue
		}
		o := &m.old[i]
		if whole, first := wholeStep(m.old, m.ofOld, i); whole {
			if first {
				c.add(Change{Kind: Act, Step: o.step.Name(), What: "the whole step", Was: told(m.old, o.step), OldAt: o.step.At})
			}
			continue
		}
		c.add(Change{Kind: o.kind, Step: o.step.Name(), What: o.what, Was: o.says(), OldAt: o.at})
	}
}

// told is all that a step does, in short.
func told(row []deed, step *procedure.Step) string {
	var all []string
	for i := range row {
		if d := &row[i]; d.step == step {
			words := d.what
			if says := d.says(); says != Done {
				words += ": " + says
			}
			all = append(all, words)
		}
	}
	return cut(strings.Join(all, "; "))
}

// wholeStep tells whether no deed of the step of a deed has a partner, with two at least; first is for its first deed.
func wholeStep(row []deed, partner []int, at int) (whole, first bool) {
	step := row[at].step
	if step == nil {
		return false, false
	}
	n, begin := 0, -1
	for i := range row {
		if row[i].step != step {
			continue
		}
		if partner[i] >= 0 {
			return false, false
		}
		if begin < 0 {
			begin = i
		}
		n++
	}
	return n > 1, begin == at
}
