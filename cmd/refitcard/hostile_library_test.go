package main

import (
	"fmt"
	"strings"
)

func hostileLibraries() []hostile {
	good := front + lists + strip + closing
	with := func(settings func(n int) string) func(int) map[string]string {
		return func(n int) map[string]string { return map[string]string{"job.md": good, "refitcard.yaml": settings(n)} }
	}
	list := func(kind string, rows func(n int) string) func(int) map[string]string {
		return func(n int) map[string]string {
			return map[string]string{"job.md": good, "refitcard.yaml": kind + ": list.csv\n", "list.csv": rows(n)}
		}
	}
	stock := "item,number,bin,pack\n"
	part := "## Parts\n\n| Part | Qty |\n|:--|--:|\n"
	return []hostile{
		{"settings of one key", "", with(func(n int) string { return strings.Repeat("shop: x\n", n/8) })},
		{"settings of unknown keys", "", with(func(n int) string { return turns(n, "shpo@: x\n") })},
		{"settings: alias bomb", "", with(func(n int) string { return "a: &a [x,x]\n" + turns(n, "b@: [*a,*a,*a,*a]\n") })},
		{"settings: pairs of verbs", "", with(func(n int) string { return "verbs:\n" + turns(n, "  - {verb: set@, undone: unset@}\n") })},
		{"settings: one pair over and over", "", with(func(n int) string { return "verbs:\n" + strings.Repeat("  - {verb: set up, undone: strike}\n", n/36) })},
		{"settings: severities", "", with(func(n int) string { return "severities:\n" + turns(n, "  wording/a@: error\n") })},
		{"settings: a statement without end", "", with(func(n int) string { return "statement: " + strings.Repeat("word ", n/5) + "\n" })},
		{"settings: a lift without end", "", with(func(n int) string { return "lift: " + strings.Repeat("9", n) + " kg\n" })},
		{"settings: a distance without end", "", with(func(n int) string { return "distance: " + strings.Repeat("9", n) + "\n" })},
		{"settings: binary", "", with(func(n int) string { return strings.Repeat("\x00", n) })},
		{"settings: too many bytes", "file/too-large", with(func(n int) string { return "shop: x\n" + strings.Repeat("# x\n", n+80_000) })},
		{"stock: very many lines", "", list("stock", func(n int) string { return stock + turns(n, "bolt @,N-@,B-@,1\n") })},
		{"stock: one giant cell", "", list("stock", func(n int) string { return stock + strings.Repeat("x", n) + ",1,2,3\n" })},
		{"stock: a quotation never closed", "", list("stock", func(n int) string { return stock + "\"" + strings.Repeat("x\n", n/2) })},
		{"stock: quotation marks", "", list("stock", func(n int) string { return stock + strings.Repeat("\"", n) })},
		{"stock: columns", "", list("stock", func(n int) string { return stock + strings.Repeat(",", n) + "\n" })},
		{"stock: columns of the head", "", list("stock", func(n int) string { return "item" + strings.Repeat(",item", n/5) + "\n" })},
		{"stock: NUL bytes", "", list("stock", func(n int) string { return stock + strings.Repeat("\x00", n) })},
		{"stock: comments", "", list("stock", func(n int) string { return stock + strings.Repeat("#\n", n/2) })},
		{"crib: very many lines", "", list("crib", func(n int) string {
			return "tool,crib,serial,calibrated_to\n" + turns(n, "socket @,C@,S@,2030-01-01\n")
		})},
		{"very many parts and a long stock list", "", func(n int) map[string]string {
			return map[string]string{
				"job.md":         partsHead + turns(n/2, "| bolt @ | 1 | add | |\n") + noLists + "## Work\n\n" + turns(n/2, "1. {Install the bolt @}.\n"),
				"refitcard.yaml": "stock: list.csv\n", "list.csv": stock + turns(n, "screw @,N-@,B-@,1\n"),
			}
		}},
		{"very many tools and a long crib", "", func(n int) map[string]string {
			return map[string]string{
				"job.md":         front + "## Parts\n\n- none\n\n## Tools\n\n" + turns(n/2, "- tool number @\n") + "\n## Supplies\n\n- none\n\n## Work\n\n" + turns(n/2, "1. Take the {tool tool number @}.\n"),
				"refitcard.yaml": "crib: list.csv\n", "list.csv": "tool,crib,serial,calibrated_to\n" + turns(n, "socket @,C@,S@,2030-01-01\n"),
			}
		}},
		{"very many supplies and a long stock list", "", func(n int) map[string]string {
			return map[string]string{
				"job.md":         front + "## Parts\n\n- none\n\n## Tools\n\n- none\n\n## Supplies\n\n" + turns(n/2, "- oil @, 1 L\n") + "\n## Work\n\n" + turns(n/2, "1. {Fill the oil @}.\n"),
				"refitcard.yaml": "stock: list.csv\n", "list.csv": stock + turns(n, "grease @,N-@,B-@,1 L\n"),
			}
		}},
		{"includes over and over", "file/too-large", func(n int) map[string]string {
			return map[string]string{"job.md": stage + strings.Repeat("{include a.md}\n\n", n/16), "a.md": front + part + "| nut | 1 |\n\n## Work\n\n1. Look.\n"}
		}},
		{"includes that are not there", "include/missing", numbered(stage, "{include a@.md}\n\n", "")},
		{"includes that leave the library", "include/outside", said(stage, "{include ../../../etc/passwd}\n\n", "")},
		{"an include of itself", "include/cycle", said(stage, "{include job.md}\n\n", "")},
		{"a chain of includes", "file/too-large", func(n int) map[string]string {
			m := map[string]string{"job.md": stage + "{include a0.md}\n"}
			for i := range min(max(n>>12, 70), 2000) {
				m[fmt.Sprintf("a%d.md", i)] = fmt.Sprintf("%s## Work\n\n{include a%d.md}\n", front, i+1)
			}
			return m
		}},
		{"includes that double", "file/too-large", func(n int) map[string]string {
			m := map[string]string{"job.md": stage + "{include a0.md}\n\n{include a0.md}\n"}
			for i := range 60 {
				m[fmt.Sprintf("a%d.md", i)] = fmt.Sprintf("%s## Work\n\n{include a%d.md}\n\n{include a%d.md}\n\n%s", front, i+1, i+1, strings.Repeat("x ", n>>8))
			}
			return m
		}},
		{"large includes", "", func(n int) map[string]string {
			return map[string]string{"job.md": stage + strings.Repeat("{include a.md}\n\n", 60), "a.md": front + "## Work\n\n" + strings.Repeat("1. Look.\n", n/60/9)}
		}},
		{"a register of very many", "", func(n int) map[string]string {
			m := map[string]string{"job.md": strings.Replace(good, "revision: A\n", "revision: A\nafter: [X-1, X-2, X-9999999]\n", 1), "refitcard.yaml": "shop: x\n"}
			for i := range n >> 10 {
				m[fmt.Sprintf("p%d.md", i)] = fmt.Sprintf("---\ntitle: a\nnumber: X-%d\nrevision: A\nafter: [X-%d]\nthen: [X-%d]\n---\n", i, i+1, i-1)
			}
			return m
		}},
		{"a register of one number", "", func(n int) map[string]string {
			m := map[string]string{"job.md": good, "refitcard.yaml": "shop: x\n"}
			for i := range n >> 10 {
				m[fmt.Sprintf("p%d.md", i)] = "---\ntitle: a\nnumber: SL-1\nrevision: A\nafter: [SL-1]\nthen: [SL-1]\n---\n"
			}
			return m
		}},
		{"a register of giants", "", func(n int) map[string]string {
			return map[string]string{"job.md": good, "refitcard.yaml": "shop: x\n", "p.md": "---\n" + strings.Repeat("a: b\n", n/5)}
		}},
	}
}
