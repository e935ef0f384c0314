package sheet

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// randomPieces draws steps of a few acts, some with what is repeated over the page, under stages and after lists.
func randomPieces(t *rapid.T, least, most int) []piece {
	var ps []piece
	n := rapid.IntRange(least, most).Draw(t, "pieces")
	for len(ps) < n {
		p := piece{
			name: rapid.SampledFrom([]string{"act", "lists", "facts"}).Draw(t, "name"),
			h:    float64(rapid.IntRange(2, 48).Draw(t, "height")),
			gapA: float64(rapid.IntRange(0, 4).Draw(t, "gap")),
			rule: float64(rapid.IntRange(0, 1).Draw(t, "rule")),
			keep: rapid.SampledFrom([]keep{free, free, free, soft, firm, hard}).Draw(t, "keep"),
		}
		if p.name == "act" {
			p.step = rapid.SampledFrom([]string{"1", "2", "3"}).Draw(t, "step")
			if rapid.Bool().Draw(t, "repeats") {
				p.again = []piece{{name: "continued", h: 6}, {name: "panel", h: 12, gapA: 2}}
			}
		}
		p.stage = p.step == "" && rapid.IntRange(0, 3).Draw(t, "stage") == 0 && (len(ps) == 0 || ps[len(ps)-1].keep == free)
		ps = append(ps, p)
	}
	ps[len(ps)-1].keep = free
	return ps
}

func randomFrame(t *rapid.T) frame {
	f := frame{room: 100, last: 100, line: 6, taste: cardTaste(rapid.IntRange(1, 2).Draw(t, "sides"))}
	if rapid.Bool().Draw(t, "end mark") {
		f.last = 85
	}
	return f
}

// greedy fills each page with what it takes; it knows nothing of what comes after.
type greedy struct {
	ps     []piece
	room   float64
	used   float64
	begins []int // places where pages begin
}

// byPage gives where pages begin; nothing where a piece fits on none.
func byPage(ps []piece, room float64) []int {
	g := &greedy{ps: ps, room: room, begins: []int{0}}
	if !g.put(0, len(ps), soft) {
		return nil
	}
	return g.begins
}

// put places the pieces from i to end, those whole that hold together so strongly.
func (g *greedy) put(i, end int, tie keep) bool {
	for i < end {
		next := min(group(g.ps, i, tie), end)
		high := 0.0
		for k := i + 1; k < next; k++ {
			high += g.ps[k].above() + g.ps[k].h
		}
		first, opens := &g.ps[i], g.ps[i].opening()
		low := first.stage && g.room-g.used < leastForStage-hair
		switch {
		case g.used > 0 && !low && g.used+first.above()+first.h+high <= g.room+hair:
			g.used += first.above() + first.h + high
		case opens+high <= g.room+hair:
			if i > 0 {
				g.begins = append(g.begins, i)
			}
			g.used = opens + high
		case tie == hard || !g.put(i, next, tie+1):
			return false
		}
		i = next
	}
	return true
}

// allowed tells whether pages that begin at places keep the rules, and gives what they cost.
func allowed(p *pager, begins []int) (cost float64, ok bool) {
	for k, i := range begins {
		end := len(p.ps)
		if k+1 < len(begins) {
			end = begins[k+1]
		}
		if i > 0 && math.IsInf(p.price[i], 1) {
			return 0, false
		}
		used := p.ps[i].opening()
		for n := i + 1; n < end; n++ {
			if p.ps[n].stage && p.room-used < leastForStage-hair {
				return 0, false
			}
			used += p.ps[n].above() + p.ps[n].h
		}
		if used > p.room+hair || end == len(p.ps) && used > p.last+hair {
			return 0, false
		}
		cost += p.badness(i, end, used)
	}
	return cost, true
}

// bestOfAll tries every set of places where pages may begin.
func bestOfAll(p *pager) (pages int, cost float64) {
	n := len(p.ps)
	for set := 0; set < 1<<(n-1); set++ {
		begins := []int{0}
		for i := 1; i < n; i++ {
			if set&(1<<(i-1)) != 0 {
				begins = append(begins, i)
			}
		}
		if c, ok := allowed(p, begins); ok && (pages == 0 || len(begins) < pages || len(begins) == pages && c < cost) {
			pages, cost = len(begins), c
		}
	}
	return pages, cost
}

// No way of breaking a few pieces into pages takes fewer, and none of those that take as few is better.
func TestNoPagesAreBetter(t *testing.T) {
	several := 0
	rapid.Check(t, func(t *rapid.T) {
		p := newPager(randomPieces(t, 5, 10), randomFrame(t))
		pages, cost := bestOfAll(p)
		w := p.ways[len(p.ps)]
		if w.alone {
			if pages > 0 {
				t.Errorf("the end mark stands alone on page %d; %d would do", w.pages, pages)
			}
			return
		}
		if w.pages != pages || pages > 0 && math.Abs(w.cost-cost) > 1e-9 {
			t.Errorf("%d pages at %.4f, it could be %d at %.4f", w.pages, w.cost, pages, cost)
		}
		if pages > 2 {
			several++
		}
	})
	if several < 20 && !testing.Short() { // fewer are drawn then
		t.Errorf("only %d needed more than two pages", several)
	}
}

// However long a card is, it takes no more pages than one that is filled page by page, and every piece stands once, in order, none
// past the foot.
func TestPagesHoldAllPiecesInOrder(t *testing.T) {
	several := 0
	rapid.Check(t, func(t *rapid.T) {
		ps := randomPieces(t, 1, 60)
		f := randomFrame(t)
		begins := byPage(ps, f.room)
		leaves, err := paginate(ps, f)
		if err != nil {
			if begins != nil {
				t.Errorf("%v, but page by page it does", err)
			}
			return
		}
		f2 := f
		f2.last = f.room
		if p := newPager(ps, f2); begins != nil && p.pages() > len(begins) {
			t.Errorf("%d pages, page by page they are %d", p.pages(), len(begins))
		}
		next := 0
		for n, l := range leaves {
			foot := 0.0
			for _, x := range l.pieces {
				if x.y < foot-hair {
					t.Errorf("page %d: %q stands on the piece above it", n+1, x.name)
				}
				foot = x.y + x.h
				if next < len(ps) && x.piece == &ps[next] {
					next++
				} else if x.name != "continued" && x.name != "panel" {
					t.Fatalf("page %d: %q is not the next piece", n+1, x.name)
				}
			}
			if foot > f.room+hair || n == len(leaves)-1 && foot > f.last+hair {
				t.Errorf("page %d of %d: %.1f mm are filled", n+1, len(leaves), foot)
			}
		}
		if next != len(ps) {
			t.Errorf("%d pieces of %d", next, len(ps))
		}
		if len(leaves) > 3 {
			several++
		}
	})
	if several < 20 && !testing.Short() { // fewer are drawn then
		t.Errorf("only %d needed more than three pages", several)
	}
}

// steps gives the pieces of steps of one act each, of so many mm; a height below zero begins a stage, its heading in it.
func steps(heights ...float64) []piece {
	var ps []piece
	for i, h := range heights {
		ps = append(ps, piece{name: "act", step: itoa(i + 1), h: math.Abs(h), stage: h < 0})
	}
	return ps
}

func TestWherePagesEnd(t *testing.T) {
	for _, c := range []struct {
		name  string
		ps    []piece
		sides int
		want  []int // pieces on each page
	}{
		{"one page", steps(40, 40), 1, []int{2}},
		{"pages are filled", steps(45, 45, 45, 45), 1, []int{2, 2}},
		{"no last page nearly empty", steps(30, 30, 30, 20), 1, []int{2, 2}},
		{"the end of a stage, on two sides", steps(40, 40, -40, 40, 40), 2, []int{2, 2, 1}},
		{"the end of a stage is worth white, on two sides", steps(30, 30, 18, -40, 20, 20, 40), 2, []int{3, 3, 1}},
		{"on one side a full page is worth more", steps(30, 30, 18, -35, 30, 35), 1, []int{3, 3}},
		{"a stage does not begin low", steps(35, 37, -20, 30), 1, []int{2, 2}},
	} {
		t.Run(c.name, func(t *testing.T) {
			leaves, err := paginate(c.ps, frame{room: 100, last: 100, line: 6, taste: cardTaste(c.sides)})
			if err != nil {
				t.Fatal(err)
			}
			var got []int
			for _, l := range leaves {
				got = append(got, len(l.pieces))
			}
			if len(got) != len(c.want) {
				t.Fatalf("%v pieces on the pages, want %v", got, c.want)
			}
			for i := range got {
				if got[i] != c.want[i] {
					t.Fatalf("%v pieces on the pages, want %v", got, c.want)
				}
			}
		})
	}
}
