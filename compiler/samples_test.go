package compiler_test

import (
	"os"
	"path/filepath"
	"testing"

	"refitcard/compiler"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

// The tools of the sample library against the standards: wherever the tables know what turns a fastener (ISO 272 and 4014,
// ISO 4762, ISO 10664 and the others that stand in the rows of the tables), a tool of that very size stands in its step.
func TestToolsOfTheSamplesFitByTheStandards(t *testing.T) {
	root := filepath.Join("..", "procedures")
	lib := compiler.Open(os.DirFS(root), func(path string) string { return path })
	files, err := filepath.Glob(filepath.Join(root, "*.md"))
	if err != nil {
		t.Fatal(err)
	}
	proven := 0
	for _, file := range files {
		r, err := lib.Compile(filepath.Base(file), rules.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, stage := range r.Proc.Stages {
			for _, s := range stage.Steps {
				proven += fits(t, filepath.Base(file), s)
			}
		}
	}
	t.Logf("%d fasteners are turned by a tool of their standard", proven)
	if proven < 60 {
		t.Errorf("only %d fasteners of the samples are turned by a tool that the standards name", proven)
	}
}

func fits(t *testing.T, file string, s *procedure.Step) (proven int) {
	t.Helper()
	for _, a := range s.Acts {
		switch a.Verb.Effect {
		case verb.Loosen, verb.Remove, verb.DoTorque:
		default:
			continue
		}
		for _, o := range a.Objects {
			if o.Part == nil || !o.Part.Fastener() {
				continue
			}
			takes, complete := hardware.Fastener{Name: o.Part.Name.Value, Spec: o.Part.Hardware}.Takes()
			if !complete || len(takes) == 0 {
				continue
			}
			tools, fit := 0, false
			for _, other := range s.Acts {
				if other.Tool == nil || other.Sentence != a.Sentence {
					continue
				}
				for _, c := range other.Tool.Choices {
					if c.Kind.Turns() && c.Kind.Size != nil {
						tools++
						fit = fit || c.Kind.FitsAny(takes, complete) == hardware.DoesFit
					}
				}
			}
			switch {
			case fit:
				proven++
			case tools > 0:
				t.Errorf("%s step %s: %q, %s: no tool of its sentence is one of %s", file, s.Name(), o.Part.Name.Value, o.Part.Spec.Value, hardware.Sizes(takes))
			}
		}
	}
	return proven
}
