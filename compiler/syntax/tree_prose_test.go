package syntax

// proseCases are front matter, headings, lists, quotes, running text and tags.
func proseCases() []treeCase {
	return []treeCase{
		{"front matter, introduction and section", `
---
title: A
---

Scope.

## Make safe ##

Prose.
`, `
front "---\ntitle: A\n---"
paragraph "Scope."
  text "Scope."
section "## Make safe ##\n\nProse."
  title "Make safe"
  paragraph "Prose."
    text "Prose."
`},
		{"a heading underlined", `
Title
=====

Stage
-----

### Odd # mark ###

#
`, `
heading 1 "Title\n====="
  text "Title"
section "Stage\n-----\n\n### Odd # mark ###\n\n#"
  title "Stage"
  heading 3 "### Odd # mark ###"
    text "Odd # mark"
  heading 1 "#"
`},
		{"section without words", `
##

x
`, `
section "##\n\nx"
  title ""
  paragraph "x"
    text "x"
`},
		{"a list in a list", `
1. one
   - two
     three
   2. four
2.
10) five
`, `
numbers "1. one\n   - two\n     three\n   2. four\n2."
  item "1. one\n   - two\n     three\n   2. four"
    paragraph "one"
      text "one"
    bullets "- two\n     three"
      item "- two\n     three"
        paragraph "two\n     three"
          text "two" -> "two "
          text "three"
    numbers "2. four"
      item "2. four"
        paragraph "four"
          text "four"
  item "2."
numbers "10) five"
  item "10) five"
    paragraph "five"
      text "five"
`},
		{"an item whose words begin below", `
-
  a

- b
`, `
bullets "-\n  a\n\n- b"
  item "-\n  a"
    paragraph "a"
      text "a"
  item "- b"
    paragraph "b"
      text "b"
`},
		{"marks behind tabs", `
1.→a
→- b

→  c→d
>→e
`, `
numbers "1.\ta\n\t- b\n\n\t  c\td"
  item "1.\ta\n\t- b\n\n\t  c\td"
    paragraph "a"
      text "a"
    bullets "- b\n\n\t  c\td"
      item "- b\n\n\t  c\td"
        paragraph "b"
          text "b"
        paragraph "c\td"
          text "c\td"
quote ">\te"
  text "e"
`},
		{"paragraph over lines, bold and plain", `
a *b* **c
d**  
e\
f
`, `
paragraph "a *b* **c\nd**  \ne\\\nf"
  text "a "
  text "b"
  text " "
  bold text "c" -> "c "
  bold text "d"
  text "" -> " "
  text "e" -> "e "
  text "f"
`},
		{"a tag over two lines", `
1. Put {tool 6 mm
   hex key} away.
`, `
numbers "1. Put {tool 6 mm\n   hex key} away."
  item "1. Put {tool 6 mm\n   hex key} away."
    paragraph "Put {tool 6 mm\n   hex key} away."
      text "Put "
      tag "{tool 6 mm\n   hex key}"
        verb "tool"
        body "6 mm\n   hex key" -> "6 mm hex key"
      text " away."
`},
		{"a tag in a quote over two lines", `
> see {number
> cover-off} there
`, `
quote "> see {number\n> cover-off} there"
  text "see "
  tag "{number\n> cover-off}"
    verb "number"
    body "cover-off"
  text " there"
`},
		{"verb and body", `
{Lock off: the pump}{check}{ wait  10 min }
`, `
paragraph "{Lock off: the pump}{check}{ wait  10 min }"
  tag "{Lock off: the pump}"
    verb "Lock off" -> "lock off"
    body "the pump"
  tag "{check}"
    verb "check"
  tag "{ wait  10 min }"
    verb "wait"
    body "10 min"
`},
		{"escapes inside a tag", `
{check \{a\} b\|c d\\e &amp; *f*}
`, `
paragraph "{check \\{a\\} b\\|c d\\\\e &amp; *f*}"
  tag "{check \\{a\\} b\\|c d\\\\e &amp; *f*}"
    verb "check"
    body "\\{a\\} b\\|c d\\\\e &amp; *f*" -> "{a} b|c d\\\\e &amp; *f*"
`},
		{"escapes and entities outside", `
a\*b \&amp; &amp;&nbsp;\{c\} &#65;&bogus; \q
`, `
paragraph "a\\*b \\&amp; &amp;&nbsp;\\{c\\} &#65;&bogus; \\q"
  text "a"
  text "*b "
  text "&amp; "
  text "&amp;" -> "&"
  text "&nbsp;" -> "\u00a0"
  text "{c"
  text "} "
  text "&#65;" -> "A"
  text "&bogus; \\q"
`},
		{"many bytes before a tag", `
Ä€𝄞 {check ä} ö
`, `
paragraph "Ä€𝄞 {check ä} ö"
  text "Ä€𝄞 "
  tag "{check ä}"
    verb "check"
    body "ä"
  text " ö"
`},
		{"a safety message", `
> **WARNING:** Hot oil. Wait.
>
> More.
`, `
quote "> **WARNING:** Hot oil. Wait.\n>\n> More."
  signal "WARNING"
  text "Hot oil. Wait."
  break ""
  text "More."
`},
		{"a safety message with dashes", `
> NOTICE — -5 °C is cold.
`, `
quote "> NOTICE — -5 °C is cold."
  signal "NOTICE"
  text "-5 °C is cold."
`},
		{"a message whose word stands alone", `
> ´x´

> DANGER!
> Stop.

> **CAUTION**
>
> - one
`, `
quote "> ´x´"
  code text "x"
quote "> DANGER!\n> Stop."
  signal "DANGER"
  text "Stop."
quote "> **CAUTION**\n>\n> - one"
  signal "CAUTION"
  text "one"
`},
		{"blocks in a quote", `
> # head
> ´´´
> code
> ´´´
> <i>x</i> y
>
> ---
> z
> ===
`, `
quote "> # head\n> ´´´\n> code\n> ´´´\n> <i>x</i> y\n>\n> ---\n> z\n> ==="
  text "head"
  break ""
  code text "code"
  break ""
  text "x"
  text " y"
  break ""
  text "z"
`},
		{"a note", `
> Warnings are no signal.
`, `
quote "> Warnings are no signal."
  text "Warnings are no signal."
`},
		{"a quote in an item", `
1. a

   > b
   c
`, `
numbers "1. a\n\n   > b\n   c"
  item "1. a\n\n   > b\n   c"
    paragraph "a"
      text "a"
    quote "> b\n   c"
      text "b" -> "b "
      text "c"
`},
	}
}
