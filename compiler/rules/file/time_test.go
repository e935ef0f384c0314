package file

import (
	"testing"

	"refitcard/compiler/library"
	"refitcard/compiler/resolve"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

func TestClock(t *testing.T) {
	for _, c := range []struct{ intent, steps, want string }{
		{"hands-on times and waits add up", "1. {Clean the guide}. {Takes 20 min}\n2. {Wait 10 min}.\n", "30 min"},
		{"a wait runs while work goes on", "1. {Start the cure, 30 min}.\n2. {Clean the guide}. {Takes 20 min}\n3. {Await the cure}.\n", "30 min"},
		{"a wait that is over when it is awaited", "1. {Start the cure, 10 min}.\n2. {Clean the guide}. {Takes 20 min}\n3. {Await the cure}.\n", "20 min"},
		{"a condition may save its time", "1. {Clean the guide}. {Takes 20 min}\n2. {If it is dry}: {lubricate the guide}. {Takes 5 min}\n", "20 min to 25 min"},
		{"a repeat may multiply it", "1. {Repeat 3 times}: {clean the guide}. {Takes 20 min}\n", "20 min to 60 min"},
		{"until something holds there is no most", "1. {Repeat until it is clean}: {clean the guide}. {Takes 20 min}\n", "20 min at least"},
		{"from two hours up in hours", "1. {Clean the guide}. {Takes 150 min}\n", "2.5 h"},
		{"a step without its time", "1. {Clean the guide}. {Takes 20 min}\n2. {Tell the control room}.\n", ""},
	} {
		verbs := verb.Standard()
		text := "---\ntitle: T\nnumber: N\nrevision: A\n---\n\n## Work\n\n" + c.steps
		tree := syntax.Parse(source.New("case.md", "case.md", []byte(text)), verbs)
		p, _ := resolve.Resolve(resolve.Input{Main: tree, Settings: &library.Settings{Verbs: verbs}})
		got := ""
		if x := newClock(p, ""); x.known {
			got = x.words()
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.intent, got, c.want)
		}
	}
}
