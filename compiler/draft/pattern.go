package draft

import (
	"regexp"
	"strings"
	"sync"
)

// pattern is a regular expression that is compiled when it is first asked for: most runs of the program read no notes, and all of
// them would wait for it.
func pattern(expr string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expr) })
}

// A wordSet is a set of words that is made when it is first asked, for the same reason.
type wordSet func() map[string]bool

func (w wordSet) has(word string) bool { return w != nil && w()[word] }

// set holds the words of a text.
func set(text string) wordSet {
	return sync.OnceValue(func() map[string]bool { return setOf(strings.Fields(text)...)() })
}

// setOf holds words that may have blanks in them.
func setOf(words ...string) wordSet {
	return sync.OnceValue(func() map[string]bool {
		m := make(map[string]bool, len(words))
		for _, w := range words {
			m[w] = true
		}
		return m
	})
}
