package part_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/rules"
)

// A declared name in a check, a measurement, a record, a verb that takes anything, a layout or a stack counts as used; a name
// in plain prose does not.
func TestWhatCountsAsUsed(t *testing.T) {
	const head = "---\ntitle: A case of use\nnumber: UC-1\nrevision: A\n---\n\n## Parts\n\n| Part | Qty | Spec | Layout |\n|:--|--:|:--|:--|\n" +
		"| pad | 2 | 3.0 mm thick |  |\n\n## Work\n\n1. %.\n"
	for steps, used := range map[string]bool{
		"Look at the pad":                                       false,
		"{Check both pads are dry}":                             true,
		"{Measure pad height 2..3 mm}":                          true,
		"{Record the pad wear}":                                 true,
		"{Clean both pads}":                                     true,
		"{Support the tray} with both pads":                     false,
		"{Mark both pads}":                                      true,
		"{Part both pads}":                                      true,
		"Look.\n\n    ```layout pad\n    o o\n    ```\n\n2. Go": true,
		"Look.\n\n    ```stack feet 5.9..6.1 mm\n    2 pad\n    ```\n\n2. Go":  true,
		"Look.\n\n    ```stack feet 5.9..6.1 mm\n    2 pads\n    ```\n\n2. Go": true,
	} {
		lib := compiler.Open(fstest.MapFS{}, func(p string) string { return p })
		text := strings.ReplaceAll(head, "%", steps)
		found := lib.CompileText("case.md", []byte(text), rules.Options{Only: []string{"part/unused"}}).Findings
		if (len(found) == 0) != used {
			t.Errorf("%s\nused %v, want %v", text, len(found) == 0, used)
		}
	}
}
