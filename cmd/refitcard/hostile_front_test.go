package main

import (
	"fmt"
	"strings"
)

func hostileFront() []hostile {
	rest := "---\n\n" + lists + strip + closing
	start := strings.TrimSuffix(front, "---\n\n")
	return []hostile{
		{"alias bomb", "file/bad-value", only(func(n int) string {
			var b strings.Builder
			b.WriteString(start + "a0: &a0 [x,x,x,x,x,x,x,x,x]\n")
			for i := 1; b.Len() < n; i++ {
				fmt.Fprintf(&b, "a%d: &a%d [*a%d,*a%d,*a%d,*a%d,*a%d,*a%d,*a%d,*a%d]\n", i, i, i-1, i-1, i-1, i-1, i-1, i-1, i-1, i-1)
			}
			return b.String() + rest
		})},
		{"merge keys", "file/bad-value", numbered(start+"a: &a {b: c}\n", "k@: {<<: *a}\n", rest)},
		{"documents", "", said(front, "---\ntitle: Another\n", rest)},
		{"brackets in brackets", "file/bad-value", nested(start+"starts: ", "[", "]", "\n"+rest)},
		{"braces in braces", "file/bad-value", nested(start+"starts: ", "{a: ", "}", "\n"+rest)},
		{"dashes in dashes", "", said(start+"starts: \n  ", "- ", "x\n"+rest)},
		{"keys ever deeper", "", only(func(n int) string {
			var b strings.Builder
			b.WriteString(start)
			for i := 0; b.Len() < n; i++ {
				b.WriteString(strings.Repeat(" ", i) + "a:\n")
			}
			return b.String() + rest
		})},
		{"unknown keys", "file/unknown-key", numbered(start, "titel@: x\n", rest)},
		{"one key over and over", "file/repeated-key", said(start, "title: x\n", rest)},
		{"many keys, each twice", "file/repeated-key", numbered(start, "k@: x\nk@: y\n", rest)},
		{"a title without end", "", said(start+"machine: ", "x", "\n"+rest)},
		{"a number without end", "", said("---\ntitle: a\nrevision: A\nnumber: ", "x", "\n"+rest)},
		{"a quotation never closed", "", said(start+"machine: \"", "x\n", rest)},
		{"a block text", "", said(start+"machine: |\n", "  x\n", rest)},
		{"starts", "", numbered(start+"starts:\n", "  - remove bolt @\n", rest)},
		{"starts and leaves", "", only(func(n int) string {
			return start + "starts:\n" + turns(n/2, "  - remove the bolt @\n") + "leaves:\n" + turns(n/2, "  - remove the bolt @\n") + rest
		})},
		{"variants", "", numbered(start+"variants:\n", "  - v@\n", rest)},
		{"variants, and steps for each", "", only(func(n int) string {
			return start + "variants:\n" + turns(n/2, "  - v@\n") + "---\n\n" + lists + "## Work\n\n" + turns(n/2, "1. {For v@} look.\n")
		})},
		{"references", "", numbered(start+"references:\n", "  - book @\n", rest)},
		{"procedures before", "", numbered(start+"after:\n", "  - SL-@\n", rest)},
		{"ten thousand million wheels", "", said(start+"each: wheel, 10000000000\n", "# x\n", rest)},
		{"people without number", "", said(start+"people: ", "9", "\n"+rest)},
		{"people of all trades", "", numbered(start+"people: 1 fitter", ", 1 fitter@", "\n"+rest)},
		{"time without end", "", said(start+"time: ", "9", " min\n"+rest)},
		{"no end of the front matter", "", said("---\n", "a: b\n", "")},
		{"comments in the front matter", "", said(start, "# x\n", rest)},
		{"YAML tags", "file/bad-value", numbered(start, "k@: !!binary x\n", rest)},
		{"YAML question marks", "", said(start, "? x\n", rest)},
		{"tabs in the front matter", "", said(start, "\ta: b\n", rest)},
		{"right side of a colon", "", said(start+"machine: ", ": ", "\n"+rest)},
	}
}

func hostileFigures() []hostile {
	torque := func(value string) string {
		return front + "## Parts\n\n| Part | Qty | Spec | Torque |\n|:--|--:|:--|:--|\n| bolt | 1 | M8 8.8 | " + value + " |\n" + noLists + "## Work\n\n1. {Remove the bolt}.\n"
	}
	measure := func(words string) string { return stage + "1. {Measure the gap " + words + "}.\n" }
	qty := func(text string) string {
		return front + "## Parts\n\n| Part | Qty | Spec |\n|:--|--:|:--|\n| bolt | " + text + " | M8 |\n" + noLists + "## Work\n\n1. {Remove all bolts}. {Install all bolts}.\n"
	}
	flat := func(text string) func(int) map[string]string {
		return said(text+"\n", "a\n", "")
	}
	return []hostile{
		{"an exponent in a torque", "", flat(torque("1e999999999 N·m"))},
		{"a negative exponent", "", flat(torque("1e-999999999 N·m"))},
		{"an exponent in a measurement", "", flat(measure("1e999999999..2e999999999 mm"))},
		{"an exponent in a quantity", "", flat(qty("1e999999999"))},
		{"digits in a torque", "", only(func(n int) string { return torque(strings.Repeat("9", n) + " N·m") })},
		{"digits behind the point", "", only(func(n int) string { return torque("0." + strings.Repeat("1", n) + " N·m") })},
		{"digits in a measurement", "", only(func(n int) string { return measure("1 ±0." + strings.Repeat("1", n) + " mm") })},
		{"digits in brackets", "", only(func(n int) string { return measure("at most " + strings.Repeat("1", n) + " mm (1 in)") })},
		{"a fraction of digits", "", only(func(n int) string { return torque("1/" + strings.Repeat("3", n) + " N·m") })},
		{"a quantity of digits", "", only(func(n int) string { return qty(strings.Repeat("9", n)) })},
		{"a million million bolts", "", flat(qty("1000000000000"))},
		{"more bolts than can be counted", "", flat(qty("99999999999999999999999999"))},
		{"fewer than none", "", flat(qty("-5"))},
		{"up to a million million", "", flat(qty("up to 1000000000000"))},
		{"a thousand million passes", "", flat(stage + "1. {Torque 4 cover bolts to 22 N·m crosswise in 1000000000 passes}.")},
		{"passes one after the other", "", numbered(stage+"1. {Torque 4 cover bolts crosswise in passes of 1", ", @", " N·m}.\n")},
		{"a thousand million places", "", flat(measure("1..2 mm at 1000000000 places"))},
		{"a thousand million times", "", flat(stage + "1. {Repeat 1000000000 times} look.")},
		{"a thousand million days", "", flat(stage + "1. {Wait 1000000000 d}. {Start the cure, 99999999999999999999 h}. {Await the cure, within 1 min}.")},
		{"a thousand million litres", "", flat(front + "## Parts\n\n- none\n\n## Tools\n\n- drain pan, 99999999999999999999 L\n\n## Supplies\n\n- oil, 1000000000000000000000 L, drains 99999999999999999999999 mL\n\n## Work\n\n1. {Drain the oil}. {Fill the oil}.")},
		{"threads that nobody makes", "", flat(front + "## Parts\n\n| Part | Qty | Spec |\n|:--|--:|:--|\n| bolt | 1 | M99999999999999999×0.0000000000000001×1e999 8.8 |\n" + noLists + "## Work\n\n1. {Remove the bolt}.")},
		{"specs without end", "", only(func(n int) string {
			return front + "## Parts\n\n| Part | Qty | Spec |\n|:--|--:|:--|\n| bolt | 1 | " + strings.Repeat("M8 8.8 ", n/7) + "|\n" + noLists + "## Work\n\n1. {Remove the bolt}.\n"
		})},
		{"figures in prose", "", said(stage+"1. ", "22 N·m ", "\n")},
		{"figures in prose, line by line", "", said(stage, "1. 22 N·m (16 lbf·ft) and 1,5 mm\n", "")},
		{"figures in brackets", "", said(stage, "1. {Measure the gap 1..2 mm (0.04..0.08 in), else step 1}.\n", "")},
	}
}
