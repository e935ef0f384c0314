package tool

import (
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

func related(t *procedure.Tool) source.Related { return source.Related{At: t.At, Words: "listed"} }
