package resolve

import (
	"testing"

	"refitcard/compiler/library"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// A layout or a stack may stand among the declarations, also in front of the parts that it names.
func TestDrawingsAmongTheDeclarations(t *testing.T) {
	const text = "---\ntitle: T\nnumber: N\nrevision: A\n---\n\n## Tools\n\n- hoist, 50 kg\n\n```layout cover\na  b\na = cover bolt, b = long bolt\n```\n\n" +
		"```stack pack 3..4 mm\n1 cover bolt\n```\n\n## Parts\n\n| Part | Qty |\n|:--|--:|\n| cover bolt | 1 |\n| long bolt | 1 |\n\n## Work\n\n1. {Remove the cover bolt}.\n"
	settings := &library.Settings{Verbs: verb.Standard()}
	p, _ := Resolve(Input{Main: syntax.Parse(source.New("case.md", "case.md", []byte(text)), settings.Verbs), Settings: settings})
	if len(p.Layouts) != 1 || len(p.Layouts[0].Parts) != 2 || p.Layouts[0].Parts[1].Name.Value != "long bolt" {
		t.Errorf("layouts: %+v", p.Layouts)
	}
	if len(p.Stacks) != 1 || len(p.Stacks[0].Layers) != 1 || p.Stacks[0].Layers[0].Part == nil {
		t.Errorf("stacks: %+v", p.Stacks)
	}
}
