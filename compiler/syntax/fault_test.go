package syntax

import (
	"fmt"
	"strings"
	"testing"
)

// faultCase is a text and its faults, one a line: name, the text that stands at its place, words. ´ stands for a backtick,
// → for a tab.
type faultCase struct{ name, text, want string }

// told gives the faults of a tree as the cases write them.
func told(t *Tree) string {
	var b strings.Builder
	for _, f := range t.Faults {
		fmt.Fprintf(&b, "%s %q", f.Name, f.At.Text())
		for _, w := range f.Words {
			fmt.Fprintf(&b, " %q", w)
		}
		for _, c := range f.Counts {
			fmt.Fprintf(&b, " %d", c)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// faultCases hold each fault of this folder; one slip gives one fault.
func faultCases() []faultCase {
	return append(append(tagFaults(), hiddenFaults()...), otherFaults()...)
}

func tagFaults() []faultCase {
	return []faultCase{
		{"unknown verb with one near", `{Remov the cover}.`, `tag/unknown-verb "Remov" "Remov" "remove"`},
		{"unknown verb of two words", `{Lok off the pump}`, `tag/unknown-verb "Lok" "Lok" "lock off"`},
		{"unknown verb with none near", `{sing a song}`, `tag/unknown-verb "sing" "sing" ""`},
		{"unknown verb with a colon", `{remov: x}`, `tag/unknown-verb "remov" "remov" "remove"`},
		{"unknown verb with a stop", `{torqe. x}`, `tag/unknown-verb "torqe" "torqe" "torque"`},
		{"a verb is not the start of a word", `{hold-down x}`, `tag/unknown-verb "hold-down" "hold-down" ""`},
		{"a figure is no verb", `{12}`, `tag/unknown-verb "12" "12" ""`},
		{"a stop is no verb", `{.}`, `tag/unknown-verb "." "." ""`},
		{"a colon before the words", `{: remove it}`, `tag/unknown-verb ":" ":" ""`},
		{"unknown verb on the second line", "{\nremov x}", `tag/unknown-verb "remov" "remov" "remove"`},
		{"unknown verb that begins with an escape", `{\{x\} y}`, `tag/unknown-verb "\\{x\\}" "{x}" ""`},
		{"nothing", `{}`, `tag/empty "{}"`},
		{"blanks", "{ \n }", `tag/empty "{ \n }"`},
		{"a colon", `{:}`, `tag/empty "{:}"`},
		{"colons", `{ :: }`, `tag/empty "{ :: }"`},
		{"never closed", `1. {Remove the cover and go on.`, `tag/unclosed "{Remove" "Remove the cover and"`},
		{"closed behind a blank line", "{Remove the\n\ncover}", `tag/unclosed "{Remove" "Remove the"`},
		{"closed in the next item", "1. {Remove the\n2. cover}", `tag/unclosed "{Remove" "Remove the"`},
		{"closed by an escape only", `{Remove it\} now`, `tag/unclosed "{Remove" "Remove it} now"`},
		{"another tag begins", `{Remove the cover and {check it}.`, `tag/unclosed "{Remove" "Remove the cover and"`},
		{"a brace inside a tag", `{remove the {cover} now}`, `tag/unclosed "{remove" "remove the"`},
		{"two braces", `{{remove it}}`, `tag/unclosed "{{remove" "remove"`},
		{"braces apart", `{ { {`, `tag/unclosed "{" ""`},
		{"a brace at the end", `x {`, `tag/unclosed "{" ""`},
		{"two slips", `{remove it {check it} {refit it {x}`, `tag/unclosed "{remove" "remove it"
tag/unclosed "{refit" "refit it"`},
		{"a closing brace alone", `remove it} \{ \}`, ``},
	}
}

func hiddenFaults() []faultCase {
	return []faultCase{
		{"code span", `say ´{check it}´ aloud`, `tag/hidden "{check it}" "{check it}" "a code span"`},
		{"code span over two lines", "´{check\nit}´", `tag/hidden "{check\nit}" "{check it}" "a code span"`},
		{"braces in a code span", `´{12}´ ´{´ ´{x´ ´\{check it}´`, ``},
		{"code block", "´´´\n{check it}\n´´´", `tag/hidden "{check it}" "{check it}" "a code block"`},
		{"code block with a language", "~~~text\nx {check\n it} {y}\n~~~", `tag/hidden "{check\n it}" "{check it}" "a code block"`},
		{"blank line in a code block", "´´´\n{check\n\nit}\n´´´", ``},
		{"indented block", "a\n\n    {check it}", `tag/hidden "{check it}" "{check it}" "an indented block"`},
		{"item indented by a tab", "1.→→{check it}", `tag/hidden "{check it}" "{check it}" "an indented block"`},
		{"HTML block", "<div>\n{check it}\n</div>", `tag/hidden "{check it}" "{check it}" "HTML"`},
		{"comment", "<!-- {check it}\n{wait 3 min} -->", `tag/hidden "{check it}" "{check it}" "HTML"
tag/hidden "{wait 3 min}" "{wait 3 min}" "HTML"`},
		{"comment in a line", "a <!-- {check it} --> b", `tag/hidden "{check it}" "{check it}" "HTML"`},
		{"heading", "# {check it}", `tag/hidden "{check it}" "{check it}" "a heading"`},
		{"stage", "## {check it}", `tag/hidden "{check it}" "{check it}" "a heading"`},
		{"unknown verb in a heading", "## {chek it}", `tag/hidden "{chek it}" "{chek it}" "a heading"`},
		{"nothing in a heading", "## {}", `tag/hidden "{}" "{}" "a heading"`},
		{"never closed in a heading", "## {check it", `tag/unclosed "{check" "check it"`},
		{"a brace inside a tag in a heading", "## {remove {it}", `tag/unclosed "{remove" "remove"`},
		{"head of a table", "|{check it}|\n|-|", `tag/hidden "{check it}" "{check it}" "a table"`},
		{"cell of a table", "|a|\n|-|\n|{check it}|", `tag/hidden "{check it}" "{check it}" "a table"`},
		{"cell with an escaped bar", "|a|\n|-|\n|{check a\\|b}|", `tag/hidden "{check a\\|b}" "{check a\\|b}" "a table"`},
		{"link text", "[see {check it}](a.md)", `tag/hidden "{check it}" "{check it}" "link text"`},
		{"link text over two lines", "[{check\nit}](a.md)", `tag/hidden "{check\nit}" "{check it}" "link text"`},
		{"link that is none", "[see {check it}]", ``},
		{"caption", "![{check it}](a.png)", `tag/hidden "{check it}" "{check it}" "a figure's caption"`},
		{"title of a figure", "![a](a.png \"{check it}\")", ``},
		{"layout", "´´´layout a\n{check it}\no\n´´´", `tag/hidden "{check it}" "{check it}" "a code block"`},
		{"stack", "´´´stack a\n{check it}\n´´´", `tag/hidden "{check it}" "{check it}" "a code block"`},
		{"code in a quote", "> ´´´\n> {check\n> it}\n> ´´´", `tag/hidden "{check\n> it}" "{check it}" "a code block"`},
		{"heading in a quote", "> # {check it}", `tag/hidden "{check it}" "{check it}" "a heading"`},
		{"table in a quote", "> |a|\n> |-|\n> |{check it}|", `tag/hidden "{check it}" "{check it}" "a table"`},
		{"emphasis hides nothing", "**{check it}** *{wait 3 min}*", ``},
	}
}

func otherFaults() []faultCase {
	return []faultCase{
		{"open question", "> Question: which torque?\n> Or none?", `tag/question "> Question: which torque?\n> Or none?" "which torque? Or none?"`},
		{"a warning is no question", "> WARNING: question: hot?", ``},
		{"cell beyond the head", "|a|\n|-|\n|b|c d|", `part/bad-row "c d|" "row" "c d" "no more cells than the head of the table has columns"`},
		{"bar in a tag", "|a|\n|-|\n|{check b|c}|", `part/bad-row "c}|" "row" "c}" "no \"|\" inside a cell, or \"\\|\" for one"`},
		{"empty cell beyond the head", "|a|\n|-|\n|b| |\n|b|\n|b||", ``},
		{"front matter without an end", "---\ntitle: A\n", `file/bad-value "---" "" "---" "a second line --- that ends the front matter"`},
		{"repeated key", "---\na: 1\na: 2\n---\n", ``},
	}
}

func TestEachSlipGivesOneFault(t *testing.T) {
	for _, c := range faultCases() {
		t.Run(c.name, func(t *testing.T) {
			tree := parse([]byte(typed(c.text)))
			want := c.want
			if want != "" {
				want += "\n"
			}
			if got := told(tree); got != want {
				t.Errorf("%q gave\n%snot\n%s", typed(c.text), got, want)
			}
			wantSound(t, tree)
		})
	}
}
