package main

import (
	"fmt"
	"strings"
)

func hostileNames() []hostile {
	long := func(n int) string { return strings.Repeat("very long ", n/40) + "bolt" }
	return []hostile{
		{"a very long name", "", only(func(n int) string {
			return partsHead + "| " + long(n) + " | 1 | | |\n" + noLists + "## Work\n\n1. {Remove the " + long(n) + "}. {Install the " + long(n) + "}.\n"
		})},
		{"a very long word", "", only(func(n int) string {
			return partsHead + "| " + strings.Repeat("x", n/3) + " | 1 | | |\n" + noLists + "## Work\n\n1. {Remove the " + strings.Repeat("x", n/3) + "y}.\n"
		})},
		{"long names that are nearly alike", "", only(func(n int) string {
			return partsHead + "| " + long(n) + " | 1 | | |\n| " + long(n) + "s | 1 | | |\n" + noLists + "## Work\n\n1. {Remove the " + long(n) + "z}.\n"
		})},
		{"very many parts", "", numbered(partsHead, "| bolt @ | 1 | | |\n", noLists+"## Work\n\n1. {Remove the bolt 1}. {Install the bolt 1}.\n")},
		{"very many parts, all used", "", only(func(n int) string {
			return partsHead + turns(n/3, "| bolt @ | 1 | | |\n") + noLists + "## Work\n\n" + turns(n/3, "1. {Remove the bolt @}.\n") + turns(n/3, "1. {Install the bolt @}.\n")
		})},
		{"very many parts that never go back", "", only(func(n int) string {
			return partsHead + turns(n/2, "| bolt @ | 1 | | |\n") + noLists + "## Work\n\n" + turns(n/2, "1. {Remove the bolt @}.\n")
		})},
		{"very many parts with long names", "", numbered(partsHead, "| very long name of a bolt that nobody can remember without looking @ | 1 | | |\n", noLists+"## Work\n\n1. {Remove the bolt 1}.\n")},
		{"one name over and over", "part/repeated", said(partsHead, "| bolt | 1 | | |\n", noLists)},
		{"a chain of holders", "", only(func(n int) string {
			var b strings.Builder
			b.WriteString(partsHead)
			for i := 0; b.Len() < n/2; i++ {
				fmt.Fprintf(&b, "| bolt %d | 1 | | holds bolt %d |\n", i, i+1)
			}
			return b.String() + noLists + "## Work\n\n" + turns(n/2, "1. {Remove the bolt @}.\n")
		})},
		{"a chain behind one another", "", only(func(n int) string {
			var b strings.Builder
			b.WriteString(partsHead)
			for i := 0; b.Len() < n/2; i++ {
				fmt.Fprintf(&b, "| bolt %d | 1 | | behind bolt %d |\n", i+1, i)
			}
			return b.String() + noLists + "## Work\n\n" + turns(n/2, "1. {Remove the bolt @}.\n")
		})},
		{"a ring of parts behind one another", "", only(func(n int) string {
			var b strings.Builder
			b.WriteString(partsHead)
			k := n / 60
			for i := range k {
				fmt.Fprintf(&b, "| bolt %d | 1 | | behind bolt %d, holds bolt %d |\n", i, (i+1)%k, (i+k-1)%k)
			}
			return b.String() + noLists + "## Work\n\n1. {Remove the bolt 1}.\n"
		})},
		{"all hold one", "", only(func(n int) string {
			return partsHead + "| cover | 1 | | |\n" + turns(n/2, "| bolt @ | 1 | | holds cover |\n") + noLists + "## Work\n\n" + turns(n/2, "1. {Remove the cover}. {Install the cover}.\n")
		})},
		{"one holds all", "", only(func(n int) string {
			return partsHead + turns(n/2, "| bolt @ | 1 | | |\n") + "| nut | 1 | | " + strings.TrimPrefix(turns(n/2, ", holds bolt @"), ", ") + " |\n" + noLists + "## Work\n\n1. {Remove the nut}.\n"
		})},
		{"unknown names beside many parts", "part/unknown", only(func(n int) string {
			return partsHead + turns(n/2, "| bolt @ | 1 | | |\n") + noLists + "## Work\n\n" + turns(n/2, "1. {Remove the blot x@}.\n")
		})},
		{"unlike unknown names", "part/unknown", numbered(partsHead+"| bolt | 1 | | |\n"+noLists+"## Work\n\n", "1. {Remove the thing @ from x}.\n", "")},
		{"unknown verbs", "tag/unknown-verb", numbered(stage, "1. {Remoev@ the end cover}.\n", "")},
		{"one tag with very many objects", "", only(func(n int) string {
			return partsHead + turns(n/2, "| bolt @ | 1 | | |\n") + noLists + "## Work\n\n1. {Remove " + strings.TrimPrefix(turns(n/2, ", the bolt @"), ", ") + "}.\n"
		})},
		{"very many tools", "", numbered(front+"## Parts\n\n- none\n\n## Tools\n\n", "- @ mm socket\n", "\n## Supplies\n\n- none\n\n## Work\n\n1. Look with the {tool 1 mm socket}.\n")},
		{"very many tools, all used", "", only(func(n int) string {
			return front + "## Parts\n\n- none\n\n## Tools\n\n" + turns(n/2, "- tool number @\n") + "\n## Supplies\n\n- none\n\n## Work\n\n" + turns(n/2, "1. Take the {tool tool number @}.\n")
		})},
		{"a choice of very many tools", "", only(func(n int) string {
			return front + "## Parts\n\n- none\n\n## Tools\n\n- spanner" + turns(n, " or spanner@") + "\n\n## Supplies\n\n- none\n\n## Work\n\n1. Take the {tool spanner}.\n"
		})},
		{"very many supplies", "", only(func(n int) string {
			return front + "## Parts\n\n- none\n\n## Tools\n\n- none\n\n## Supplies\n\n" + turns(n/2, "- oil @, 1 L\n") + "\n## Work\n\n" + turns(n/2, "1. {Drain the oil @}.\n")
		})},
		{"details without end", "", said(front+"## Parts\n\n- none\n\n## Tools\n\n- socket", ", x", "\n\n## Supplies\n\n- none\n\n## Work\n\n1. Look.\n")},
		{"very many articles", "", said(stage+"1. {Remove ", "the ", "end cover}.\n")},
		{"very many ands", "", said(stage+"1. {Remove the end cover", " and the end cover", "}.\n")},
	}
}
