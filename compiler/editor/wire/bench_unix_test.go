//go:build unix

package wire

import (
	"fmt"
	"math/rand/v2"
	"runtime/debug"
	"slices"
	"strings"
	"syscall"
	"testing"
	"testing/fstest"
	"time"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	goldmarktext "github.com/yuin/goldmark/text"

	"refitcard/compiler"
	"refitcard/compiler/rules"
)

// bay names a bay of a pump house, each by another word.
func bay(i int) string {
	heads := []string{"ox", "wil", "brad", "hol", "mar", "stan", "thorn", "el", "nor", "sut", "wen", "kirk", "ash", "bar", "cop"}
	tails := []string{"ley", "ton", "ham", "by", "ford", "wick", "stead", "don", "well", "sea", "den", "low", "mere", "combe"}
	return heads[i/len(tails)%len(heads)] + tails[i%len(tails)]
}

// long makes a procedure of 10 steps for each bay of a pump house.
func long(bays int) string {
	var parts, strip, refit strings.Builder
	for i := range bays {
		n := bay(i)
		fmt.Fprintf(&parts, "| %s cover bolt | 12 | M8×30 8.8 socket | | reuse | holds %s cover | 22 N·m |\n| %s cover | 1 | 18 kg | | reuse | | |\n| %s gasket | 1 | | SD-G%03d | replace | behind %s cover | |\n", n, n, n, n, i, n)
		fmt.Fprintf(&strip, "1. Look at the %s cover. {Check the %s cover is dry}.\n2. {Remove 12 %s cover bolts} with the {tool 6 mm hex key}.\n3. {Remove the %s cover} with the {tool hoist}.\n4. {Remove the %s gasket}.\n5. {Check the faces of %s are clean}.\n", n, n, n, n, n, n)
		fmt.Fprintf(&refit, "1. Clean both faces with a {supply shop towel}. {Install a new %s gasket}.\n2. {Install the %s cover} with the {tool hoist}.\n3. {Install 12 %s cover bolts} finger-tight.\n4. {Torque 12 %s cover bolts to 22 N·m crosswise in 3 passes} with the {tool torque wrench} and {tool 6 mm hex bit socket}.\n5. {Check the %s cover is dry after two lifts}.\n", n, n, n, n, n)
	}
	return "---\ntitle: Reseal the covers of the long pump house\nnumber: SD-900\nrevision: A\n---\n\nCovers all bays.\n\n## Parts\n\n| Part | Qty | Spec | Number | Use | Place | Torque |\n|:--|--:|:--|:--|:--|:--|:--|\n" + parts.String() +
		"\n## Tools\n\n- 6 mm hex key\n- 6 mm hex bit socket\n- torque wrench, 5–50 N·m\n- hoist, 50 kg\n\n## Supplies\n\n- shop towel, 400\n\n## Strip\n\n" + strip.String() + "\n## Refit\n\n" + refit.String()
}

// BenchmarkKeystroke gives the time from a key to the findings on the screen in a procedure of 2,000 steps: of a hundred keystrokes
// the second slowest (p99), and the middle one, beside what a compile of the same text alone takes.
func BenchmarkKeystroke(b *testing.B) {
	text := long(200)
	c := start(b, hostOf(fstest.MapFS{}))
	c.hello(utf16)
	c.open("job.md", text)
	c.rest()
	if n := len(c.findings("job.md")); n > 0 {
		b.Fatalf("%d findings to begin with: %v", n, c.shown[uri("job.md")].Diagnostics[0])
	}
	lib := compiler.Open(fstest.MapFS{}, func(path string) string { return path })
	parser := goldmark.New(goldmark.WithExtensions(extension.Table)).Parser()
	r := rand.New(rand.NewPCG(1, 1))
	// As the program runs it: a keystroke makes a whole model and throws it away.
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	var keys, alone []time.Duration
	var work, compile, markdown time.Duration // of the processor, which a busy machine does not change
	version, found := 1, 0
	stroke := func(at, n int, put string) {
		from := where(text, at, utf16)
		to := position{from.Line, from.Character + utf8.RuneCountInString(text[at:at+n])}
		text = text[:at] + put + text[at+n:]
		version++
		begun, used := time.Now(), spent(b)
		c.change("job.md", version, change{&span{from, to}, put})
		found += c.until(uri("job.md"), version)
		keys = append(keys, time.Since(begun))
		work += spent(b) - used
		begun, used = time.Now(), spent(b)
		lib.CompileText("job.md", []byte(text), rules.Options{})
		alone = append(alone, time.Since(begun))
		compile += spent(b) - used
		used = spent(b)
		parser.Parse(goldmarktext.NewReader([]byte(text)))
		markdown += spent(b) - used
	}
	for b.Loop() {
		for range 50 { // a letter typed, often within a tag, and taken back
			at := strings.Index(text, "## Strip") + 20
			for at += r.IntN(len(text) - at); !utf8.RuneStart(text[at]) || text[at] == '\n'; {
				at--
			}
			stroke(at, 0, "x")
			stroke(at, 1, "")
		}
	}
	if found == 0 {
		b.Error("no keystroke brought a finding")
	}
	b.ReportMetric(float64(work.Microseconds())/1000/float64(len(keys)), "ms/keystroke-cpu")
	b.ReportMetric(float64(compile.Microseconds())/1000/float64(len(keys)), "ms/compile-cpu")
	b.ReportMetric(float64(work)/float64(markdown), "×goldmark")
	b.ReportMetric(milliseconds(keys, 0.99), "ms/keystroke-p99")
	b.ReportMetric(milliseconds(keys, 0.5), "ms/keystroke-p50")
	b.ReportMetric(milliseconds(alone, 0.99), "ms/compile-p99")
	b.ReportMetric(milliseconds(alone, 0.5), "ms/compile-p50")
}

// spent is the time that the processor has spent on this process.
func spent(b *testing.B) time.Duration {
	b.Helper()
	var use syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &use); err != nil {
		b.Fatal(err)
	}
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}

// milliseconds gives the duration below which a share of all lies.
func milliseconds(all []time.Duration, share float64) float64 {
	slices.Sort(all)
	return float64(all[min(int(share*float64(len(all))), len(all)-1)].Microseconds()) / 1000
}

// until waits for the findings of a version of a document, and gives how many they are.
func (c *client) until(uri string, version int) int {
	for c.shown[uri].Version == nil || *c.shown[uri].Version < version {
		c.takeIn(<-c.events)
	}
	return len(c.shown[uri].Diagnostics)
}
