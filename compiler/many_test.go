package compiler_test

import (
	"fmt"
	"strings"
	"testing"
)

// With a hundred tags that can't be read, what the ledger misses by then would be all that it tells: it says no more. With a
// few it does.
func TestManyUnreadTagsSilenceTheLedger(t *testing.T) {
	for _, c := range []struct{ strange, leftOff int }{{3, 1}, {120, 0}} {
		var b strings.Builder
		b.WriteString("---\ntitle: Look behind the cover\nnumber: DR-1\nrevision: A\n---\n\n## Parts\n\n| Part | Qty | Use |\n|:--|--:|:--|\n| guard | 1 | reuse |\n\n## Tools\n\n- none\n\n## Supplies\n\n- none\n\n## Strip\n\n")
		for i := range c.strange {
			fmt.Fprintf(&b, "1. {Remove the zwxq%d}.\n", i)
		}
		b.WriteString("1. {Remove the guard}.\n")
		unknown, left := 0, 0
		for _, f := range compileOne("job.md", []byte(b.String())).Findings {
			switch f.Rule {
			case "part/unknown":
				unknown++
			case "refit/left-off":
				left++
			}
		}
		if unknown != c.strange || left != c.leftOff {
			t.Errorf("%d names that nobody knows: %d told of, and %d parts left off, want %d", c.strange, unknown, left, c.leftOff)
		}
	}
}
