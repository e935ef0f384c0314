package compiler

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/rules/energy"
	"refitcard/compiler/rules/figure"
	"refitcard/compiler/rules/file"
	"refitcard/compiler/rules/include"
	"refitcard/compiler/rules/label"
	rulelibrary "refitcard/compiler/rules/library"
	"refitcard/compiler/rules/order"
	"refitcard/compiler/rules/part"
	"refitcard/compiler/rules/record"
	"refitcard/compiler/rules/refit"
	"refitcard/compiler/rules/safety"
	"refitcard/compiler/rules/section"
	"refitcard/compiler/rules/stack"
	"refitcard/compiler/rules/supply"
	"refitcard/compiler/rules/tag"
	"refitcard/compiler/rules/tool"
	"refitcard/compiler/rules/torque"
	"refitcard/compiler/rules/variant"
	"refitcard/compiler/rules/waive"
	"refitcard/compiler/rules/wording"
	"refitcard/compiler/source"
)

// Families is the one list of all rules, in the order in which they are explained.
func Families() []rules.Family {
	return []rules.Family{
		file.Family(), tag.Family(), include.Family(), figure.Family(), label.Family(), section.Family(), variant.Family(), waive.Family(),
		rulelibrary.Family(), part.Family(), refit.Family(), order.Family(), energy.Family(), torque.Family(), tool.Family(), supply.Family(),
		safety.Family(), wording.Family(), record.Family(), stack.Family(),
	}
}

// Unreadable makes the finding about a file that can't be opened.
func Unreadable(l *Library, path, reason string) diag.Finding {
	f := source.New(l.shown(path), path, nil)
	job := &rules.Job{Faults: []source.Fault{{Name: "file/unreadable", At: f.At(0, 0), Words: []string{reason}}}}
	for _, r := range file.Family().Rules {
		if r.Name == "file/unreadable" {
			found := r.Check(job)[0]
			found.Rule, found.Severity = r.Name, r.Severity
			return found
		}
	}
	return diag.Finding{}
}
