package resolve

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// measure reads measure and check: words, a limit, "at 4 places", "else …". The name ends before the first limit; a number
// with no unit, range or tolerance behind it belongs to the name.
func (r *resolver) measure(a *procedure.Act, raw syntax.Raw) {
	text := raw.Text
	if text == "" {
		r.fault("tag/empty", a.At)
		a.Broken = true
		return
	}
	if a.Verb.Takes == verb.Measure {
		text = r.elseOf(a, raw, text)
		text = places(a, text)
	}
	start, n := r.limit(a, raw, text)
	if n > 0 {
		text = strings.TrimRight(text[:start], " ,")
	}
	a.Name = strings.TrimRight(text, " ,")
	r.mentions(a, raw, r.tokens(raw))
}

// elseOf cuts ", else …" off.
func (r *resolver) elseOf(a *procedure.Act, raw syntax.Raw, text string) string {
	at := -1
	for i := 0; i+5 <= len(text); i++ {
		if strings.EqualFold(text[i:i+5], "else ") && (i == 0 || text[i-1] == ' ' || text[i-1] == ',') {
			at = i
			break
		}
	}
	if at < 0 {
		return text
	}
	a.Else, a.ElseAt = strings.TrimSpace(text[at+5:]), raw.At(at, len(text))
	return strings.TrimRight(text[:at], " ,")
}

// places cuts "at 4 places" off.
func places(a *procedure.Act, text string) string {
	words := strings.Fields(text)
	if len(words) < 3 || strings.ToLower(words[len(words)-3]) != "at" || !strings.HasPrefix(strings.ToLower(words[len(words)-1]), "place") {
		return text
	}
	n, ok := countOf(strings.ToLower(words[len(words)-2]))
	if !ok || n < 1 || n > 100 {
		return text
	}
	a.Places = n
	return strings.TrimRight(text[:strings.LastIndex(text, words[len(words)-3])], " ,")
}

// limit finds the first limit in the words.
func (r *resolver) limit(a *procedure.Act, raw syntax.Raw, text string) (start, n int) {
	for i := range text {
		if i > 0 && text[i-1] != ' ' && text[i-1] != '(' && text[i-1] != ',' {
			continue
		}
		if c := text[i]; !isDigit(c) && c != '-' && !strings.HasPrefix(text[i:], "−") && c != 'a' && c != 'A' {
			continue
		}
		v, n, bad := quantity.LimitPrefix(text[i:]) // copied where it is kept: most are none
		if bad != nil {
			r.problem(bad, raw, i)
			a.Broken = true
			return i, len(text) - i
		}
		if n == 0 || v.Form == quantity.Exact && prose(v, text[i+n:]) {
			continue
		}
		limit := v
		a.Limit, a.LimitAt = &limit, raw.At(i, i+n)
		a.Detail = strings.TrimSpace(text[i+n:])
		return i, n
	}
	return 0, 0
}

// prose tells a count before a word from a quantity: "12 in the row" is no length.
func prose(v quantity.Value, rest string) bool {
	return strings.HasSuffix(v.Text, "in") && (hasWord(strings.TrimSpace(rest), "the") || hasWord(strings.TrimSpace(rest), "a"))
}
