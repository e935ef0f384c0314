package compare

import (
	"slices"
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
