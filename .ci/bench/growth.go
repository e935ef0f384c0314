package main

import (
	"fmt"
	"math"
	"runtime"
	"runtime/debug"
	"strings"
	"testing/fstest"
	"time"

	"refitcard/compiler"
	"refitcard/compiler/rules"
)

// cost is what one size took.
type cost struct {
	size  int
	spent time.Duration // of the processor, the least of a few runs
	bytes uint64        // allocated
}

// growth is what grows, and at which sizes it is looked at. The exponent is fitted over the last three.
type growth struct {
	what  string
	sizes []int
	work  int // how much is done in one go: small sizes are repeated, so that they meet the garbage collector too
	made  func(n int) (run func())
}

func growths(samples map[string][]byte) []growth {
	return []growth{
		{"procedures", []int{1, 10, 100, 1000, 10000}, 200, func(n int) func() { return manyProcedures(samples, n) }},
		{"steps", []int{1, 20, 200, 600, 2000}, 4000, func(n int) func() { return oneText(manySteps(n)) }},
		{"parts", []int{1, 20, 50, 150, 500}, 1000, func(n int) func() { return oneText(manyParts(n)) }},
	}
}

// measured gives the cost of each size.
func (g growth) measured() []cost {
	var all []cost
	for _, n := range g.sizes {
		c := cost{size: n, spent: time.Hour}
		repeat := max(1, min(5, 2000/n))
		for range repeat {
			run := g.made(n)
			runtime.GC()
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			begun := spent()
			rounds := max(1, g.work/n)
			for range rounds {
				run()
			}
			c.spent = min(c.spent, (spent()-begun)/time.Duration(rounds))
			runtime.ReadMemStats(&after)
			c.bytes = (after.TotalAlloc - before.TotalAlloc) / uint64(rounds)
		}
		all = append(all, c)
	}
	return all
}

// exponent is the slope of the last three costs on double logarithmic paper: 1 is linear growth.
func exponent(all []cost, of func(cost) float64) float64 {
	var sx, sy, sxx, sxy, n float64
	for _, c := range all[max(0, len(all)-3):] {
		x, y := math.Log(float64(c.size)), math.Log(of(c))
		sx, sy, sxx, sxy, n = sx+x, sy+y, sxx+x*x, sxy+x*y, n+1
	}
	return (n*sxy - sx*sy) / (n*sxx - sx*sx)
}

// manyProcedures is a check of a library of n procedures, its register and all.
func manyProcedures(samples map[string][]byte, n int) func() {
	files := fstest.MapFS{}
	for name, raw := range library(samples, n) {
		files[name] = &fstest.MapFile{Data: raw}
	}
	return func() {
		lib := compiler.Open(files, func(path string) string { return path })
		for name := range files {
			if strings.HasPrefix(name, copied) {
				if _, err := lib.Compile(name, rules.Options{}); err != nil {
					panic(err)
				}
			}
		}
	}
}

func oneText(text string) func() {
	return func() {
		lib := compiler.Open(fstest.MapFS{}, func(path string) string { return path })
		for _, f := range lib.CompileText("job.md", []byte(text), rules.Options{}).Findings {
			if f.Severity == 3 {
				panic(fmt.Sprintf("%s: %s", f.Rule, f.Message)) // what is measured is to be a procedure without errors
			}
		}
	}
}

const head = `---
title: Look after the gate
number: GT-9
revision: A
---

## Parts

| Part | Qty | Spec | Use | Place | Torque |
|:--|--:|:--|:--|:--|:--|
| guard | 1 | 4 kg | reuse | | |
| guard bolt | 4 | M8×30 8.8 hex | reuse | holds guard | 22 N·m |
`

const lists = `
## Tools

- 13 mm socket
- torque wrench, 5–50 N·m

## Supplies

- shop towel, 4

## Work

`

// manySteps is a procedure of n steps that take a guard off and put it back.
func manySteps(n int) string {
	var b strings.Builder
	b.WriteString(head + lists)
	for i := range n {
		switch {
		case i%2 == 0 && i+1 < n:
			b.WriteString("1. {Remove 4 guard bolts} with the {tool 13 mm socket}, then {remove the guard} and put it on the bench.\n")
		case i%2 == 0:
			b.WriteString("1. {Clean the guard} with a {supply shop towel} until no oil is left on its rim.\n")
		default:
			b.WriteString("1. {Install the guard} and {install 4 guard bolts}. {Torque 4 guard bolts to 22 N·m crosswise} with the {tool torque wrench, 5–50 N·m}.\n")
		}
	}
	return b.String()
}

// manyParts is a procedure with n further parts, all taken off and put back, ten a step.
func manyParts(n int) string {
	name := func(i int) string {
		return fmt.Sprintf("%c%c%c bracket", 'a'+i/26%26, "aeiou"[i%5], 'a'+i%26)
	}
	var b strings.Builder
	b.WriteString(head)
	for i := range n {
		fmt.Fprintf(&b, "| %s | 1 | steel, 2 kg | reuse | | |\n", name(i))
	}
	b.WriteString(lists)
	for _, verb := range []string{"Remove", "Install"} {
		for i := 0; i < n; i += 10 {
			var names []string
			for k := i; k < min(i+10, n); k++ {
				names = append(names, "the "+name(k))
			}
			fmt.Fprintf(&b, "1. {%s %s}.\n", verb, strings.Join(names, ", "))
		}
	}
	return b.String()
}

// grow prints what each size costs, and how the cost grows.
func (b *bencher) grow() {
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // as check has it
	fmt.Printf("\nCost against size: processor time, and memory allocated. The exponent is that of the last three; 1 is linear.\n\n")
	for _, g := range growths(b.samples) {
		all := g.measured()
		for _, c := range all {
			fmt.Printf("%6d %-12s %10.3g ms %10.3g MiB\n", c.size, g.what, float64(c.spent.Microseconds())/1000, float64(c.bytes)/(1<<20))
		}
		fmt.Printf("%6s %-12s %10.2f    %10.2f     (below 1.1 is wanted)\n", "", "exponent",
			exponent(all, func(c cost) float64 { return float64(c.spent) }), exponent(all, func(c cost) float64 { return float64(c.bytes) }))
	}
}
