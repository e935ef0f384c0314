package document

// Reference is a paper to hang up beside the desk: short entries in columns, on as few sheets as they need.
type Reference struct {
	Header Header
	Foot   Foot
	Parts  []ReferencePart
}

// ReferencePart is one part of it: a heading, a few words after it, lines of source as they are typed, and entries. Beside
// asks for the terms in a column of their own; else each stands at the head of what is said of it.
type ReferencePart struct {
	Title, Help string
	Source      []string
	Entries     []ReferenceEntry
	Beside      bool
}

// ReferenceEntry is one entry: a term, and what is said of it. Typed is what is typed at the keyboard, for an example.
type ReferenceEntry struct{ Term, Text, Typed string }
