package main

import (
	"bytes"
	"encoding/json"
	"fmt"

	"github.com/spf13/pflag"

	"refitcard/compiler"
	"refitcard/compiler/compare"
)

func compareTask() task {
	return task{
		name: "compare", args: "[options] OLD NEW",
		purpose: "say what changed in meaning between two versions: counts, torques, order, warnings",
		example: `refitcard compare approved/end-cover.md end-cover.md

step 6: torque cover bolts: 24 N·m, was 22 N·m
`,
		options: func(set *pflag.FlagSet, o *options) {
			o.formatOf(set, "text", "json")
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
	libs := &libraries{opened: map[string]*compiler.Library{}}
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
	if s.opt.format == "json" {
		err = changesJSON(&b, changes)
	} else {
		for _, c := range changes {
			fmt.Fprintln(&b, c.Sentence)
		}
	}
	if err == nil {
		_, err = s.Out.Write(b.Bytes())
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
