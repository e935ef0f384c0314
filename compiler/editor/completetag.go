package editor

import (
	"slices"
	"strconv"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// tagOffers lists what may stand at the cursor inside of a tag: the verb, or what its verb takes.
func (c *cursor) tagOffers() []Offer {
	typed := c.word(c.tag)
	lead := len(typed) - len(strings.TrimLeft(typed, " \n\r\t"))
	typed = typed[lead:]
	x, n := c.v.Result.Settings.Verbs.Longest(typed)
	if x == nil || n == len(typed) {
		return c.verbOffers(c.tag + lead)
	}
	body := c.tag + lead + n
	if list := c.unitOffers(body); list != nil {
		return list
	}
	return c.bodyOffers(x, body)
}

func (c *cursor) verbOffers(from int) []Offer {
	typed := c.word(from)
	var list []Offer
	table := c.v.Result.Settings.Verbs
	for _, x := range table.All() {
		does, _ := x.About()
		for _, spelling := range append([]string{x.Name}, x.Also...) {
			if strings.HasPrefix(spelling, strings.ToLower(typed)) {
				text := spelling
				if typed != "" && 'A' <= typed[0] && typed[0] <= 'Z' {
					text = strings.ToUpper(text[:1]) + text[1:]
				}
				list = append(list, c.put(from, Offer{Text: text, Detail: does, Note: verbWords(x, table), Kind: VerbOffer}))
			}
		}
	}
	return list
}

// bodyOffers lists what a verb takes.
func (c *cursor) bodyOffers(x *verb.Verb, body int) []Offer {
	switch x.Takes {
	case verb.Parts, verb.Part:
		return c.objectOffers(body, c.parts(true))
	case verb.Torque:
		return append(c.valueOffers(body), c.objectOffers(body, c.parts(true))...)
	case verb.Fluids, verb.Supply:
		return c.objectOffers(body, c.supplies())
	case verb.Tool:
		return c.objectOffers(body, c.tools())
	case verb.Anything, verb.OneThing:
		return c.objectOffers(body, slices.Concat(c.parts(false), c.supplies()))
	case verb.Measure, verb.Limit, verb.Words:
		return c.objectOffers(body, slices.Concat(c.parts(false), c.supplies()))
	case verb.Variants:
		return c.objectOffers(body, c.variantOffers())
	case verb.Word:
		return c.labelOffers(x, body)
	case verb.Waive:
		return c.waiveOffers(body)
	case verb.Path:
		return c.fileOffers(body)
	case verb.Repeat:
		return c.objectOffers(body, []Offer{{Text: "3 times", Kind: ValueOffer}, {Text: "until ", Kind: ValueOffer}})
	}
	return nil
}

// objectOffers places names behind the words and marks that stand before them: articles, counts, "and", commas.
func (c *cursor) objectOffers(body int, list []Offer) []Offer {
	from, many, counted := c.objectStart(body)
	typed := c.word(from)
	var all []Offer
	for _, o := range list {
		if o.Kind == ThingOffer && many {
			o.Text = procedure.Plural(o.Text)
		}
		if count, ok := strings.CutPrefix(o.Detail, "×"); ok && !counted && o.Kind == ThingOffer {
			if n, _ := strconv.Atoi(count); n > 1 && begins(o.Text, typed) {
				all = append(all, c.put(from, Offer{Text: procedure.CountName(n, o.Text), Detail: o.Detail, Note: o.Note, Kind: o.Kind}))
				continue // a singular of several would be a finding
			}
		}
		if begins(o.Text, typed) && !slices.ContainsFunc(all, func(x Offer) bool { return x.Text == o.Text }) {
			all = append(all, c.put(from, o))
		}
	}
	return all
}

// objectStart finds where the name at the cursor begins; many tells that a count or another mark before it asks for the plural,
// counted that any count or article stands there.
func (c *cursor) objectStart(body int) (from int, many, counted bool) {
	typed := c.word(body)
	at := 0
	for i := range len(typed) {
		if typed[i] == ',' || typed[i] == ';' {
			at = i + 1
		}
	}
	if i := strings.LastIndex(typed, " and "); i >= at {
		at = i + len(" and ")
	}
	for {
		rest := strings.TrimLeft(typed[at:], " \n\r\t")
		at = len(typed) - len(rest)
		word, _, more := strings.Cut(rest, " ")
		if !more || !isMark(word) {
			return body + at, many, counted
		}
		switch n, err := strconv.Atoi(word); {
		case err == nil:
			many, counted = n > 1, true
		case slices.Contains([]string{"all", "both", "remaining", "other", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}, strings.ToLower(word)):
			many, counted = true, true
		case slices.Contains([]string{"a", "an", "one", "each", "every"}, strings.ToLower(word)):
			many, counted = false, true
		}
		at += len(word) + 1
	}
}

// marks lists the words that may stand before a name.
var marks = strings.Fields("the a an its new old all both each every other remaining of one two three four five six seven eight nine ten eleven twelve")

func isMark(w string) bool {
	_, err := strconv.Atoi(w)
	return err == nil || slices.Contains(marks, strings.ToLower(w))
}
