// Package source holds files, spans and faults: which file, which bytes, which line.
// A byte offset is the only position that is stored.
package source

import (
	"bytes"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"
)

// File is one source file. Text has no byte order mark; Mark tells how many bytes were cut off for it.
type File struct {
	Name string // as it is shown to people: slash-separated, as the user named it
	Path string // slash-separated, relative to the root of the library
	Text []byte
	Mark int // bytes of byte order mark that stood before Text: 0 or 3

	whole string // Text once more, so that no span has to copy its piece of it
	lines []int  // offsets of line starts
}

// New makes a file from raw bytes and strips a UTF-8 byte order mark.
func New(name, path string, raw []byte) *File {
	f := &File{Name: name, Path: path, Text: raw}
	if cut, ok := bytes.CutPrefix(raw, []byte(byteOrderMark)); ok {
		f.Text, f.Mark = cut, 3
	}
	f.whole = string(f.Text)
	f.lines = lineStarts(f.whole)
	return f
}

// lineStarts finds where lines begin. A lone CR ends a line for editors; a CR before LF does not end a second one.
func lineStarts(text string) []int {
	starts := append(make([]int, 0, 1+strings.Count(text, "\n")), 0)
	if strings.Count(text, "\r") == strings.Count(text, "\r\n") { // nearly always: then a whole line is gone over at a time
		for at := 0; ; {
			i := strings.IndexByte(text[at:], '\n')
			if i < 0 {
				return starts
			}
			at += i + 1
			starts = append(starts, at)
		}
	}
	for i := range len(text) {
		if c := text[i]; c == '\n' || c == '\r' && (i+1 == len(text) || text[i+1] != '\n') {
			starts = append(starts, i+1)
		}
	}
	return starts
}

const byteOrderMark = "\xef\xbb\xbf"

// Raw gives the file byte for byte, with the byte order mark that was cut off. A caller must not write to it.
func (f *File) Raw() []byte {
	if f.Mark == 0 {
		return f.Text
	}
	return slices.Concat([]byte(byteOrderMark), f.Text)
}

// Span is a piece of a file, from Start up to but without End, in bytes of File.Text.
// The zero Span has no file and stands for "nowhere".
type Span struct {
	File       *File
	Start, End int
}

// At makes a span of f, clamped to its text.
func (f *File) At(start, end int) Span {
	start = min(max(start, 0), len(f.Text))
	return Span{f, start, min(max(end, start), len(f.Text))}
}

// Text is what stands in the span; empty for the zero Span.
func (s Span) Text() string {
	if s.File == nil {
		return ""
	}
	return s.File.whole[s.Start:s.End]
}

// Known tells whether the span has a file.
func (s Span) Known() bool { return s.File != nil }

// Holds tells whether t lies wholly inside s.
func (s Span) Holds(t Span) bool {
	return s.File == t.File && s.Start <= t.Start && t.End <= s.End
}

// To is the span from the start of s to the end of t, which is in the same file.
func (s Span) To(t Span) Span { return Span{s.File, s.Start, t.End} }

// Line is the number of the line that holds offset, from 1.
func (f *File) Line(offset int) int {
	return sort.SearchInts(f.lines, offset+1)
}

// LineSpan is the text of line n (from 1), without its line end.
func (f *File) LineSpan(n int) Span {
	if n < 1 || n > len(f.lines) {
		return f.At(len(f.Text), len(f.Text))
	}
	start, end := f.lines[n-1], len(f.Text)
	if n < len(f.lines) {
		end = f.lines[n]
	}
	for end > start && (f.Text[end-1] == '\n' || f.Text[end-1] == '\r') {
		end--
	}
	return f.At(start, end)
}

// Position is a place for people: line and column from 1, the column in code points.
type Position struct{ Line, Column int }

// Position gives line and column of offset, in code points.
func (f *File) Position(offset int) Position {
	n := f.Line(offset)
	return Position{n, utf8.RuneCount(f.Text[f.lines[n-1]:min(offset, len(f.Text))]) + 1}
}

// Column16 gives the column of offset from 1 in UTF-16 code units, as editors count.
func (f *File) Column16(offset int) int {
	n, units := f.Line(offset), 1
	for _, r := range string(f.Text[f.lines[n-1]:min(offset, len(f.Text))]) {
		units++
		if r > 0xffff {
			units++
		}
	}
	return units
}

// Lines is the number of lines.
func (f *File) Lines() int { return len(f.lines) }

// Related is a second place that a fault or a finding points to, with a few words on it.
type Related struct {
	At    Span
	Words string
	Step  int // number of the step it stands in, 0 when there is none
}

// Fault is what a stage before the rules found: a name, a place and the words it turns on.
// Its sentence is written once, by the rule of that name.
type Fault struct {
	Name    string // the permanent name of the finding, such as "tag/unclosed"
	At      Span
	Words   []string // what the sentence needs, in the order that the rule of that name documents
	Counts  []int    // figures that the sentence needs, likewise
	Related []Related
	Step    int    // number of the step, 0 when there is none
	Variant string // the variant in whose play it was met, empty for all
	Thing   string // the declared name it is about, for waivers that name one
}
