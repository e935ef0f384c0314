package wording

import (
	"strings"

	"refitcard/compiler/diag"
)

// braces offers to put braces about the words of a plain act, where they can stand as they are.
func (c clause) braces(word, object string) []diag.Fix {
	offer := c.offer(word, object)
	if len(offer) > len(c.text) || !strings.EqualFold(c.text[:len(offer)], offer) {
		return nil
	}
	at := c.at(word)
	at.End = at.Start + len(offer)
	if at.End > len(at.File.Text) || at.Text() != c.text[:len(offer)] {
		return nil
	}
	return []diag.Fix{{Title: "put braces about it", Edits: []diag.Edit{{At: at, Text: "{" + at.Text() + "}"}}}}
}
