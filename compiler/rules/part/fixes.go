package part

import (
	"strconv"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// spellColumn offers the heading that was meant, unless the table has it already.
func spellColumn(f source.Fault) []diag.Fix {
	near := rules.WordAt(f, 1)
	line := f.At.File.LineSpan(f.At.File.Line(f.At.Start)).Text()
	for _, cell := range strings.Split(line, "|") {
		if strings.EqualFold(strings.TrimSpace(cell), near) {
			return nil
		}
	}
	return rules.SpellAs(f.At, f.Words[0], near, []string{near})
}

// spellPlace offers the relation with the declared name that was meant.
func spellPlace(j *rules.Job, f source.Fault) []diag.Fix {
	relation, meant, _ := strings.Cut(rules.WordAt(f, 1), " ")
	as, written, ok := strings.Cut(f.Words[0], " ")
	if !ok || !strings.EqualFold(as, relation) {
		return nil
	}
	at := f.At
	at.Start += strings.Index(at.Text(), " ") + 1
	return j.SpellName(at, written, meant, j.ThingNames())
}

// counted writes a part with its count in the place of its bare name: the article goes, "new" and "old" stay.
func counted(f source.Fault, n int, name string) string {
	marks, ok := strings.CutSuffix(f.At.Text(), f.Words[0])
	if !ok {
		return "" // the mark covers more than the name
	}
	words := []string{strconv.Itoa(n)}
	for _, m := range strings.Fields(marks) {
		switch strings.ToLower(m) {
		case "new", "old":
			words = append(words, m)
		}
	}
	return strings.Join(append(words, name), " ")
}
