package verb

import (
	"strings"
	"testing"
)

// Every row of the table says what it does, and shows a tag that its own spelling opens; nothing is told of that is no row.
func TestEveryVerbTellsOfItself(t *testing.T) {
	table := Standard()
	for _, v := range table.All() {
		does, example := v.About()
		if does == "" || len(does) > 100 {
			t.Errorf("%s says %q", v.Name, does)
		}
		opened, ok := strings.CutPrefix(example, "{")
		if got, n := table.Longest(strings.TrimSuffix(opened, "}")); !ok || n == 0 || got != v {
			t.Errorf("%s: the example %q is not of this verb", v.Name, example)
		}
	}
	for name := range about {
		if _, ok := table.Named(name); !ok {
			t.Errorf("%q is no verb and tells of itself", name)
		}
	}
	own, _ := table.With([][2]string{{"rig", "strike"}})
	rig, _ := own.Named("rig")
	if does, _ := rig.About(); does == "" {
		t.Error("a shop's own verb says nothing")
	}
}
