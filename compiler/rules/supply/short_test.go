package supply_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/rules"
)

// The variant that spends most is held against the list, not the sum of all.
func TestTheWorstVariantCounts(t *testing.T) {
	const text = `---
title: Grease the sheaves
number: GS-1
revision: A
variants: [short, long]
---

## Supplies

- grease, LIST

## Work

1. {for short} {Supply 30 mL grease}.
2. {for long} {Supply 40 mL grease}.
`
	for list, short := range map[string]bool{"45 mL": false, "40 mL": false, "35 mL": true} {
		lib := compiler.Open(fstest.MapFS{}, func(p string) string { return p })
		found := lib.CompileText("case.md", []byte(strings.ReplaceAll(text, "LIST", list)), rules.Options{Only: []string{"supply/short"}}).Findings
		if (len(found) == 1) != short {
			t.Errorf("%s listed: %d findings, short %v", list, len(found), short)
		}
	}
}
