package compiler

import (
	"fmt"
	"strings"
)

// PageOfChecks writes the page of all checks in Markdown, from the texts beside the rules: a table of contents, then each
// check with its letters, what it finds, why that matters, what to do and its source. The examples stay where they are.
func PageOfChecks() (string, error) {
	var contents, body strings.Builder
	contents.WriteString(`# The checks

Each check looks for one mistake. Its name says what the mistake is, and never changes. ` + "`refitcard explain NAME`" + ` shows
the same words, with a wrong and a right example. This page is made from the texts beside the checks: change those.

| letters | meaning |
|:--|:--|
| E | an error: no card is made while it stands |
| W | a warning: the card is made, look at it first |
| A | advice: take it or leave it |
| ! | the settings can't lower it |
| w | an error that can be waived: ` + "`{waive NAME: the reason}`" + ` in its step lets one pass; for one in the lists, in the introduction |

Every warning and every piece of advice can be waived in the same way. A few checks find something milder in some cases: their
text says so. The front matter, in some of the texts, is what stands between the two --- lines at the top of a file.

"Read" after a source means that the passage itself was read, "read in a restatement" that somebody else's account of it was
read, "from memory" that nobody has looked it up again.

`)
	for _, family := range Families() {
		fmt.Fprintf(&contents, "- [%s](#%s): %s\n", family.Name, family.Name, family.About)
		fmt.Fprintf(&body, "\n## %s\n\nThese checks look at %s.\n", family.Name, family.About)
		for _, rule := range family.Rules {
			text, err := family.Text(rule.Name)
			if err != nil {
				return "", fmt.Errorf("%s: %w", rule.Name, err)
			}
			fmt.Fprintf(&contents, "  - [%s](#%s) %s: %s\n", rule.Name, anchor(rule.Name), rule.Letters(), text.Title)
			fmt.Fprintf(&body, "\n### %s\n\n**%s: %s**\n", rule.Name, rule.Letters(), text.Title)
			for _, part := range []struct{ head, words string }{
				{"What it finds", text.What}, {"Why it matters", text.Why}, {"What to do", text.Do}, {"Source", text.SourceInWords()},
			} {
				fmt.Fprintf(&body, "\n*%s.* %s\n", part.head, part.words)
			}
		}
	}
	return contents.String() + body.String(), nil
}

// anchor gives the link target that a Markdown viewer makes of a heading with a check's name.
func anchor(name string) string { return strings.ReplaceAll(name, "/", "") }
