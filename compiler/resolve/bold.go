package resolve

import (
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// bold is a piece of an act's words that is set off in print.
type bold struct {
	from, to int // bytes of Whole.Text
	text     string
	keep     bool
}

// actRuns puts the words of an act as they print: counts, names and values set off, values in print style, behind other runs.
func actRuns(runs []procedure.Run, t *syntax.Tag, a *procedure.Act) []procedure.Run {
	raw := t.Whole
	switch t.Verb.Effect {
	case verb.UseTool, verb.Speak, verb.Spend:
		raw = t.Body
	}
	var room [8]bold
	spans := boldSpans(room[:0], raw, t, a)
	slices.SortStableFunc(spans, func(a, b bold) int { return a.from - b.from })
	at := 0
	for _, s := range spans {
		if s.from < at || s.to > len(raw.Text) {
			continue
		}
		if s.from > at {
			runs = append(runs, procedure.Run{Text: raw.Text[at:s.from], Act: a, At: raw.At(at, s.from)})
		}
		if s.text != "" {
			runs = append(runs, procedure.Run{Text: s.text, Weight: procedure.Strong, Keep: s.keep, Act: a, At: raw.At(s.from, s.to)})
		}
		at = s.to
	}
	rest := raw.Text[at:]
	if a.Else != "" { // prints as a line of its own
		if i := strings.LastIndex(strings.ToLower(rest), "else "); i >= 0 {
			rest = strings.TrimRight(rest[:i], " ,")
		}
	}
	if rest == "" {
		return runs
	}
	return append(runs, procedure.Run{Text: rest, Keep: t.Verb.Effect == verb.UseTool && len(rest) <= 20, Act: a, At: raw.At(at, at+len(rest))})
}

// boldSpans puts the pieces that are set off behind others.
func boldSpans(spans []bold, raw syntax.Raw, t *syntax.Tag, a *procedure.Act) []bold {
	if t.Verb.Effect != verb.UseTool && t.Verb.Effect != verb.Spend && t.Verb.Effect != verb.Speak {
		for i := range a.Objects {
			o := &a.Objects[i]
			spans = setOff(spans, raw, boldObject(o), "", len(o.Typed) <= 20)
		}
	}
	if len(a.Passes.Values) == 0 {
		spans = setOffValue(spans, raw, a.Torque.At, a.Torque.Value)
	}
	spans = setOffValue(spans, raw, a.LimitAt, a.Limit)
	spans = setOffValue(spans, raw, a.AmountAt, a.Amount)
	if a.Passes.At.Known() && len(a.Passes.Values) == 0 {
		at := a.Passes.At // "3 passes", without "in"
		if i := strings.IndexByte(at.Text(), ' '); i > 0 {
			at.Start += i + 1
		}
		spans = setOff(spans, raw, at, "", true)
	}
	return spans
}

func setOffValue(spans []bold, raw syntax.Raw, at source.Span, v *quantity.Value) []bold {
	if v == nil {
		return spans
	}
	return setOff(spans, raw, at, v.Running(), true)
}

// setOff puts one piece behind others: as it was typed when it has no text of its own.
func setOff(spans []bold, raw syntax.Raw, at source.Span, text string, keep bool) []bold {
	from, to := inRaw(raw, at)
	if from < 0 {
		return spans
	}
	if text == "" {
		text = raw.Text[from:to]
	}
	return append(spans, bold{from, to, text, keep})
}

// boldObject leaves the article out of what is set off: "the **drain plug**", "a **new sealing washer**".
func boldObject(o *procedure.Object) source.Span {
	at := o.At
	for {
		cut := 0
		for _, w := range []string{"the ", "a ", "an ", "its "} {
			if begins(at, w) {
				cut = len(w)
			}
		}
		if cut == 0 || at.Start+cut > o.NameAt.Start {
			return at
		}
		at.Start += cut
	}
}

// begins tells whether a place begins with a word of small letters, in any case, and goes on behind it.
func begins(at source.Span, word string) bool {
	if at.End-at.Start <= len(word) {
		return false
	}
	for i, c := range at.File.Text[at.Start : at.Start+len(word)] {
		if c != word[i] && c|0x20 != word[i] {
			return false
		}
	}
	return true
}

// inRaw finds the bytes of a tag's text that came from a place of the file; -1 when it is not of this tag.
func inRaw(raw syntax.Raw, at source.Span) (from, to int) {
	if !at.Known() || at.File != raw.File || at.Start == at.End || raw.Text == "" {
		return -1, -1
	}
	from, to = byteOf(raw, at.Start), byteOf(raw, at.End-1)+1
	if from < 0 || to <= from {
		return -1, -1
	}
	return from, to
}

// byteOf is the byte of a tag's text that came from a place of the file, -1 for none. The places rise from byte to byte: by one,
// or by more behind an escape or a line end.
func byteOf(raw syntax.Raw, place int) int {
	for i := min(place-raw.Offset(0), len(raw.Text)-1); i >= 0 && raw.Offset(i) >= place; i-- {
		if raw.Offset(i) == place {
			return i
		}
	}
	return -1
}
