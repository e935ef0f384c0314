package report_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"refitcard/compiler/diag"
	"refitcard/compiler/report"
	"refitcard/compiler/source"
)

func inGitHub(b *bytes.Buffer, r report.Results) error { return report.GitHub(b, r) }

// command is a workflow command as the service takes it apart.
type command struct {
	name       string
	properties map[string]string
	data       string
}

// takenApart reads a line as the service's own program does. Source: github.com/actions/runner (MIT licence),
// src/Runner.Common/ActionCommand.cs, TryParseV2 and its two tables: the line begins with "::"; the next "::" ends the command;
// its name ends at the first space; properties are parted by commas and by their first "="; escapes are undone in the order
// of the tables, "%25" last.
func takenApart(line string) (command, error) {
	head, ok := strings.CutPrefix(strings.TrimLeft(line, " \t"), "::")
	if !ok {
		return command{}, fmt.Errorf("no command begins in %q", line)
	}
	head, data, ok := strings.Cut(head, "::")
	if !ok {
		return command{}, fmt.Errorf("the command never ends in %q", line)
	}
	name, list, _ := strings.Cut(head, " ")
	c := command{name, map[string]string{}, undone(data, "%0D", "\r", "%0A", "\n", "%25", "%")}
	for _, p := range strings.Split(strings.TrimSpace(list), ",") {
		if p == "" {
			continue
		}
		key, value, _ := strings.Cut(p, "=")
		if _, twice := c.properties[key]; twice {
			return c, fmt.Errorf("the property %q stands twice in %q", key, line)
		}
		c.properties[key] = undone(value, "%0D", "\r", "%0A", "\n", "%3A", ":", "%2C", ",", "%25", "%")
	}
	return c, nil
}

func undone(s string, pairs ...string) string {
	for i := 0; i < len(pairs); i += 2 {
		s = strings.ReplaceAll(s, pairs[i], pairs[i+1])
	}
	return s
}

func TestEveryGitHubOutputIsReadBack(t *testing.T) {
	commands := 0
	for _, r := range corpus() {
		t.Run(r.name, func(t *testing.T) {
			lines := strings.SplitAfter(string(written(t, inGitHub, r.Results)), "\n")
			lines = lines[:len(lines)-1]
			var open []diag.Finding
			for _, f := range r.Findings {
				if f.Waived == "" {
					open = append(open, f)
				}
			}
			if len(lines) != len(open) {
				t.Fatalf("%d lines for %d findings", len(lines), len(open))
			}
			for i, line := range lines {
				commands++
				checkCommand(t, open[i], strings.TrimSuffix(line, "\n"))
			}
		})
	}
	if commands < 100 {
		t.Errorf("only %d commands were read back", commands)
	}
}

func checkCommand(t *testing.T, f diag.Finding, line string) {
	t.Helper()
	c, err := takenApart(line)
	if err != nil {
		t.Error(err)
		return
	}
	name := map[diag.Severity]string{diag.Error: "error", diag.Warning: "warning", diag.Advice: "notice"}[f.Severity]
	if c.name != name || c.properties["title"] != f.Rule {
		t.Errorf("%s %s is told as %s %s", f.Severity, f.Rule, c.name, c.properties["title"])
	}
	if !strings.Contains(strings.ToLower(c.data), strings.ToLower(shown(f.Message))) || !strings.HasSuffix(c.data, "explain "+f.Rule) {
		t.Errorf("%s: the message %q does not say %q", f.Rule, c.data, f.Message)
	}
	if !f.At.Known() {
		return
	}
	from, to := f.At.File.Position(f.At.Start), f.At.File.Position(f.At.End)
	want := map[string]string{"file": f.At.File.Name, "line": fmt.Sprint(from.Line), "endLine": fmt.Sprint(to.Line), "title": f.Rule}
	if from.Line == to.Line { // the service takes columns only within one line
		want["col"], want["endColumn"] = fmt.Sprint(from.Column), fmt.Sprint(to.Column)
	}
	if fmt.Sprint(want) != fmt.Sprint(c.properties) {
		t.Errorf("%s: the properties are %v, they were to be %v", f.Rule, c.properties, want)
	}
}

// Whatever a name of a file or a message holds, it is one command, and comes back as it went out.
func TestGitHubEscapesWhateverStandsInAValue(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		name := rapid.StringMatching(`[a-z%:,=;\]" ]{1,9}(%0A|%2C|::)?[ÄB.]{1,3}`).Draw(rt, "name")
		message := rapid.StringMatching(`[a-z%:,="]{0,9}(%25|%0A|::error ::)?[a-zÄ]{1,4}`).Draw(rt, "message")
		f := source.New(name, name, []byte("two\nlines"))
		out := string(written(t, inGitHub, results([]diag.Finding{{Rule: "tag/empty", Severity: diag.Error, At: f.At(1, 3), Message: message}})))
		if strings.Count(out, "\n") != 1 {
			rt.Fatalf("%d lines", strings.Count(out, "\n"))
		}
		c, err := takenApart(strings.TrimSuffix(out, "\n"))
		if err != nil || c.properties["file"] != name || !strings.Contains(strings.ToLower(c.data), strings.ToLower(message)) {
			rt.Errorf("%q and %q come back as %q and %q (%v)", name, message, c.properties["file"], c.data, err)
		}
	})
}
