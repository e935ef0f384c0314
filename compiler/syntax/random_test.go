package syntax

import (
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
)

// scraps are put together at random: marks of blocks, inline marks, tags and line ends, with tabs where tabs hurt.
func scraps() []string {
	return []string{
		"\n", "\n", "\n", "\n\n", "\r\n", "\r", " ", "  ", "    ", "\t", "> ", ">\t", "- ", "-\t", "* ", "+ ", "1. ", "2.\t", "10) ", "# ", "## ", "### ", " #",
		"---\n", "===\n", "***\n", "```", "```\n", "~~~\n", "```layout a b\n", "```stack x 3..4 mm\n", "o", "12", "a = b, c = d",
		"| ", "|a|b|\n|-|-|\n", "|-|:-:|\n", " | ", `\|`, "{", "}", "{remove ", "{check it}", "{}", "{:}", "{remov x}", `\{`, `\}`, "{tool a\n",
		"*", "**", "_", "__", "`", "``", "[", "]", "](a.png)", "![", "![a](<b c> 'd')", "[r]", "[r]: p&amp;q 'T'\n", "<", ">", "<b>", "<br>", "<!-- ", " -->", "<div>\n", "<x y='z'>", "</x>",
		"&amp;", "&#65;", "&", `\`, `\*`, "<https://a.b>", "a", "b c", "ä", "𝄞", "é ", "WARNING", "DANGER: ", "question: ", ".", ":",
	}
}

// TestRandomTextsAreSound wants what FuzzParse wants of texts that look more like procedures than random bytes do. More of
// them are tried when TEXTS says so.
func TestRandomTextsAreSound(t *testing.T) {
	count := 5000
	if n, err := strconv.Atoi(os.Getenv("TEXTS")); err == nil {
		count = n
	}
	list := scraps()
	for seed := range uint64(count) {
		r := rand.New(rand.NewPCG(seed, 1))
		var b strings.Builder
		for range 2 + r.IntN(24) {
			b.WriteString(list[r.IntN(len(list))])
		}
		tree := parse([]byte(b.String()))
		if wrong := problems(tree); len(wrong) > 0 {
			var dump strings.Builder
			tree.Dump(&dump)
			t.Fatalf("text %d, %q: %s\n%s", seed, b.String(), strings.Join(wrong, "\n"), dump.String())
		}
	}
}
