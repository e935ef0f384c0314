//go:build unix

package syntax

import (
	"fmt"
	"os"
	"runtime"
	"runtime/debug"
	"strings"
	"syscall"
	"testing"
	"time"
)

// Input eight times as long may take some more than eight times as long, never sixty-four times. Only what takes long enough
// to be measured is judged, by the best of three tries.
func TestHostileInputTakesLinearTime(t *testing.T) {
	if os.Getenv("REFITCARD_LONG") == "" {
		t.Skip("a clock decides here, and a busy machine may mislead it: set REFITCARD_LONG to run it")
	}
	texts := hostileTexts()
	for _, p := range hostilePieces() {
		texts[fmt.Sprintf("%q", p)] = func(n int) string { return strings.Repeat(p, n/len(p)) }
	}
	const size = 25_000
	for name, text := range texts {
		if best(text(8*size), 1) < 150*time.Millisecond {
			continue
		}
		if short, long := best(text(size), 3), best(text(8*size), 3); long > 25*short && long > 150*time.Millisecond {
			t.Errorf("%s: %d bytes took %v, eight times as many %v", name, size, short, long)
		}
	}
}

// best is the least time of some tries that the processor spent on a text, with the garbage collector out of the way. The
// clock on the wall would count the machine's other work, and the system's time the fetching of memory.
func best(text string, tries int) time.Duration {
	defer debug.SetGCPercent(debug.SetGCPercent(-1))
	least := time.Hour
	for range tries {
		runtime.GC()
		start := spent()
		parse([]byte(text))
		least = min(least, spent()-start)
	}
	return least
}

func spent() time.Duration {
	var use syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &use); err != nil {
		return 0
	}
	return time.Duration(use.Utime.Nano())
}
