package refit

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/procedure"
)

// print gives the stage as text.
func (w *writer) print(idle []string) Stage {
	stage := Stage{Steps: len(w.steps)}
	var b strings.Builder
	b.WriteString("## Refit\n\n")
	for i, s := range w.steps {
		mark := fmt.Sprintf("%d. ", i+1)
		text := strings.Join(s.sentences, " ")
		if s.scope != "" {
			text = s.scope + lowerTag(text)
		}
		b.WriteString(mark + text + "\n")
		for _, q := range s.questions {
			stage.Questions++
			pad := strings.Repeat(" ", len(mark))
			b.WriteString("\n" + pad + "> question: " + q + "\n")
		}
		if len(s.questions) > 0 && i+1 < len(w.steps) {
			b.WriteString("\n")
		}
	}
	for _, ask := range w.asks {
		stage.Questions++
		b.WriteString("\n> question: " + ask + "\n")
	}
	if len(idle) > 0 {
		stage.Questions++
		b.WriteString("\n> question: where are these used, or do they come off the lists?\n")
		for some := range slices.Chunk(idle, 6) {
			b.WriteString("\nNot in any step yet: " + joinAnd(some) + ".\n")
		}
	}
	stage.Text = b.String()
	return stage
}

// lowerTag makes the first letter small, as it stands within a sentence.
func lowerTag(s string) string {
	if rest, ok := strings.CutPrefix(s, "{"); ok {
		return "{" + procedure.Small(rest)
	}
	return procedure.Small(s)
}
