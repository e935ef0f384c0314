package figure

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// refused words why a picture can't be printed, and what to do, for each cause that the loader records.
var refused = map[string]struct{ why, do string }{
	"damaged":    {"the file is cut off or damaged", "save it again as PNG, JPEG or SVG"},
	"unknown":    {"it is no PNG, JPEG or SVG", "save it again as PNG, JPEG or SVG"},
	"letters":    {"the drawing has letters along a line, which would be lost", "turn the letters into paths in your drawing program, and save it again"},
	"foreign":    {"the drawing holds letters that the fonts of the sheets do not have", "write them in Latin, Greek or Cyrillic letters, or turn them into paths"},
	"line ends":  {"the drawing has lines whose arrowheads would be lost", "turn the lines into paths in your drawing program, and save it again"},
	"photograph": {"the drawing holds a photograph, which would be lost", "save the whole as PNG"},
	"script":     {"the drawing holds a program, and a card runs none", "save it again as plain SVG"},
	"outside":    {"the drawing fetches a part from outside the file", "save it again with all its parts inside"},
	"entities":   {"the drawing makes up abbreviations of its own (entities)", "save it again as plain SVG"},
	"nested":     {"the drawing has copies within what it copies", "turn the copies into paths in your drawing program, and save it again"},
	"no size":    {"the drawing has no size", "give its first line a viewBox, as in viewBox=\"0 0 120 80\""},
}

var notAnImage = rules.Rule{
	Name:     "figure/not-an-image",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("figure/not-an-image", func(f source.Fault, x *diag.Finding) {
			cause := refused[rules.WordAt(f, 1)]
			x.Message = rules.Quote(f.Words[0]) + " can't be printed as a picture: " + cause.why
			x.Do = cause.do
		})
	},
}
