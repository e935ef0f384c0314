package syntax

import (
	"fmt"
	"strings"
)

// hostilePieces are bits of text that, said over and over, have made some parser of Markdown or tags slow.
func hostilePieces() []string {
	return []string{
		"{", "}", "{}", "{{", "{x", "{x ", "{ ", "{remove x} ", "{remov x} ", `\{`, "{a\n", "{a\n\n", "{ä ", "{`", "`{", "${", "`{remove x}` ",
		"[", "]", "[]", "[a](", "[a](b) ", "![", "![a](", "![a](b) ", "[a][", "[a][b] ", "[(", "[![", "*[", "[\\[", "[a]((", "[a](<", "[a](b \"",
		"![a](b\\.png) ", "![a](b 'c) ", "[{remove x}](a) ", "[a]: b\n", "[a]: <b\n", "[a]: b \"\n", "[a]\n", "[a]:", "[a]:\n",
		"*", "*a ", "*a_ ", "a*", "**a ", "a**b", "_a*", "***", "**_", "* * ", "_ _ ", "__a", "*ä",
		"`", "`a", "`a``b", "<", "<a ", "<a b='", "<!--", "<!-- -->", "<?", "<!A", "<![CDATA[", "</a ", "<http://a", "<http://a> ", "<b>",
		"&", "&amp;", "&a", "&#1", `\`, `\\`, "\"", "'", "(", "|", "|a", "|a|\n", "|a|\n|-|\n", "|a|\n|-|\n\n", `\|`, "a\\|`", "-|", "`\\|`", "a|b\n",
		"> ", ">", "> a\n", ">a\n\n", "> a\n>\n", "> question: a\n\n", "> WARNING x\n\n", "- ", "- a\n", "-\n", "1. ", "1. a\n", "1. a\n\n", "10) ", "+ a\n- a\n",
		"# ", "# a\n", "# {remove x}\n", "{remove x}", "```\n", "```a\n", "~~~\n```\n", "---\n", "a\n---\n", "===\n", "a\n===\n", "    a\n", "\ta\n", "\t", " ", "\n", "\r",
		"\r\n", "a\r", "<div>\n", "<div>\n\n", "a  \n", "a\\\n", "a\n", "a", "ä", "1", "word ",
	}
}

// hostileTexts give texts of about n bytes that are more than a piece said over and over.
func hostileTexts() map[string]func(n int) string {
	rep := strings.Repeat
	around := func(open, piece, shut string) func(int) string {
		return func(n int) string { return open + rep(piece, n/len(piece)) + shut }
	}
	return map[string]func(int) string{
		"a wide head and short rows":    func(n int) string { return rep("|a", n/8) + "|\n" + rep("|-", n/8) + "|\n" + rep("|\n", n/4) },
		"rows of nothing":               around(rep("|a", 60)+"|\n"+rep("|-", 60)+"|\n", "|\n", ""),
		"tags in a table":               around("|a|\n|-|\n", "|{remove x}|\n", ""),
		"bars in code in a table":       around("|a|\n|-|\n", "|`\\|`|\n", ""),
		"bars in code in a row":         around("|a|\n|-|\n|", "`\\|` ", "|"),
		"lines that underline a table":  func(n int) string { return rep("a\n", n/4) + "-|\n" + rep("=\n", n/4) },
		"cells beyond the head":         around("|a|\n|-|\n", "|a|b|\n", ""),
		"a row far beyond the head":     around("|a|\n|-|\n", "|a", ""),
		"brackets opened and closed":    func(n int) string { return rep("[", n/2) + rep("](a)", n/8) },
		"images in images":              func(n int) string { return rep("![", n/4) + rep("](a)", n/8) },
		"few brackets in a long line":   around(rep("[a](", 200), "x", ""),
		"few titles in a long text":     around(rep("[a](b \"", 200), "x\n", ""),
		"few definitions before a text": around(rep("[a]: b\n", 150), "x\n", ""),
		"emphasis opened and closed":    func(n int) string { return rep("*a ", n/6) + rep("a* ", n/6) },
		"paragraphs full of marks":      around("", rep("*a_", 250)+"\n\n", ""),
		"paragraphs full of brackets":   around("", rep("[a](", 200)+"\n\n", ""),
		"lists as deep as may be":       around(rep("- ", 40)+"a\n", rep(" ", 80)+"a\n", ""),
		"lists by indentation":          func(n int) string { return indented(n) },
		"quotes as deep as may be":      around("", rep("> ", 40)+"a\n", ""),
		"a deep quote and lazy lines":   around(rep("> ", 40)+"a\n", "a\n", ""),
		"runs of backticks":             func(n int) string { return growing(n, "`", " ") },
		"runs of stars":                 func(n int) string { return growing(n, "*", " ") },
		"a long word in a tag":          around("{", "x", "}"),
		"a long tag":                    around("{remove ", "x ", "}"),
		"a tag over many lines":         around("{remove ", "x\n", "}"),
		"a long tag in a heading":       around("# ", "{remove x}", ""),
		"tags in a block of code":       around("```\n", "{remove x}\n", "```"),
		"braces in a block of code":     around("```\n", "{\n", "```"),
		"braces in a code span":         around("`", "{", "`"),
		"tags in HTML":                  around("<div>\n", "{remove x}\n", "</div>"),
		"a wide layout":                 around("```layout a\n", "o", "\n```"),
		"a wide layout of tabs":         around("```layout a\n", "\to", "\n```"),
		"a tall layout":                 around("```layout a\n", "o\n", "```"),
		"a long legend":                 around("```layout a\n", "a=b,", "\n```"),
		"a tall stack":                  around("```stack a\n", "1 a\n", "```"),
		"front matter of one key":       around("---\n", "a: b\n", "---\n"),
		"front matter without an end":   around("---\n", "a: b\n", ""),
		"front matter of brackets":      around("---\na: ", "[", "\n---\n"),
		"front matter of dashes":        around("---\n", "- ", "\n---\n"),
		"many names of links":           func(n int) string { return names(n) },
		"many unlike unknown verbs":     func(n int) string { return unlike(n) },
	}
}

func indented(n int) string {
	var b strings.Builder
	for i := 0; b.Len() < n; i++ {
		b.WriteString(strings.Repeat(" ", min(2*i, 320)) + "- a\n")
	}
	return b.String()
}

func growing(n int, mark, gap string) string {
	var b strings.Builder
	for i := 1; b.Len() < n; i++ {
		b.WriteString(strings.Repeat(mark, i) + gap)
	}
	return b.String()
}

func names(n int) string {
	var b strings.Builder
	for i := 0; b.Len() < n; i++ {
		fmt.Fprintf(&b, "[a%d]: b\n\n[a%d]\n\n", i, i)
	}
	return b.String()
}

func unlike(n int) string {
	var b strings.Builder
	for i := 0; b.Len() < n; i++ {
		fmt.Fprintf(&b, "{remov%d x%d} ", i, i)
	}
	return b.String()
}
