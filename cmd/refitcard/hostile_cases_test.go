package main

import (
	"fmt"
	"strings"
)

// A hostile is a library that somebody wrote to trip the program, or that a broken program wrote. files gives it at a size of
// about n bytes by name; "job.md" is the procedure. want is the finding that has to come, "" where any or none will do.
type hostile struct {
	name  string
	want  string
	files func(n int) map[string]string
}

// The parts of a procedure that is in order, so that what is hostile gets past the first look.
const (
	front = "---\ntitle: Look at the sluice\nnumber: SL-1\nrevision: A\n---\n\n"
	lists = "## Parts\n\n| Part | Qty | Spec | Use | Place | Torque |\n|:--|--:|:--|:--|:--|:--|\n| cover bolt | 4 | M8 8.8 | reuse | holds end cover | 22 N·m |\n| end cover | 1 | | reuse | | |\n\n" +
		"## Tools\n\n- 13 mm socket\n- torque wrench, 5–50 N·m\n\n## Supplies\n\n- shop towel, 4\n\n"
	strip   = "## Strip\n\n1. {Remove 4 cover bolts} with the {tool 13 mm socket}. {Remove the end cover}.\n"
	closing = "1. {Install the end cover}. {Install 4 cover bolts}. {Torque 4 cover bolts} with the {tool torque wrench} and {tool 13 mm socket}.\n"
)

// only is a library of one procedure.
func only(text func(n int) string) func(int) map[string]string {
	return func(n int) map[string]string { return map[string]string{"job.md": text(n)} }
}

// said repeats a piece up to n bytes between two texts.
func said(before, piece, after string) func(int) map[string]string {
	return only(func(n int) string { return before + strings.Repeat(piece, n/len(piece)) + after })
}

// numbered repeats a piece that holds the number of its turn, for names that are all unlike.
func numbered(before, format, after string) func(int) map[string]string {
	return only(func(n int) string { return before + turns(n, format) + after })
}

func turns(n int, format string) string {
	var b strings.Builder
	for i := 0; b.Len() < n; i++ {
		b.WriteString(strings.ReplaceAll(format, "@", fmt.Sprint(i)))
	}
	return b.String()
}

// nested puts a piece into itself as often as fits into n bytes.
func nested(before, open, shut, after string) func(int) map[string]string {
	return only(func(n int) string {
		k := n / (len(open) + len(shut))
		return before + strings.Repeat(open, k) + "x" + strings.Repeat(shut, k) + after
	})
}

const (
	partsHead = front + "## Parts\n\n| Part | Qty | Use | Place |\n|:--|--:|:--|:--|\n"
	noLists   = "\n## Tools\n\n- none\n\n## Supplies\n\n- none\n\n"
	stage     = front + lists + "## Work\n\n"
)

func hostiles() []hostile {
	var all []hostile
	for _, group := range [][]hostile{hostileBytes(), hostileFront(), hostileFigures(), hostileNames(), hostileSteps(), hostileBlocks(), hostileLibraries()} {
		all = append(all, group...)
	}
	return all
}

func hostileBytes() []hostile {
	bom := "\ufeff"
	return []hostile{
		{"too many bytes", "file/too-large", said(stage, "a\n", strings.Repeat("x", 1<<20))},
		{"wide head, short rows", "file/too-large", only(func(n int) string {
			return front + "## Parts\n\n" + strings.Repeat("|a", n/8) + "|\n" + strings.Repeat("|-", n/8) + "|\n" + strings.Repeat("|\n", n/4)
		})},
		{"quotes in quotes", "file/too-large", nested(stage, ">", "", "\n")},
		{"quotes in quotes, line by line", "", said(stage, "> > > > a\n", "")},
		{"links never closed", "file/too-large", said(stage, "[a](", "\n")},
		{"emphasis never closed", "file/too-large", said(stage, "*a_", "\n")},
		{"braces never closed", "tag/unclosed", said(stage+"1. ", "{remove x ", "\n")},
		{"braces alone", "", said(stage+"1. ", "{", "\n")},
		{"braces never closed, line by line", "tag/unclosed", said(stage, "1. {remove x\n\n", "")},
		{"braces closed, never opened", "", said(stage+"1. ", "} ", "\n")},
		{"byte order marks", "", said("", bom, front+lists+strip+closing)},
		{"byte order marks in a name", "", said(stage+"1. {Remove the ", bom, "end cover}.\n")},
		{"lone CR", "", said(strings.ReplaceAll(stage, "\n", "\r"), "1. a\r", "")},
		{"CR and LF mixed", "", said(stage, "1. a\r\n\r", "")},
		{"NUL bytes", "file/not-text", said(stage, "\x00", "\n")},
		{"ANSI escapes", "file/not-text", said(stage, "1. \x1b[2J\x1b]0;x\a\n", "")},
		{"invalid UTF-8", "file/not-text", said(stage, "\xff\xfe", "\n")},
		{"half a character at the end", "file/not-text", said(stage, "a ", "\xe2\x82")},
		{"right-to-left overrides", "", said(stage, "1. {Remove the \u202erevoc dne\u202c}.\n", "")},
		{"zero-width joiners", "", said(stage+"1. {Remove the ", "\u200d", "end cover}.\n")},
		{"combining marks", "", said(stage+"1. {Remove the e", "\u0301", "nd cover}.\n")},
		{"C1 controls", "", said(stage, "1. \u009b2J \u0085\n", "")},
		{"padded cells", "", said(partsHead, "| a"+strings.Repeat(" ", 200)+"|1"+strings.Repeat(" ", 200)+"| | |\n", noLists)},
		{"cells beyond the head", "", said(partsHead, "|a|1|||b|c|d|e|f|\n", noLists)},
		{"one row of cells", "", said(partsHead+"|a", "|b", "\n"+noLists)},
		{"tags in an HTML block", "tag/hidden", said(stage+"<div>\n", "{remove the end cover}\n", "</div>\n")},
		{"tags in comments", "tag/hidden", said(stage, "<!-- {remove the end cover} -->\n\n", "")},
		{"a comment never closed", "", said(stage+"<!-- ", "{remove the end cover}\n", "")},
		{"tags in code", "tag/hidden", said(stage+"1. a\n\n```\n", "{remove the end cover}\n", "```\n")},
		{"tags in code spans", "tag/hidden", said(stage+"1. ", "`{remove the end cover}` ", "\n")},
		{"tags far indented", "tag/hidden", said(stage+"1. a\n\n", "               {remove the end cover}\n", "")},
		{"one line", "", said(stage, "x", "\n")},
		{"one line of spaces", "", said(stage+"a", " ", "\n")},
		{"blank lines", "", said(stage, "\n", "1. a\n")},
		{"backslashes", "", said(stage+"1. ", `\`, "\n")},
		{"regular-expression-like text", "", said(stage+"1. {Check ", "(a+)+$", "}.\n")},
		{"repeated groups", "", said(stage+"1. ", "aaaaaaaaaaaaaaaaaaaaaaaaaaaa! ", "\n")},
	}
}
