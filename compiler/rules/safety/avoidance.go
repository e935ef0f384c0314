package safety

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/prose"
	"refitcard/compiler/source"
)

// signalAt is the signal word of a message.
func signalAt(m *procedure.Message) source.Span {
	text := m.At.Text()
	i := strings.Index(strings.ToUpper(text), m.Signal)
	if i < 0 {
		return m.At
	}
	return m.At.File.At(m.At.Start+i, m.At.Start+i+len(m.Signal))
}

// avoids tells whether a message says what to do against its hazard. Where that can't be told for sure it says yes.
func avoids(m *procedure.Message) bool {
	rest := procedure.RunText(m.Rest)
	if strings.TrimSpace(rest) == "" {
		return prose.Commands(procedure.RunText(m.Hazard), false)
	}
	for s := range prose.Sentences(rest) {
		if prose.Commands(s, true) {
			return true
		}
	}
	return prose.Commands(procedure.RunText(m.Hazard), false)
}
