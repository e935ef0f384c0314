// Package keys reads strict YAML for front matter and settings. It is the only home of the YAML library.
package keys

import "refitcard/compiler/source"

// Kind tells what a value is.
type Kind int

// The kinds of a value.
const (
	Scalar Kind = iota
	Sequence
	Mapping
)

// Value is one value as it was typed: 1.10 and 012 keep their digits.
type Value struct {
	Kind Kind
	Text string      // of a scalar
	At   source.Span // of the value; for sequences and mappings from the first to the last entry
	List []Value     // of a sequence
	Map  *Map        // of a mapping
}

// Entry is one key with its value.
type Entry struct {
	Key   string
	KeyAt source.Span
	Value Value
}

// Map is a mapping in the order of the file. A repeated key stands in it once, the first time; the repeats are in Repeated.
type Map struct {
	At       source.Span
	Entries  []Entry
	Repeated []Entry
}

// Get finds an entry by its key.
func (m *Map) Get(key string) (Entry, bool) {
	if m != nil {
		for _, e := range m.Entries {
			if e.Key == key {
				return e, true
			}
		}
	}
	return Entry{}, false
}
