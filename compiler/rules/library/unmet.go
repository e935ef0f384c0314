package library

import (
	"fmt"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

// unmet reports states that no neighbour of the library has on its list.
func unmet(j *rules.Job, acts []*procedure.Act, neighbours []procedure.Text, list func(library.Entry) []string, message, do string) []diag.Finding {
	if j.Register == nil {
		return nil
	}
	have := map[string]bool{}
	for _, n := range neighbours {
		for _, e := range j.Register.Numbered(n.Value) {
			for _, s := range list(e) {
				have[key(s)] = true
			}
		}
	}
	var all []diag.Finding
	for _, a := range acts {
		if have[key(a.Words)] || a.Broken {
			continue
		}
		all = append(all, diag.Finding{At: a.At, Message: fmt.Sprintf(message, a.Words), Do: do})
	}
	return all
}

// key compares states without regard to articles.
func key(s string) string {
	var words []byte
	for _, w := range strings.Fields(procedure.Fold(s)) {
		if w != "the" && w != "a" && w != "an" {
			words = append(append(words, w...), ' ')
		}
	}
	return string(words)
}
