package syntax

import (
	"fmt"
	"strings"
	"testing"
)

// byteCase is a text whose bytes matter, and its tree.
type byteCase struct{ name, text, want string }

func byteCases() []byteCase {
	const step = "numbers %q\n  item %q\n    paragraph \"{check it}\"\n      tag \"{check it}\"\n        verb \"check\"\n        body \"it\"\n"
	one := fmt.Sprintf(step, "1. {check it}", "1. {check it}")
	section := "section \"## A\"\n  title \"A\"\n"
	return []byteCase{
		{"nothing", "", ""},
		{"byte order mark before a heading", "\xef\xbb\xbf## A\n", section},
		{"byte order mark alone", "\xef\xbb\xbf", ""},
		{"byte order mark before front matter", "\xef\xbb\xbf---\na: 1\n---", "front \"---\\na: 1\\n---\"\n"},
		{"no line end", "1. {check it}", one},
		{"line end", "1. {check it}\n", one},
		{"CR LF", "1. {check it}\r\n", one},
		{"CR", "1. {check it}\r", one},
		{"form feed", "1. {check it}\f", "fault file/not-text at \"\\f\" words [\"binary data\"]\n"},
		{"CR LF in front matter", "---\r\na: 1\r\n---\r\n## A\r\n", "front \"---\\r\\na: 1\\r\\n---\"\n" + section},
		{"CR in front matter", "---\ra: 1\r---\r## A\r", "front \"---\\ra: 1\\r---\"\n" + section},
		{"CR between items", "- a\r- b", "bullets \"- a\\r- b\"\n  item \"- a\"\n    paragraph \"a\"\n      text \"a\"\n  item \"- b\"\n    paragraph \"b\"\n      text \"b\"\n"},
		{"CR LF in a paragraph", "a\r\nb  \r\nc\\\r\nd", "paragraph \"a\\r\\nb  \\r\\nc\\\\\\r\\nd\"\n  text \"a\" -> \"a \"\n  text \"b\" -> \"b \"\n  text \"c\" -> \"c \"\n  text \"d\"\n"},
		{"CR in a tag", "{check\rit}", "paragraph \"{check\\rit}\"\n  tag \"{check\\rit}\"\n    verb \"check\"\n    body \"it\"\n"},
		{"CR LF in a code span", "`a\r\nb`", "paragraph \"`a\\r\\nb`\"\n  code text \"a\" -> \"a \"\n  code text \"b\"\n"},
		{"CR LF in a layout", "```layout a\r\n o\r\no\r\n```\r\n", "layout \"```layout a\\r\\n o\\r\\no\\r\\n```\"\n  name \"a\"\n  place 1,0 \"o\"\n  place 0,1 \"o\"\n"},
		{"CR LF in a table", "|a|\r\n|-|\r\n|b|\r\n", "table \"|a|\\r\\n|-|\\r\\n|b|\"\n  head \"a\"\n  row \"|b|\"\n    cell \"b\"\n"},
		{"NUL", "ab\x00", "fault file/not-text at \"\\x00\" words [\"binary data\"]\n"},
		{"escape for a terminal", "a\x1b[2J", "fault file/not-text at \"\\x1b\" words [\"binary data\"]\n"},
		{"byte that begins no character", "ä\x80{x", "fault file/not-text at \"\\x80\" words [\"not UTF-8\"]\n"},
		{"character cut off", "x\xe2\x82", "fault file/not-text at \"\\xe2\" words [\"not UTF-8\"]\n"},
		{"half of a pair", "\xed\xa0\x80", "fault file/not-text at \"\\xed\" words [\"not UTF-8\"]\n"},
		{"the replacement character as typed", "\ufffd", "paragraph \"\ufffd\"\n  text \"\ufffd\"\n"},
		{"UTF-16", "\xff\xfea\x00", "fault file/not-text at \"\\x00\" words [\"binary data\"]\n"},
		{"many bytes before a place", "𝄞\u0301é: {check ü𝄞}", "paragraph \"𝄞\u0301é: {check ü𝄞}\"\n  text \"𝄞\u0301é: \"\n  tag \"{check ü𝄞}\"\n    verb \"check\"\n    body \"ü𝄞\"\n"},
	}
}

func TestBytes(t *testing.T) {
	for _, c := range byteCases() {
		t.Run(c.name, func(t *testing.T) { wantTree(t, c.text, c.want) })
	}
}

func TestLimits(t *testing.T) {
	rep := strings.Repeat
	row := func(n int) string { return rep("|a", n) + "|\n" }
	table := func(columns, rows int) string { return row(columns) + rep("|-", columns) + "|\n" + rep("|\n", rows-1) }
	for _, c := range []struct {
		name, within, beyond, want string
	}{
		{"bytes", "<!--" + rep("a", maxBytes-4), rep("a", maxBytes+1), "bytes: 1048577 > 1048576 at line 1"},
		{"columns", table(60, 3), "x\n\n" + table(61, 3), "columns in a table: 61 > 60 at line 4"},
		{"cells", table(60, 1999), table(50, 4001), "cells in tables: 200050 > 200000 at line 2"},
		{"cells of many tables", table(60, 999) + "\n" + table(60, 999), rep(table(50, 2000)+"\n", 2) + table(1, 2), "cells in tables: 200002 > 200000 at line 4006"},
		{"quotes", rep(">", 40) + "a", "\n" + rep("> ", 41) + "a", "quotes and lists within one another: 41 > 40 at line 2"},
		{"lists in a line", rep("- ", 40) + "a", rep("10. ", 41) + "a", "quotes and lists within one another: 41 > 40 at line 1"},
		{"lists by indentation", rep(" ", 319) + "- a", rep("\t", 82) + "- a", "quotes and lists within one another: 42 > 40 at line 1"},
		{"a rule across the page", rep("- ", 200) + "\n" + rep("* ", 200), rep("+ ", 41), "quotes and lists within one another: 41 > 40 at line 1"},
		{"brackets", rep("[a](", 200), rep("a\n", 3) + rep("[a](", 201), "brackets in a paragraph: 201 > 200 at line 4"},
		{"brackets in many items", rep("- [a](b)\n", 1000), rep("![", 999), "brackets in a paragraph: 999 > 200 at line 1"},
		{"definitions", rep("[a]: b\n", 200), rep("[a]: b\n", 201), "brackets in a paragraph: 201 > 200 at line 201"},
		{"marks", rep("*a_", 250), rep("*a_", 251), "emphasis marks in a paragraph: 502 > 500 at line 1"},
		{"marks in many rows", "|a|\n|-|\n" + rep("|*b*|\n", 1000), "|a|\n|-|\n|" + rep("*a_", 251) + "|", "emphasis marks in a paragraph: 502 > 500 at line 3"},
		{"rows", rep("|a|\n|-|\n"+rep("|b|\n", 1000)+"\n", 2), "|a|\n|-|\n" + rep("|b|\n", 2001), "rows in tables: 2001 > 2000 at line 1"},
		{"entries", rep("- a\n", 6000), rep("- a\n", 6001), "entries in lists: 6001 > 6000 at line 1"},
		{"tags", rep("- {check a}{check b}\n", 5000), rep("{check a}\n\n", 10_001), "tags: 10001 > 10000 at line 1"},
		{"paragraphs", rep("a\n\n", 20_000), rep("a\n\n", 20_001), "paragraphs: 20001 > 20000 at line 1"},
		{"places", "```layout a\n" + rep("oooooooooo\n", 200) + "```", "```layout a\n" + rep("ooo\n", 667) + "```", "places in layouts: 2001 > 2000 at line 1"},
		{"a text", rep("a", 5000), "- b\n- " + rep("a", 5001), "bytes in one text: 5001 > 5000 at line 2"},
		{"a cell", "|a|\n|-|\n|" + rep("a", 5000) + "|", "|a|\n|-|\n|" + rep("a", 5001) + "|", "bytes in one text: 5001 > 5000 at line 3"},
		{"a heading", "## " + rep("a", 4990), "## " + rep("a", 5001), "bytes in one text: 5001 > 5000 at line 1"},
		{"front matter", "---\n" + rep("# a\n", 8000) + "a: b\n---\n", "---\n" + rep("# a\n", 8200) + "a: b\n---\n", "bytes in the front matter: 32812 > 32768 at line 1"},
		{"places that can't be read", rep("{a\n\n", 1000), rep("{a\n\n", 1001), "places that can't be read: 1001 > 1000 at line 1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if tree := parse([]byte(c.within)); len(tree.Faults) > 0 && strings.HasPrefix(c.name, "places that") {
				if len(tree.Faults) != 1000 {
					t.Errorf("%d faults within the limit", len(tree.Faults))
				}
			} else if len(tree.Faults) > 0 {
				t.Errorf("refused within the limit: %v", tree.Faults[0].Words)
			}
			tree := parse([]byte(c.beyond))
			if len(tree.Faults) != 1 || tree.Faults[0].Name != "file/too-large" {
				t.Fatalf("not refused beyond the limit: %d faults", len(tree.Faults))
			}
			f := tree.Faults[0]
			got := fmt.Sprintf("%s: %d > %d at line %d", f.Words[0], f.Counts[0], f.Counts[1], f.At.File.Line(f.At.Start))
			if got != c.want {
				t.Errorf("said %q, not %q", got, c.want)
			}
			wantSound(t, tree)
		})
	}
}
