package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"refitcard/compiler/diag"
)

// GitHub writes findings as workflow commands, one a line, which a GitHub workflow shows beside the lines of a change:
// "::error file=…,line=…::message". Waived findings are left out. Columns count code points, endColumn is the first one past
// the mark; a finding over several lines has none, because the service refuses columns there.
// How values are escaped is read off github.com/actions/runner, src/Runner.Common/ActionCommand.cs.
func GitHub(w io.Writer, r Results) error {
	out := bufio.NewWriter(w)
	for _, f := range r.Findings {
		if f.Waived == "" {
			fmt.Fprintf(out, "::%s %s::%s\n", githubCommand(f.Severity), githubProperties(f), githubData(githubMessage(f)))
		}
	}
	return out.Flush()
}

func githubCommand(s diag.Severity) string {
	switch s {
	case diag.Error:
		return "error"
	case diag.Warning:
		return "warning"
	}
	return "notice"
}

func githubProperties(f diag.Finding) string {
	var all []string
	add := func(name, value string) { all = append(all, name+"="+githubProperty(clean(value))) }
	if f.At.Known() {
		p := place(f.At)
		add("file", p.File)
		add("line", fmt.Sprint(p.Line))
		add("endLine", fmt.Sprint(p.EndLine))
		if p.EndLine == p.Line {
			add("col", fmt.Sprint(p.Column))
			add("endColumn", fmt.Sprint(p.EndColumn))
		}
	}
	add("title", f.Rule)
	return strings.Join(all, ",")
}

func githubMessage(f diag.Finding) string {
	lines := []string{said(f)}
	for _, rel := range f.Related {
		lines = append(lines, sentence(relatedLabel(rel)+": "+relatedPlace(f, rel)))
	}
	if f.Why != "" {
		lines = append(lines, sentence(f.Why))
	}
	lines = append(lines, "More: refitcard explain "+f.Rule)
	for i, l := range lines {
		lines[i] = clean(l)
	}
	return strings.Join(lines, "\n")
}

func githubData(s string) string {
	return strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A").Replace(s)
}

func githubProperty(s string) string {
	return strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A", ":", "%3A", ",", "%2C").Replace(s)
}
