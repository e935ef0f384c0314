package main

import (
	"bufio"
	"fmt"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"refitcard/render/html/browsertest"
	"refitcard/render/preview"
)

// BenchmarkWatch gives the milliseconds from a save to what a page shows of it, at best, in the middle and at worst: until the
// page is told, and until a browser has drawn it. The goal is a tenth of a second, the time in which a person takes something
// for immediate (common practice, no source).
func BenchmarkWatch(b *testing.B) {
	file := filepath.Join(libraryCopy(b), "rake-winch-end-cover.md")
	text := readText(b, file)
	save := func(n int) (mark string) {
		mark = fmt.Sprintf("winch number %d-%d", n, time.Now().UnixNano())
		saveByRename(b, file, strings.Replace(text, "\nmachine: Rake winch RW40", "\nmachine: Rake "+mark, 1))
		return mark
	}
	b.Run("told", func(b *testing.B) {
		w := startWatch(b, file)
		answer, err := http.Get(w.address + "events")
		if err != nil {
			b.Fatal(err)
		}
		defer answer.Body.Close()
		lines := bufio.NewReaderSize(answer.Body, 1<<20)
		until := func(mark string) {
			for {
				line, err := lines.ReadString('\n')
				if err != nil {
					b.Fatal(err)
				}
				if strings.Contains(line, mark) {
					return
				}
			}
		}
		until(save(0))
		timeSaves(b, func(n int) { until(save(n)) })
	})
	b.Run("drawn", func(b *testing.B) {
		chromium := browsertest.Start(b, "how long a browser takes to draw a renewed card")
		w := startWatch(b, file)
		p := chromium.Open(w.address, 1280, 800, "")
		p.Wait(`document.querySelectorAll(".part").length > 20`)
		p.Eval(nil, `window.until = (mark) => new Promise((done) => {
		  const look = () => [...document.querySelectorAll(".page text")].some((t) => t.textContent.includes(mark)) && (watch.disconnect(), requestAnimationFrame(() => setTimeout(done)));
		  const watch = new MutationObserver(look);
		  watch.observe(document.getElementById("pages"), { childList: true, subtree: true });
		  look();
		})`)
		timeSaves(b, func(n int) { p.Eval(nil, `until("`+save(n)+`").then(() => 0)`) })
	})
}

// timeSaves times one save after the other, the folder at rest before each.
func timeSaves(b *testing.B, one func(n int)) {
	var all []float64
	for b.Loop() {
		b.StopTimer()
		time.Sleep(2 * preview.Settles)
		b.StartTimer()
		begun := time.Now()
		one(len(all))
		all = append(all, float64(time.Since(begun).Microseconds())/1000)
	}
	slices.Sort(all)
	b.ReportMetric(all[0], "ms-best")
	b.ReportMetric(all[len(all)/2], "ms-middle")
	b.ReportMetric(all[len(all)-1], "ms-worst")
}
