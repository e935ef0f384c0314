package pdf_test

import (
	"io"
	"slices"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/render/pdf"
	"refitcard/render/sheet"
)

const shown = `---
title: Look at the guide
number: DR-40
revision: A
---

## Parts

- none

## Tools

- none

## Supplies

- none

## Look

1. {Check the guide is clean}. ![Where it sits](a.svg)
`

// A drawing that the compiler lets pass is drawn, or refused with words: the library that reads drawings neither ends the
// program nor runs for ever on it.
func FuzzDrawing(f *testing.F) {
	for _, inside := range []string{
		ring,
		`<svg viewBox="0 0 9 9"><defs><g id="a"><path d="M0 0h1"/></g></defs><use href="#a" x="2"/><text x="1" y="2" font-size="3">7</text></svg>`,
		`<svg viewBox="0 0 9 9"><path d="M1 1C2 2 3 3 4 4S5 5 6 6Q1 1 2 2T3 3A1 1 0 0 1 4 4Z" stroke-dasharray="1 2" transform="rotate(3) scale(2)"/></svg>`,
		`<svg width="9" height="9"><linearGradient id="g"><stop offset="1" stop-color="red"/></linearGradient><rect width="5" height="5" rx="2" fill="url(#g)"/><ellipse cx="3" cy="3" rx="1" ry="2"/><polyline points="1,2 3,4"/></svg>`,
		`<svg viewBox="0 0 9 9"><style>.a{fill:red}</style><g class="a" opacity=".5"><line x1="1" y1="1" x2="3" y2="3" stroke="url(#x)"/></g></svg>`,
	} {
		f.Add([]byte(inside))
	}
	f.Fuzz(func(t *testing.T, svg []byte) {
		library := compiler.Open(fstest.MapFS{"a.md": {Data: []byte(shown)}, "a.svg": {Data: svg}}, func(p string) string { return p })
		r, err := library.Compile("a.md", rules.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if slices.ContainsFunc(r.Findings, func(f diag.Finding) bool { return f.Severity == diag.Error }) {
			return
		}
		for _, p := range r.Proc.Figures() {
			// Without words from fpdf, which is given no drawings; either way is fine.
			_ = pdf.Write(io.Discard, one(sheet.Image{X: 1, Y: 1, W: 30, H: 30, Key: "a", Type: p.Type, Data: p.Data}))
		}
	})
}
