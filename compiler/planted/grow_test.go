package planted_test

import (
	"os"
	"runtime"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/rules"
)

// A program that stays running, for an editor or a preview, compiles without end: nothing of a compile may be kept. The heap is
// measured behind the collector, so that only what is still held counts; one procedure of these holds some 100 KB.
func TestCompilesLeaveNothingBehind(t *testing.T) {
	first, last, room := 100, 400, 2<<20
	if os.Getenv(longRun) != "" {
		first, last = 1000, 10_000
	}
	lib := compiler.Open(fstest.MapFS{}, func(path string) string { return path })
	after := map[int]int{}
	for i := 1; i <= last; i++ {
		m := made(uint64(i))
		m.oddly()
		text := []byte(m.d.String())
		if len(lib.CompileText("job.md", text, rules.Options{}).Proc.Stages) == 0 {
			t.Fatalf("seed %d: no stage", i)
		}
		if i == first || i == last {
			runtime.GC()
			runtime.GC() // pools let go in the second round
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			after[i] = int(m.HeapAlloc)
		}
	}
	t.Logf("%d KiB after %d compiles, %d KiB after %d", after[first]>>10, first, after[last]>>10, last)
	if grown := after[last] - after[first]; grown > room {
		t.Errorf("the heap grew by %d bytes from %d to %d compiles", grown, first, last)
	}
}
