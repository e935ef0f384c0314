package syntax

import (
	"strings"
	"testing"
)

// treeCase is a text and its tree. In both, ´ stands for a backtick and → for a tab.
type treeCase struct{ name, text, want string }

func typed(s string) string {
	return strings.NewReplacer("´", "`", "→", "\t").Replace(strings.TrimPrefix(s, "\n"))
}

// treeCases are all node kinds, each with the text that stands at its place: both ends of every span are held.
func treeCases() []treeCase { return append(proseCases(), blockCases()...) }

func TestTreePlaces(t *testing.T) {
	for _, c := range treeCases() {
		t.Run(c.name, func(t *testing.T) {
			tree := wantTree(t, typed(c.text), typed(c.want))
			if len(tree.Faults) > 0 {
				t.Errorf("the case has faults: %v", tree.Faults)
			}
		})
	}
}

// wantTree parses a text and holds its dump against the wanted one.
func wantTree(t *testing.T, text, want string) *Tree {
	t.Helper()
	tree := parse([]byte(text))
	var got strings.Builder
	tree.Dump(&got)
	if got.String() != want {
		t.Errorf("%q gave\n%s\nnot\n%s", text, got.String(), want)
	}
	wantSound(t, tree)
	return tree
}
