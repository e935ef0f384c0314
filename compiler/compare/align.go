package compare

import (
	"slices"
	"strings"

	"refitcard/compiler/procedure"
)

// acts compares what the steps of both versions do. It gives the changes in the order of the new version; what is gone stands
// where it stood.
func (c *comparison) acts() []Change {
	before := len(c.changes)
	c.blocks(deedsOf(c.old, c.names, toolNames(c.old, c.now)), deedsOf(c.now, nil, nil))
	told := slices.Clone(c.changes[before:])
	c.changes = c.changes[:before]
	return told
}

// matching is two rows of deeds and which belong together: place in the other row, -1 for none.
type matching struct {
	old, now     []deed
	ofOld, ofNow []int
	moved        map[int]bool      // places in the new row whose partner stood elsewhere
	steps        map[string]string // old number of a step → new number
}

// blocks compares two rows of deeds.
func (c *comparison) blocks(old, now []deed) {
	m := align(old, now)
	m.pairWorded()
	m.numberSteps()
	m.pairMoved()
	for i := 0; i <= len(now); i++ {
		c.goneBefore(m, i)
		if i < len(now) {
			c.deed(m, i)
		}
	}
}

// weight is how much it is worth to take two deeds for one.
func weight(a, b *deed) int32 {
	switch {
	case a.key() != b.key():
		return 0
	case a.gist == b.gist:
		return 10
	case a.about == "":
		return 1
	}
	return 7
}

// mostCells bounds the table of the alignment; beyond it deeds are matched by their meaning alone, in order.
const mostCells = 16 << 20

// align matches two rows in order so that the matches are worth most.
func align(old, now []deed) *matching {
	m := &matching{old: old, now: now, moved: map[int]bool{}, steps: map[string]string{}}
	m.ofOld, m.ofNow = slices.Repeat([]int{-1}, len(old)), slices.Repeat([]int{-1}, len(now))
	low := 0
	for low < len(old) && low < len(now) && weight(&old[low], &now[low]) == 10 {
		m.match(low, low)
		low++
	}
	oldEnd, nowEnd := len(old), len(now)
	for oldEnd > low && nowEnd > low && weight(&old[oldEnd-1], &now[nowEnd-1]) == 10 {
		oldEnd, nowEnd = oldEnd-1, nowEnd-1
		m.match(oldEnd, nowEnd)
	}
	rows, cols := oldEnd-low, nowEnd-low
	if rows*cols > mostCells {
		m.greedy(low, oldEnd, nowEnd)
		return m
	}
	best := make([]int32, (rows+1)*(cols+1))
	at := func(i, j int) *int32 { return &best[i*(cols+1)+j] }
	for i := rows - 1; i >= 0; i-- {
		for j := cols - 1; j >= 0; j-- {
			b := max(*at(i+1, j), *at(i, j+1))
			if w := weight(&old[low+i], &now[low+j]); w > 0 {
				b = max(b, w+*at(i+1, j+1))
			}
			*at(i, j) = b
		}
	}
	for i, j := 0, 0; i < rows && j < cols; {
		w := weight(&old[low+i], &now[low+j])
		switch {
		case w > 0 && *at(i, j) == w+*at(i+1, j+1):
			m.match(low+i, low+j)
			i, j = i+1, j+1
		case *at(i+1, j) >= *at(i, j+1):
			i++
		default:
			j++
		}
	}
	return m
}

// greedy matches equal deeds in order, each with the next that is free.
func (m *matching) greedy(low, oldEnd, nowEnd int) {
	next := low
	for j := low; j < nowEnd; j++ {
		for i := next; i < oldEnd; i++ {
			if weight(&m.old[i], &m.now[j]) == 10 {
				m.match(i, j)
				next = i + 1
				break
			}
		}
	}
}

func (m *matching) match(i, j int) { m.ofOld[i], m.ofNow[j] = j, i }

// pairWorded pairs deeds of one verb that stand at the same place in both rows and differ in their words.
func (m *matching) pairWorded() {
	i := 0
	for j := 0; j <= len(m.now); j++ {
		if j < len(m.now) && m.ofNow[j] < 0 {
			continue
		}
		until := len(m.old)
		if j < len(m.now) {
			until = m.ofNow[j]
		}
		from := j
		for from > 0 && m.ofNow[from-1] < 0 {
			from--
		}
		m.pairGap(i, until, from, j)
		i = until + 1
	}
}

func (m *matching) pairGap(i0, i1, j0, j1 int) {
	for j := j0; j < j1; j++ {
		if !m.now[j].paired || m.waits(m.old, m.ofOld, &m.now[j]) {
			continue
		}
		for i := i0; i < i1; i++ {
			if m.ofOld[i] < 0 && m.old[i].paired && m.old[i].verb == m.now[j].verb && !m.waits(m.now, m.ofNow, &m.old[i]) {
				m.match(i, j)
				break
			}
		}
	}
}

// waits tells whether the other row has a free deed that is the same: then this one was moved.
func (m *matching) waits(row []deed, partner []int, d *deed) bool {
	for i := range row {
		if partner[i] < 0 && d.about != "" && row[i].key() == d.key() {
			return true
		}
	}
	return false
}

// numberSteps tells which step is which: the one that most of its deeds went to.
func (m *matching) numberSteps() {
	type pair struct{ was, is string }
	votes, best := map[pair]int{}, map[string]int{}
	for i, j := range m.ofOld {
		if j < 0 || m.old[i].step == nil || m.now[j].step == nil {
			continue
		}
		p := pair{m.old[i].step.Name(), m.now[j].step.Name()}
		if votes[p]++; votes[p] > best[p.was] {
			best[p.was], m.steps[p.was] = votes[p], p.is
		}
	}
}

// pairMoved pairs equal deeds that stand at different places. Those whose place in the step says nothing come last, when it is
// known which step is which: they have moved only if they went to another step.
func (m *matching) pairMoved() {
	for _, loose := range []bool{false, true} {
		for _, least := range []int32{10, 7} {
			for j := range m.now {
				if m.ofNow[j] < 0 && m.now[j].loose == loose {
					m.fetch(j, least)
				}
			}
		}
		m.numberSteps()
	}
}

// fetch finds the partner of a new deed wherever it stands.
func (m *matching) fetch(j int, least int32) {
	for i := range m.old {
		if m.ofOld[i] < 0 && weight(&m.old[i], &m.now[j]) >= least {
			m.match(i, j)
			m.moved[j] = !m.now[j].loose || m.steps[m.old[i].step.Name()] != m.now[j].step.Name()
			return
		}
	}
}

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
		c.add(Change{
			Kind: Order, Step: n.step.Name(), What: n.what, Was: place(m.old, i), Now: place(m.now, j), At: n.at, OldAt: o.at,
		})
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
