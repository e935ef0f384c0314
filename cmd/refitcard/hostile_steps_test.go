package main

import (
	"fmt"
	"strings"
)

func hostileSteps() []hostile {
	return []hostile{
		{"very many steps", "", said(stage, "1. Look.\n", "")},
		{"very many steps with acts", "", said(stage, "1. {Remove 4 cover bolts}. {Install 4 cover bolts}.\n", "")},
		{"very many stages", "", numbered(stage, "## Stage @\n\n1. Look.\n\n", "")},
		{"very many empty stages", "", numbered(stage, "## Stage @\n\n", "")},
		{"headings of depth six", "", said(stage, "###### x\n\n", "1. Look.\n")},
		{"steps in steps", "", only(func(n int) string {
			var b strings.Builder
			for i := 0; b.Len() < n; i++ {
				b.WriteString(strings.Repeat(" ", 3*(i%39)) + "1. Look.\n")
			}
			return stage + b.String()
		})},
		{"very many acts in a step", "", said(stage+"1. ", "{Check the end cover}. ", "\n")},
		{"very many sentences in a step", "", said(stage+"1. ", "Look at it. ", "\n")},
		{"one sentence without end", "", said(stage+"1. Look", " at it", ".\n")},
		{"one word without end", "", said(stage+"1. ", "x", "\n")},
		{"very many openings", "", numbered(stage, "1. {Disconnect hose @}.\n", "")},
		{"openings and closings", "", only(func(n int) string {
			return stage + turns(n/2, "1. {Disconnect hose @}.\n") + turns(n/2, "1. {Connect hose @}.\n")
		})},
		{"openings and handovers", "", numbered(stage, "1. {Disconnect hose @}.\n1. {Handover}.\n", "")},
		{"very many handovers", "", said(stage+"1. {Remove the end cover}.\n", "1. {Handover}.\n", "")},
		{"very many holds", "", said(stage, "1. {Hold for the supervisor}.\n", "")},
		{"very many locks", "", numbered(stage, "1. {Lock off the isolator @}.\n", "")},
		{"locked and unlocked", "", numbered(stage, "1. {Lock off the isolator @}. {Check the drum does not turn}. {Unlock the isolator @}.\n", "")},
		{"very many waits", "", numbered(stage, "1. {Start the cure @, 20 min}. {Await the cure @}.\n", "")},
		{"waits never awaited", "", numbered(stage, "1. {Start the cure @, 20 min}.\n", "")},
		{"very many ifs", "", said(stage, "1. {If it leaks} {remove the end cover}.\n1. {Otherwise} {install the end cover}.\n", "")},
		{"ifs with no other way", "", said(stage, "1. {If it leaks} {remove the end cover}.\n", "")},
		{"other ways of nothing", "", said(stage, "1. {Otherwise} {install the end cover}.\n", "")},
		{"very many measurements", "", numbered(stage, "1. {Measure the gap @ 1..2 mm, else step 1}.\n", "")},
		{"jumps to everywhere", "", numbered(stage, "1. {Check the gap, else step @}.\n", "")},
		{"very many labels", "", numbered(stage, "1. {Label l@} look at step {number l@}.\n", "")},
		{"one label over and over", "", said(stage, "1. {Label x} look at step {number x}.\n", "")},
		{"numbers of labels that are not there", "", numbered(stage, "1. Look at step {number lost@}.\n", "")},
		{"very many waivers", "", said(stage, "1. {Waive wording/long: it is so} look.\n", "")},
		{"waivers of unknown checks", "", numbered(stage, "1. {Waive wording/lnog@: it is so} look.\n", "")},
		{"waivers that meet", "", said(stage, "1. {Waive wording/vague: it is so} tighten it as needed.\n", "")},
		{"very many warnings", "", said(stage, "> **WARNING** Stored load. A load drops and crushes. Land the rake.\n\n1. Look.\n\n", "")},
		{"warnings in one step", "", said(stage+"1. ", "{warning hot oil burns} ", "look.\n")},
		{"a warning without end", "", said(stage+"> **WARNING** Stored load", ". A load drops", "\n\n1. Look.\n")},
		{"things to wear", "", numbered(stage, "1. {Wear gloves @ and goggles @}.\n", "")},
		{"very many questions", "tag/question", said(stage, "> question: what?\n\n", "")},
		{"very many follow-ups", "", numbered(stage, "1. {Follow up re-torque after @ km}.\n", "")},
		{"very many notes", "", said(stage+"1. Look.\n", "   - a note\n", "")},
		{"vague words", "", said(stage, "1. Tighten it properly as required, and carefully.\n", "")},
		{"marks and alignments", "", numbered(stage, "1. {Mark the cover @}. {Align the cover @}.\n", "")},
		{"torques of everything", "", said(stage, "1. {Loosen 4 cover bolts}. {Torque 4 cover bolts to 22 N·m crosswise in 3 passes}.\n", "")},
		{"fills and drains", "", said(strings.Replace(stage, "- shop towel, 4\n", "- gear oil, 1 L\n", 1), "1. {Drain the gear oil}. {Fill the gear oil}.\n", "")},
		{"very many pictures", "figure/missing", numbered(stage, "1. ![a@](a@.png)\n", "")},
		{"one picture very often", "", func(n int) map[string]string {
			return map[string]string{"job.md": stage + strings.Repeat("1. ![a](a.png)\n", n/15), "a.png": onePixel}
		}},
	}
}

func hostileBlocks() []hostile {
	layout := func(drawing string) string {
		return front + lists + strip + "1. Look.\n\n```layout cover bolt\n" + drawing + "\n```\n"
	}
	bolts := func(n int, drawing string) string {
		return strings.Replace(layout(drawing), "| cover bolt | 4 |", fmt.Sprintf("| cover bolt | %d |", n), 1)
	}
	return []hostile{
		{"a layout of one line", "", only(func(n int) string { return bolts(n/2, strings.Repeat("o ", n/2)) })},
		{"a layout of lines", "", only(func(n int) string { return bolts(n/2, strings.Repeat("o\n", n/2)) })},
		{"a layout full of bolts", "", only(func(n int) string {
			side := 1
			for side*side*2 < n {
				side++
			}
			return bolts(side*side, strings.Repeat(strings.Repeat("o ", side)+"\n", side))
		})},
		{"a layout of digits", "", only(func(n int) string { return bolts(n/2, strings.Repeat("1 ", n/2)) })},
		{"a layout of letters", "", only(func(n int) string {
			return bolts(n/4, strings.Repeat("a ", n/4)+"\n"+turns(n/2, "a = cover bolt, "))
		})},
		{"very many layouts", "", numbered(stage, "```layout part @\no o\n```\n\n", "1. Look.\n")},
		{"a stack without end", "", said(stage+"```stack pack 1..2 mm\n", "1 end cover\n", "```\n\n1. Look.\n")},
		{"a stack of very many", "", said(stage+"```stack pack 1..2 mm\n1000000000000 end cover alternating with 999999999999999999999 cover bolt\n```\n\n", "a\n", "1. Look.\n")},
		{"very many stacks", "", numbered(stage, "```stack pack @ 1..2 mm\n1 end cover\n```\n\n", "1. Look.\n")},
		{"blocks of an unknown kind", "", numbered(stage, "```drawing @\nx\n```\n\n", "1. Look.\n")},
		{"a block never closed", "", said(stage+"1. Look.\n\n```layout cover bolt\n", "o\n", "")},
	}
}

// onePixel is the smallest picture there is.
const onePixel = "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x00\x01\x00\x00\x00\x01\x08\x00\x00\x00\x00:~\x9bU\x00\x00\x00\nIDATx\x9cc\xf8\x0f\x00\x01\x01\x01\x00\x1b\xb6\xeeV\x00\x00\x00\x00IEND\xaeB`\x82"
