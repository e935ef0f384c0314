package sheet

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"refitcard/render/document"
)

// randomParagraph draws running text with names that are kept whole, figures, and words too long for a line.
func randomParagraph(t *rapid.T, least, most int) *paragraph {
	var runs []document.Run
	for range rapid.IntRange(least, most).Draw(t, "runs") {
		r := document.Run{Bold: rapid.Bool().Draw(t, "bold"), Keep: rapid.Bool().Draw(t, "keep")}
		var words []string
		for range rapid.IntRange(1, 3).Draw(t, "words") {
			words = append(words, rapid.SampledFrom(lexicon).Draw(t, "word")+rapid.SampledFrom([]string{"", "", "", ".", ","}).Draw(t, "mark"))
		}
		r.Text = strings.Join(words, rapid.SampledFrom([]string{" ", noBreakSpace}).Draw(t, "joined by")) + rapid.SampledFrom([]string{" ", " ", ""}).Draw(t, "space")
		runs = append(runs, r)
	}
	return newParagraph(runs)
}

// firstFit breaks by filling each line with what it takes: the places behind each line.
func firstFit(p *paragraph, limit float64) []int {
	var ends []int
	for i := 0; i < len(p.units); {
		i = p.longest(i, limit)
		ends = append(ends, i)
	}
	return ends
}

func badnessOf(p *paragraph, ends []int, limit float64) float64 {
	sum, from := 0.0, 0
	for _, to := range ends {
		sum += p.badness(from, to, limit)
		from = to
	}
	return sum
}

// every gives each way of breaking units from i into n lines that fit.
func every(p *paragraph, i, n int, limit float64) [][]int {
	if n == 0 {
		if i == len(p.units) {
			return [][]int{nil}
		}
		return nil
	}
	var all [][]int
	for j := i + 1; j <= len(p.units) && p.fits(i, j, limit); j++ {
		for _, rest := range every(p, j, n-1, limit) {
			all = append(all, append([]int{j}, rest...))
		}
	}
	return all
}

// Whatever is broken: as many lines as first fit takes, none wider than it may be, every letter once and in order, nothing broken
// that holds together, and no worse than first fit.
func TestLinesAreBrokenByTheRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := randomParagraph(t, 1, 20)
		size := rapid.Float64Range(8, 16).Draw(t, "size")
		width := rapid.Float64Range(5, 130).Draw(t, "width")
		got := p.lines(size, width)
		if n := p.count(size, width); n != len(got) {
			t.Fatalf("%d lines were counted, %d broken", n, len(got))
		}
		limit := measure(size, width)
		q := p.within(limit)
		if n := len(firstFit(q, limit)); n != len(got) {
			t.Errorf("%d lines, first fit takes %d", len(got), n)
		}
		if ours, theirs := badnessOf(q, q.ends(limit), limit), badnessOf(q, firstFit(q, limit), limit); ours > theirs+1e-9 {
			t.Errorf("badness %.4f, that of first fit is %.4f", ours, theirs)
		}
		sameLetters(t, p, got)
		for _, l := range got {
			if one := len(l.atoms) == 1 && len([]rune(l.atoms[0].text)) == 1; l.width > width+1e-6 && !one {
				t.Errorf("%.2f mm of %.2f: %v", l.width, width, l.atoms)
			}
			if w := lengthOf(l.atoms) * size; math.Abs(w-l.width) > 1e-6 {
				t.Errorf("a line says that it is %.3f mm wide, and is %.3f", l.width, w)
			}
		}
		wholeUnits(t, p, got, limit)
	})
}

func lengthOf(atoms []atom) float64 {
	w := 0.0
	for i, a := range atoms {
		if i > 0 {
			w += a.space
		}
		w += a.width
	}
	return w
}

func sameLetters(t *rapid.T, p *paragraph, lines []line) {
	var broken strings.Builder
	for _, l := range lines {
		for _, a := range l.atoms {
			broken.WriteString(a.text)
		}
	}
	if want := strings.ReplaceAll(p.text(), " ", ""); broken.String() != want {
		t.Errorf("broken: %q\nwritten: %q", broken.String(), want)
	}
}

// wholeUnits tests that a line ends inside what holds together only where that is wider than a line.
func wholeUnits(t *rapid.T, p *paragraph, lines []line, limit float64) {
	letters := 0
	atEnd := map[int]bool{}
	for _, l := range lines {
		for _, a := range l.atoms {
			letters += len(a.text)
		}
		atEnd[letters] = true
	}
	at := 0
	for _, u := range p.units {
		inside := 0
		for _, a := range p.atoms[u.from:u.to] {
			inside += len(a.text)
		}
		for k := at + 1; k < at+inside; k++ {
			if atEnd[k] && u.end-u.begin <= limit {
				t.Errorf("a line ends inside %v", p.atoms[u.from:u.to])
			}
		}
		at += inside
	}
}

// No way of breaking a short paragraph into the fewest lines is better than the one that is taken.
func TestNoBreakingIsBetter(t *testing.T) {
	tried := 0
	rapid.Check(t, func(t *rapid.T) {
		p := randomParagraph(t, 4, 9)
		limit := measure(11, rapid.Float64Range(15, 70).Draw(t, "width"))
		q := p.within(limit)
		ends := q.ends(limit)
		least := math.Inf(1)
		all := every(q, 0, len(ends), limit)
		for _, e := range all {
			least = min(least, badnessOf(q, e, limit))
		}
		if fewer := every(q, 0, len(ends)-1, limit); len(fewer) > 0 {
			t.Errorf("%d lines are too many", len(ends))
		}
		if got := badnessOf(q, ends, limit); math.Abs(got-least) > 1e-9 {
			t.Errorf("badness %.5f, it could be %.5f", got, least)
		}
		if !slices.ContainsFunc(all, func(e []int) bool { return slices.Equal(e, ends) }) {
			t.Errorf("ends %v are no breaking", ends)
		}
		if len(all) > 1 {
			tried++
		}
	})
	if tried < 20 && !testing.Short() {
		t.Errorf("only %d paragraphs left a choice", tried)
	}
}

func TestHeadingsAreEven(t *testing.T) {
	got := newParagraph([]document.Run{{Text: "Renew the seal and hinge pins of the outfall flap valve"}}).even(13, 100)
	if len(got) != 2 || math.Abs(got[0].width-got[1].width) > 15 {
		t.Errorf("%d lines: %v", len(got), got)
	}
}

func TestWhereLinesEnd(t *testing.T) {
	for _, c := range []struct {
		name, text string
		width      float64 // mm, at 13.7 pt
		want       string
	}{
		{"one line", "Drain the gear oil.", 118, "Drain the gear oil."},
		{"no word alone on the last line", "Put the drain pan under the cover and open the plug slowly.", 118, "Put the drain pan under the cover and open|the plug slowly."},
		{"a sentence does not begin at the end of a line", "Sling the cover from the hoist and level it. Remove 12 cover bolts with the 6 mm hex key.", 110, "Sling the cover from the hoist and level it.|Remove 12 cover bolts with the 6 mm hex key."},
		{"a figure stays with its unit", "Then slack the rope until it hangs free by about 40 mm at the sheave.", 110, "Then slack the rope until it hangs free by about|40 mm at the sheave."},
		{"nothing to avoid it with", "interlocking-counterflanges interlocking-counterflanges", 70, "interlocking-counterflanges|interlocking-counterflanges"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			for _, l := range newParagraph([]document.Run{{Text: c.text}}).lines(13.7, c.width) {
				var words []string
				for _, a := range l.atoms {
					words = append(words, a.text)
				}
				got = append(got, strings.Join(words, " "))
			}
			if s := strings.Join(got, "|"); s != c.want {
				t.Errorf("%s\nwant %s", s, c.want)
			}
		})
	}
}
