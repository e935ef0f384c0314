package syntax

// blockCases are tables, layouts, stacks, code, images and HTML.
func blockCases() []treeCase {
	return []treeCase{
		{"table with all kinds of cells", `
| Part | Qty |
|:--|--:|
| a \| b | 1 |
| **c** | &lt;2 |
|  |
| d
| e | f\|
`, `
table "| Part | Qty |\n|:--|--:|\n| a \\| b | 1 |\n| **c** | &lt;2 |\n|  |\n| d\n| e | f\\|"
  head "Part"
  head "Qty"
  row "| a \\| b | 1 |"
    cell "a \\| b" -> "a | b"
    cell "1"
  row "| **c** | &lt;2 |"
    cell "c"
    cell "&lt;2" -> "<2"
  row "|  |"
    cell ""
    cell ""
  row "| d"
    cell "d"
    cell ""
  row "| e | f\\|"
    cell "e"
    cell "f\\|" -> "f|"
`},
		{"table inside a quote in a list", `
- > | a |
  > |---|
  > | b |
`, `
bullets "- > | a |\n  > |---|\n  > | b |"
  item "- > | a |\n  > |---|\n  > | b |"
    quote "> | a |\n  > |---|\n  > | b |"
      text "a"
      break ""
      text "b"
`},
		{"words above an underlined table", `
a
b|c
-|-
d|e
---
f
`, `
paragraph "a"
  text "a"
table "b|c\n-|-\nd|e"
  head "b"
  head "c"
  row "d|e"
    cell "d"
    cell "e"
paragraph "f"
  text "f"
`},
		{"table without rows", `
a|b
-|-
`, `
table "a|b\n-|-"
  head "a"
  head "b"
`},
		{"layout", `
´´´layout end cover
  o ö o O
 12→a front
a = guard bolt, B = long bolt
´´´
`, `
layout "´´´layout end cover\n  o ö o O\n 12\ta front\na = guard bolt, B = long bolt\n´´´"
  name "end cover"
  place 2,0 "o"
  place 6,0 "o"
  place 8,0 "O" -> "o"
  place 1,1 "12"
  place 4,1 "a"
  letter a "guard bolt"
  letter b "long bolt"
`},
		{"layout inside an item", `
1. x

   ´´´layout a
    o
   o
   ´´´
`, `
numbers "1. x\n\n   ´´´layout a\n    o\n   o\n   ´´´"
  item "1. x\n\n   ´´´layout a\n    o\n   o\n   ´´´"
    paragraph "x"
      text "x"
    layout "´´´layout a\n    o\n   o\n   ´´´"
      name "a"
      place 1,0 "o"
      place 0,1 "o"
`},
		{"stack", `
~~~stack filter pack 38.6..39.4 mm
 1 base plate

8 disc
~~~
`, `
stack "~~~stack filter pack 38.6..39.4 mm\n 1 base plate\n\n8 disc\n~~~"
  name "filter pack"
  target "38.6..39.4 mm"
  layer "1 base plate"
  layer "8 disc"
`},
		{"stack that nothing closes", `
- ´´´stack a
  1 b

c
`, `
bullets "- ´´´stack a\n  1 b"
  item "- ´´´stack a\n  1 b"
    stack "´´´stack a\n  1 b"
      name "a"
      target ""
      layer "1 b"
paragraph "c"
  text "c"
`},
		{"stack with one bound", `
´´´stack shims at least 0.4 mm
2 shim
´´´
`, `
stack "´´´stack shims at least 0.4 mm\n2 shim\n´´´"
  name "shims"
  target "at least 0.4 mm"
  layer "2 shim"
`},
		{"code prints as typed", `
´´´text
a
  b
´´´

    c
     d

´ e ´ ´´f
g´´
`, `
paragraph "a\n  b"
  code text "a\n  b"
paragraph "c\n     d"
  code text "c\n     d" -> "c\n d"
paragraph "´ e ´ ´´f\ng´´"
  code text "e"
  text " "
  code text "f" -> "f "
  code text "g"
`},
		{"an image with caption, path and title", `
1. ![Cover, *left*](img/cover.png "Seen \"above\"") x
`, `
numbers "1. ![Cover, *left*](img/cover.png \"Seen \\\"above\\\"\") x"
  item "1. ![Cover, *left*](img/cover.png \"Seen \\\"above\\\"\") x"
    paragraph "![Cover, *left*](img/cover.png \"Seen \\\"above\\\"\") x"
      image "![Cover, *left*](img/cover.png \"Seen \\\"above\\\"\")"
        caption "Cover, *left*" -> "Cover, left"
        path "img/cover.png"
        title "Seen \"above\""
      text " x"
`},
		{"an image with brackets in its path", `
![a[b]](<a b.png>) ![c](d(e).png)
`, `
paragraph "![a[b]](<a b.png>) ![c](d(e).png)"
  image "![a[b]](<a b.png>)"
    caption "a[b]"
    path "a b.png"
  text " "
  image "![c](d(e).png)"
    caption "c"
    path "d(e).png"
`},
		{"images by reference", `
![a][b c] ![b c][] ![b c]

[b c]: p\_q.png 'T'
`, `
paragraph "![a][b c] ![b c][] ![b c]"
  image "![a][b c]"
    caption "a"
    path "b c" -> "p_q.png"
    title "T"
  text " "
  image "![b c][]"
    caption "b c"
    path "b c" -> "p_q.png"
    title "T"
  text " "
  image "![b c]"
    caption "b c"
    path "b c" -> "p_q.png"
    title "T"
`},
		{"an image whose path stands on the next line", `
> ![a](
> b.png)
`, `
quote "> ![a](\n> b.png)"
  image "![a](\n> b.png)"
    caption "a"
    path "b.png"
`},
		{"an image in a link", `
[x ![a](b.png) y](z) <https://a.b/c>
`, `
paragraph "[x ![a](b.png) y](z) <https://a.b/c>"
  text "x "
  image "![a](b.png)"
    caption "a"
    path "b.png"
  text " y"
  text " "
  text "https://a.b/c"
`},
		{"dressed text", `
<b>a</b> b<br>c <!-- d --> press <Start> <sub>e</sub>
`, `
paragraph "<b>a</b> b<br>c <!-- d --> press <Start> <sub>e</sub>"
  text "a"
  text " b"
  text "<br>" -> " "
  text "c "
  text " press <Start> "
  text "e"
`},
		{"not Markdown", `
<div>
x
</div>

***
y
`, `
paragraph "y"
  text "y"
`},
	}
}
