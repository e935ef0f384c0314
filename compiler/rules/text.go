package rules

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Text explains one rule. It stands in the .md file beside the rule's code, and its examples are the rule's tests.
type Text struct {
	Title  string // one sentence: what is wrong
	What   string
	Why    string
	Do     string
	Source string // with the basis of its reading: c read, s restated, m from memory; or "common practice, no source"
	Wrong  []Example
	Right  []Example
}

// Example is a whole procedure, or one of the files that belong to it; the first is the one that is compiled.
type Example struct {
	Name string // of the file
	Text string // with its marks
}

// SourceInWords gives the source with each letter of its basis written out, for a reader who does not know the letters. Its
// lines are at most as long as those of the texts.
func (t Text) SourceInWords() string {
	words := strings.Join(strings.Fields(t.Source), " ")
	for _, basis := range [][2]string{{"c", "read"}, {"s", "read in a restatement"}, {"m", "from memory"}} {
		words = strings.ReplaceAll(words, " ("+basis[0]+")", " ("+basis[1]+")") // "1910.147(c)" is a paragraph
		words = strings.ReplaceAll(words, " ("+basis[0]+", in ", " ("+basis[1]+", in ")
	}
	return filled(words)
}

// filled breaks a text into lines of at most 118 characters, as the texts are written.
func filled(text string) string {
	const most = 118
	var b strings.Builder
	column := 0
	for i, word := range strings.Fields(text) {
		n := utf8.RuneCountInString(word)
		switch {
		case i == 0:
		case column+1+n > most:
			b.WriteString("\n")
			column = 0
		default:
			b.WriteString(" ")
			column++
		}
		b.WriteString(word)
		column += n
	}
	return b.String()
}

// Text gives the explanation of a rule of the family by its full name.
func (f Family) Text(name string) (Text, error) {
	_, file, _ := strings.Cut(name, "/")
	raw, err := f.Texts.ReadFile(file + ".md")
	if err != nil {
		return Text{}, err
	}
	return parseText(string(raw))
}

// parseText reads a rule's file: a title, the parts What, Why, Do, Source, Wrong and Right under headings of level 2, and the
// examples in fences of four backticks, "````" or "```` make-safe.md".
func parseText(raw string) (Text, error) {
	var t Text
	part, body := "", []string{}
	var example *Example
	flush := func() {
		text := strings.TrimSpace(strings.Join(body, "\n"))
		switch part {
		case "What":
			t.What = text
		case "Why":
			t.Why = text
		case "Do":
			t.Do = text
		case "Source":
			t.Source = text
		}
		body = nil
	}
	for line := range strings.Lines(raw) {
		line = strings.TrimSuffix(line, "\n")
		switch {
		case strings.HasPrefix(line, "````") && example == nil:
			name := strings.TrimSpace(strings.TrimPrefix(line, "````"))
			if name == "" {
				name = "job.md"
			}
			example = &Example{Name: name}
		case strings.HasPrefix(line, "````"):
			if part == "Wrong" {
				t.Wrong = append(t.Wrong, *example)
			} else {
				t.Right = append(t.Right, *example)
			}
			example = nil
		case example != nil:
			example.Text += line + "\n"
		case strings.HasPrefix(line, "# "):
			t.Title = strings.TrimPrefix(line, "# ")
		case strings.HasPrefix(line, "## "):
			flush()
			part = strings.TrimPrefix(line, "## ")
		default:
			body = append(body, line)
		}
	}
	flush()
	for what, s := range map[string]string{"title": t.Title, "What": t.What, "Why": t.Why, "Do": t.Do, "Source": t.Source} {
		if s == "" {
			return t, fmt.Errorf("the text has no %s", what)
		}
	}
	if len(t.Wrong) == 0 || len(t.Right) == 0 {
		return t, fmt.Errorf("the text has no wrong or no right example")
	}
	return t, nil
}

// Want is an expected finding, marked at the end of its line.
type Want struct {
	Line int
	Rule string
}

// CutMarks takes the marks `<!-- want family/name -->` off the lines of a case and tells what they want. They are cut before
// anything else sees the file, so they work in tables and front matter too.
func CutMarks(raw []byte) (clean []byte, wants []Want) {
	lines := strings.Split(string(raw), "\n")
	for i, line := range lines {
		for {
			at := strings.LastIndex(line, "<!-- want ")
			if at < 0 {
				break
			}
			end := strings.Index(line[at:], "-->")
			if end < 0 {
				break
			}
			name := strings.TrimSpace(line[at+len("<!-- want ") : at+end])
			wants = append(wants, Want{i + 1, name})
			line = strings.TrimRight(line[:at], " ") + line[at+end+len("-->"):]
		}
		lines[i] = line
	}
	return []byte(strings.Join(lines, "\n")), wants
}
