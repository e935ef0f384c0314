package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"refitcard/compiler/compare"
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

func compareTask() task {
	return task{
		name: "compare", args: "[options] OLD NEW",
		purpose: "say what changed in meaning between two versions: counts, torques, order, warnings",
		example: `refitcard compare approved/end-cover.md end-cover.md

step 6: torque cover bolts: 24 N·m, was 22 N·m
`,
		options: func(set *pflag.FlagSet, o *options) {
			o.formatOf(set, "text", "md", "json")
			o.common(set)
		},
		run: runCompare,
	}
}

// runCompare exits 1 when anything changed in meaning, so that a script can tell.
func runCompare(s *session) (int, error) {
	if len(s.args) != 2 {
		return 0, usageError{"two versions are compared", "refitcard compare OLD.md NEW.md"}
	}
	libs := newLibraries()
	old, err := s.compileEarlier(libs, s.args[0])
	if err != nil {
		return 0, err
	}
	now, err := s.compileEarlier(libs, s.args[1])
	if err != nil {
		return 0, err
	}
	changes := compare.Procedures(old, now)
	var b bytes.Buffer
	switch s.opt.format {
	case "json":
		err = changesJSON(&b, changes)
	case "md":
		b.WriteString(changesMarkdown(old, now, changes))
	default:
		for _, c := range changes {
			fmt.Fprintln(&b, source.Plain(c.Sentence))
		}
	}
	if err == nil {
		_, err = s.Out.Write(source.PlainJSON(b.Bytes()))
	}
	switch {
	case err != nil:
		return 0, err
	case len(changes) > 0:
		return found, nil
	}
	if !s.opt.quiet {
		fmt.Fprintln(s.Err, "nothing changed in meaning")
	}
	return done, nil
}

// changed sorts changes for the people at the machine: what can hurt first, then the work, then what is drawn for it.
var changed = []struct {
	head  string
	kinds []compare.Kind
}{
	{"Safety", []compare.Kind{compare.Message}},
	{"Steps", []compare.Kind{compare.Act, compare.Order}},
	{"Parts, tools, supplies", []compare.Kind{compare.Part, compare.Tool, compare.Supply, compare.Drawing}},
	{"The job", []compare.Kind{compare.Job}},
}

// changesMarkdown is the list of changes as it can be pasted into a revision note.
func changesMarkdown(old, now *procedure.Procedure, changes []compare.Change) string {
	var b strings.Builder
	fmt.Fprintf(&b, "**%s revision %s: what changed since revision %s**\n", plainly(now.Number.Value), plainly(now.Revision.Value), plainly(old.Revision.Value))
	if len(changes) == 0 {
		return b.String() + "\nNothing changed in meaning.\n"
	}
	for _, group := range changed {
		first := true
		for _, c := range changes {
			if !slices.Contains(group.kinds, c.Kind) {
				continue
			}
			if first {
				fmt.Fprintf(&b, "\n%s\n\n", group.head)
			}
			first = false
			fmt.Fprintf(&b, "- %s.\n", plainly(upperFirst(c.Sentence)))
		}
	}
	return b.String()
}

// plainly takes the meaning off what Markdown would read as a mark.
func plainly(s string) string {
	return strings.NewReplacer(`\`, `\\`, "*", `\*`, "_", `\_`, "`", "\\`", "<", "\\<", "[", `\[`, "|", `\|`, "#", `\#`).Replace(s)
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// changesJSON writes the changes as one list, in the order in which the new version reads.
func changesJSON(b *bytes.Buffer, changes []compare.Change) error {
	type change struct {
		Kind     compare.Kind `json:"kind"`
		Step     string       `json:"step,omitempty"`
		What     string       `json:"what"`
		Was      string       `json:"was,omitempty"`
		Now      string       `json:"now,omitempty"`
		Sentence string       `json:"sentence"`
	}
	list := []change{}
	for _, c := range changes {
		list = append(list, change{Kind: c.Kind, Step: c.Step, What: c.What, Was: c.Was, Now: c.Now, Sentence: c.Sentence})
	}
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	return e.Encode(list)
}
