package document_test

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"refitcard/compiler"
	"refitcard/compiler/rules"
	"refitcard/render/document"
)

func reviewOf(t testing.TB, text string) *document.Review {
	t.Helper()
	fsys := fstest.MapFS{"job.md": {Data: []byte(text)}}
	r := compiler.Open(fsys, func(path string) string { return path }).CompileText("job.md", []byte(text), rules.Options{})
	return document.MakeReview(document.ReviewInput{Proc: r.Proc, Settings: r.Settings, Findings: r.Findings})
}

// drawn prints a row of a ledger in characters: o comes off, O goes back, x scrapped, | turned, = off, - in and not tight;
// two marks of a step stand in one cell.
func drawn(l document.Ledger, row document.LedgerRow) string {
	cells := make([]string, len(l.Steps)+1)
	for _, b := range row.Bars {
		for i := max(b.From, 0); i < min(b.To, len(cells)); i++ {
			cells[i] += map[bool]string{false: "=", true: "-"}[b.Hollow]
		}
		if b.To == len(l.Steps) {
			cells[b.To] = ">"
		}
	}
	for _, m := range row.Marks {
		cells[m.Column] += string("oOx|"[m.Kind])
	}
	for i, c := range cells {
		if c == "" {
			cells[i] = "."
		}
	}
	fault := ""
	if row.Fault {
		fault = " FAULT"
	}
	return fmt.Sprintf("%s %s %s %s%s", row.Thing, row.Count, strings.Join(cells[:len(l.Steps)], " ")+strings.Trim(cells[len(l.Steps)], "."), row.End, fault)
}

func ledgerOf(r *document.Review) []string {
	var rows []string
	for _, l := range r.Ledgers {
		for _, row := range l.Rows {
			rows = append(rows, drawn(l, row))
		}
	}
	return rows
}

func TestTheLedgerOfTheSampleJob(t *testing.T) {
	text, err := os.ReadFile("../../procedures/rake-winch-end-cover.md")
	if err != nil {
		t.Fatal(err)
	}
	r := reviewOf(t, string(text))
	want := []string{
		"winch isolator 1 =o = = = = = = = O . restored",
		"drain plug 1 . =o = = = = O . . . on, 25 N·m",
		"old sealing washer 1 . ox . . . . . . . . scrapped",
		"gear oil 1.4 L . =o = = = = = O . . filled",
		"cover bolt 12 . . =o = = O . . . . on, 22 N·m",
		"end cover 1 . . =o = O . . . . . on",
		"old cover gasket 1 . . ox . . . . . . . scrapped",
		"new cover gasket 1 . . . . O . . . . . on",
		"new sealing washer 1 . . . . . . O . . . on",
		"locating dowel 2 . . . . . . . . . . not touched",
	}
	if diff := cmp.Diff(want, ledgerOf(r)); diff != "" {
		t.Error(diff)
	}
	if got := r.Standing; !got.Good || got.Ledger != "The ledger closes." {
		t.Errorf("%+v", got)
	}
}

const job = `---
title: Renew the gasket of the sluice gearbox
number: SG-7
revision: A
---

## Parts

| Part       | Qty | Spec          | Use     | Place        | Torque |
|:-----------|----:|:--------------|:--------|:-------------|:-------|
| cover      |   1 |               | reuse   |              |        |
| cover bolt |  12 | M8×30 8.8 hex | reuse   | holds cover  | 22 N·m |
| gasket     |   1 |               | replace | behind cover |        |

## Tools

- 13 mm socket
- torque wrench, 5–50 N·m

## Supplies

- gear oil, 2 L

## Strip

1. {Lock off the gate drive}. {Check the gate does not move}.
2. {Drain the gear oil}. {Remove 12 cover bolts} with the {tool 13 mm socket}. {Remove the cover and the gasket}.
3. {Disconnect the limit switch}.

## Refit

1. {Install a new gasket}, then {install the cover}. {Install 12 cover bolts}.
2. {Torque 12 cover bolts} with the {tool torque wrench} and {tool 13 mm socket}.
3. {Fill the gear oil}. {Connect the limit switch}.
4. {Check nobody is at the gate} and {unlock the gate drive}.
`

// What is not as it should be at the end runs off the right edge, and nothing else does.
func TestFaultsRunOffTheEdge(t *testing.T) {
	for _, c := range []struct {
		intent   string
		was, now string
		want     string // the row that tells
	}{
		{"in and tightened in a later step", "", "", "cover bolt 12 . =o = -O | . . on, 22 N·m"},
		{"two bolts left off", "{Install 12 cover bolts}", "{Install 10 cover bolts}", "cover bolt 12 . =o = =O =| = => 2 of 12 off FAULT"},
		{"never torqued", "{Torque 12 cover bolts} with", "{Check 12 cover bolts} with", "cover bolt 12 . =o = -O - - -> in, not tight FAULT"},
		{"a cover left off", "then {install the cover}", "then look", "cover 1 . =o = = = = => off FAULT"},
		{"the old gasket back", "a new gasket", "the old gasket", "old gasket 1 . o . =O = = => old one back on FAULT"},
		{"the old gasket never changed", "the cover and the gasket}", "the cover}", "old gasket 1 = = = = = = => still on FAULT"},
		{"a part that stays off as meant", "| cover      |   1 |               | reuse ", "| cover | 1 | | omit ", "cover 1 . =o = = = = . off, as meant"},
		{"a part that is to stay off and never comes off", "| gasket     |   1 |               | replace ", "| shield | 1 | | omit ", "shield 1 = = = = = = => still on FAULT"},
		{"no new gasket", "{Install a new gasket}, then", "Then", "new gasket 1 . = = = = = => off FAULT"},
		{"oil not filled", "{Fill the gear oil}", "Fill up", "gear oil 2 L . =o = = = = => drained FAULT"},
		{"a plug left apart", "{Connect the limit switch}", "Look", "limit switch 1 . . =o = = = => disconnected FAULT"},
		{"still locked off", "and {unlock the gate drive}", "and go", "gate drive 1 =o = = = = = => locked off FAULT"},
		{"left locked on purpose", "and {unlock the gate drive}.\n", "and go.\n@leaves: [lock off gate drive]", "gate drive 1 =o = = = = = . locked off, on purpose"},
		{"a bolt left loose on purpose", "{Install 12 cover bolts}.\n2. {Torque 12 cover bolts}", "{Snug 12 cover bolts}.\n2. {Torque 11 cover bolts}@leaves: [snug cover bolt]", "cover bolt 12 . =o = -O -| - . 1 of 12 hand-tight, on purpose"},
	} {
		t.Run(c.intent, func(t *testing.T) {
			now, front, _ := strings.Cut(c.now, "@")
			text := strings.Replace(job, c.was, now, 1)
			if c.was != "" && text == job {
				t.Fatalf("%q does not stand in the job", c.was)
			}
			if front != "" {
				text = strings.Replace(text, "revision: A", "revision: A\n"+front, 1)
			}
			rows := ledgerOf(reviewOf(t, text))
			if !strings.Contains("\n"+strings.Join(rows, "\n")+"\n", "\n"+c.want+"\n") {
				t.Errorf("want %s\ngot\n%s", c.want, strings.Join(rows, "\n"))
			}
			for _, r := range rows {
				if strings.Contains(r, ">") != strings.HasSuffix(r, "FAULT") {
					t.Errorf("the edge and the fault disagree: %s", r)
				}
			}
		})
	}
}

// A ledger of thousands of steps and parts would fill hundreds of pages: the sheet says so, and is made all the same.
func TestAHugeLedgerIsNotDrawn(t *testing.T) {
	var b strings.Builder
	b.WriteString("---\ntitle: Look at the sluice\nnumber: SL-1\nrevision: A\n---\n\n## Parts\n\n| Part | Qty |\n|:--|--:|\n")
	for i := range 800 {
		fmt.Fprintf(&b, "| bolt %d | 1 |\n", i)
	}
	b.WriteString("\n## Strip\n\n")
	for i := range 800 {
		fmt.Fprintf(&b, "1. {Remove the bolt %d}. {Install the bolt %d}.\n", i, i)
	}
	r := reviewOf(t, b.String())
	if len(r.Ledgers) != 0 || !strings.Contains(r.Standing.Ledger, "too large") || r.Standing.Good {
		t.Errorf("%d ledgers are drawn, and it says %q", len(r.Ledgers), r.Standing.Ledger)
	}
}
