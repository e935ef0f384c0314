package main

import (
	"fmt"
	"strings"

	"github.com/spf13/pflag"
)

// manual is the manual page, section 1, for man and groff: from the same table as the help, so that neither falls behind.
func manual() string {
	var b strings.Builder
	fmt.Fprintf(&b, ".TH REFITCARD 1 %s \"refitcard %s\" \"User commands\"\n", released, version)
	b.WriteString(".SH NAME\nrefitcard \\- workshop procedures to job cards, record sheets, pick lists and labels\n")
	b.WriteString(".SH SYNOPSIS\n.B refitcard\n.I VERB\n[\\fIoptions\\fR] \\fIFILE\\fR or \\fIFOLDER\\fR ...\n")
	b.WriteString(".SH DESCRIPTION\n" + roff("refitcard makes job cards and pick lists from procedures in Markdown, and finds what is wrong with them first. "+
		"A folder stands for every procedure below it; - is standard input. "+
		"\"refitcard explain first\" leads through a first procedure in a quarter of an hour, \"refitcard explain language\" tells of the whole language.") + "\n")
	b.WriteString(".SH VERBS\n")
	for _, t := range tasks() {
		manualOf(&b, t)
	}
	b.WriteString(".SH EXIT STATUS\n")
	for _, x := range []struct{ code, means string }{
		{"0", "done; nothing at or above the threshold"}, {"1", "something was found that must be mended"}, {"2", "it could not do what was asked"},
	} {
		fmt.Fprintf(&b, ".TP\n.B %s\n%s\n", x.code, roff(x.means))
	}
	b.WriteString(".SH FILES\n.TP\n.I refitcard.yaml\n" + roff("settings of a library of procedures, found upwards from the procedure") + "\n")
	return b.String()
}

// released is the day of the release that the manual page is of; no clock goes into it.
const released = "2026-12-01"

func manualOf(b *strings.Builder, t task) {
	set := pflag.NewFlagSet(t.name, pflag.ContinueOnError)
	set.SortFlags = false
	t.options(set, &options{jobs: 1})
	fmt.Fprintf(b, ".SS refitcard %s %s\n", roff(t.name), roff(t.args))
	fmt.Fprintf(b, "%s.\n", roff(strings.ToUpper(t.purpose[:1])+t.purpose[1:]))
	set.VisitAll(func(f *pflag.Flag) {
		kind, usage := pflag.UnquoteUsage(f)
		if f.Name == "jobs" {
			f.DefValue = "" // it depends on the machine
		}
		b.WriteString(".TP\n\\fB")
		if f.Shorthand != "" {
			b.WriteString("\\-" + f.Shorthand + "\\fR, \\fB")
		}
		b.WriteString("\\-\\-" + roff(f.Name) + "\\fR")
		switch kind {
		case "string", "strings":
			kind = "WORD"
		case "int":
			kind = "N"
		}
		if kind != "" {
			b.WriteString(" \\fI" + roff(kind) + "\\fR")
		}
		b.WriteString("\n" + roff(usage))
		if f.DefValue != "" && f.DefValue != "0" && f.DefValue != "false" && f.DefValue != "[]" {
			b.WriteString(" (when not given: " + roff(f.DefValue) + ")")
		}
		b.WriteByte('\n')
	})
	b.WriteString(".PP\nExample:\n.PP\n.RS 4\n.nf\n")
	for line := range strings.Lines(strings.TrimRight(t.example, "\n") + "\n") {
		b.WriteString(roff(strings.TrimRight(line, "\n")) + "\n")
	}
	b.WriteString(".fi\n.RE\n")
}

// roff takes the meaning off what groff would read as a command, and spells what a plain terminal lacks.
func roff(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "`", `\(ga`, "“", `\(lq`, "”", `\(rq`, "…", "...", "·", `\(pc`, "–", `\(en`, "°", `\(de`, "±", `\(+-`, "×", `\(mu`, "→", `\(->`).Replace(s)
	if strings.HasPrefix(s, ".") {
		s = `\&` + s
	}
	return s
}
