package draft

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// escape makes plain words fit for Markdown: nothing in them is a mark.
func escape(s string) string {
	var b strings.Builder
	for i, r := range s {
		if strings.ContainsRune("\\`*_{}[]<>|&~", r) || i == 0 && strings.ContainsRune("#+-=:>", r) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// tagText makes words fit for a tag.
func tagText(s string) string {
	return strings.Join(strings.Fields(strings.NewReplacer("{", "(", "}", ")", `\`, "/", "|", "/", "`", "'").Replace(s)), " ")
}

// comment makes words fit for a comment: no mark that ends it, no brace.
func comment(s string) string {
	for strings.Contains(s, "--") {
		s = strings.ReplaceAll(s, "--", "-")
	}
	s = strings.NewReplacer("{", "(", "}", ")", "<", "(", ">", ")").Replace(s)
	return strings.Trim(s, "-> ")
}

// quoted gives words of the notes for a question.
func quoted(s string) string { return "“" + escape(s) + "”" }

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

func closed(s string) string {
	s = strings.TrimRight(s, ";,: ")
	if s != "" && !strings.ContainsAny(s[len(s)-1:], ".!?") {
		return s + "."
	}
	return s
}

func yamlText(s string) string {
	return strconv.Quote(strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return -1
		}
		return r
	}, s))
}

func heading(s string) string {
	return strings.Trim(escape(strings.NewReplacer("{", "(", "}", ")").Replace(s)), "# ")
}
