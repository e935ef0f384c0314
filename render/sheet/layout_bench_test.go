package sheet

import (
	"testing"
	"time"

	"refitcard/render/document"
)

// BenchmarkLayCard gives the time to lay a card out: on paper that takes it as it is, on small paper, and with every size of type
// tried.
func BenchmarkLayCard(b *testing.B) {
	for _, c := range []struct {
		name string
		opt  Options
	}{{"a4", Options{}}, {"a6", Options{Paper: "a6", Distance: 450}}, {"one-sheet", Options{Sheets: 1}}} {
		b.Run(c.name, func(b *testing.B) {
			card := benchCard()
			for b.Loop() {
				if _, err := LayCard(card, c.opt); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkLines gives the time to break a paragraph of eight lines as a multiple of what first fit takes, in one run.
func BenchmarkLines(b *testing.B) {
	text := "Put the drain pan under the cover and open the plug slowly, then let the oil run until it only drips. "
	p := newParagraph([]document.Run{{Text: text + text + text + text}})
	limit := measure(13.7, 118)
	var ours, theirs time.Duration
	for b.Loop() {
		begun := time.Now()
		p.ends(limit)
		ours += time.Since(begun)
		begun = time.Now()
		firstFit(p, limit)
		theirs += time.Since(begun)
	}
	b.ReportMetric(float64(ours)/float64(theirs), "×first-fit")
}

// BenchmarkPages gives the time to break eighty steps into pages as a multiple of what it takes page by page, in one run.
func BenchmarkPages(b *testing.B) {
	heights := make([]float64, 80)
	for i := range heights {
		heights[i] = 9 + float64(i*7%23)
	}
	ps := steps(heights...)
	f := frame{room: 100, last: 100, line: 6, taste: cardTaste(2)}
	var ours, theirs time.Duration
	for b.Loop() {
		begun := time.Now()
		newPager(ps, f)
		ours += time.Since(begun)
		begun = time.Now()
		byPage(ps, f.room)
		theirs += time.Since(begun)
	}
	b.ReportMetric(float64(ours)/float64(theirs), "×page-by-page")
}
