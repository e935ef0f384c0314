package file

import (
	"bytes"
	"fmt"
	"unicode"
	"unicode/utf8"

	"refitcard/compiler/diag"
	"refitcard/compiler/letters"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

// mostUnprintable is how many pieces of one file are told one by one: a text in another script is one slip.
const mostUnprintable = 5

var unprintable = rules.Rule{
	Name:     "file/unprintable",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, t := range j.Trees {
			all = append(all, unprintableIn(t)...)
		}
		return all
	},
}

func unprintableIn(t *syntax.Tree) []diag.Finding {
	if letters.Shown(t.File.Text) && bytes.IndexByte(t.File.Text, '&') < 0 { // an entity may mean anything
		return nil
	}
	var all []diag.Finding
	seen, more := map[string]bool{}, 0
	t.Texts(func(text string, at func(start, end int) source.Span) {
		for from := 0; ; {
			start, end, lacks := letters.Lacks(text[from:])
			if !lacks {
				return
			}
			start, end, from = from+start, from+end, from+end
			words := text[start:end]
			switch first, _ := utf8.DecodeRuneInString(words); {
			case seen[words] || start == 0 && unicode.Is(unicode.Mn, first): // an accent whose letter is an entity
			case len(all) == mostUnprintable:
				seen[words] = true
				more++
			default:
				seen[words] = true
				all = append(all, diag.Finding{
					At: at(start, end), Message: cantPrint(words),
					Do: "write it in Latin, Greek or Cyrillic letters, or leave it out",
				})
			}
		}
	})
	if more > 0 {
		all[len(all)-1].Message += fmt.Sprintf("; %d more in this file can't be printed either", more)
	}
	return all
}

// cantPrint says what has no glyph; a lone sign with its number, as it may be one that can't be seen.
func cantPrint(words string) string {
	if r, size := utf8.DecodeRuneInString(words); size == len(words) {
		return fmt.Sprintf("%s (U+%04X) can't be printed: the fonts of the sheets do not have it", rules.Quote(words), r)
	}
	return rules.Quote(words) + " can't be printed: the fonts of the sheets do not have these letters"
}
