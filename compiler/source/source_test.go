package source_test

import (
	"strings"
	"testing"
	"unicode/utf16"

	"pgregory.net/rapid"

	"refitcard/compiler/source"
)

// pieces are what a file is made of at random: all line ends, wide characters, characters beyond U+FFFF, broken UTF-8.
var pieces = []string{"a", " ", "\t", "\r", "\n", "\r\n", "é", "漢", "𝄞", "\xff", "\xef\xbb\xbf"}

func anyText(t *rapid.T) string {
	return strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 40).Draw(t, "text"), "")
}

// splitLines is a second way to cut a text into lines, by replacing the line ends.
func splitLines(s string) []string {
	return strings.Split(strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n"), "\n")
}

func TestLinesAreThoseOfAnEditor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		raw := anyText(t)
		f := source.New("a.md", "a.md", []byte(raw))
		want := splitLines(string(f.Text))
		if f.Lines() != len(want) {
			t.Fatalf("%q has %d lines, want %d", f.Text, f.Lines(), len(want))
		}
		for i, w := range want {
			if got := f.LineSpan(i + 1).Text(); got != w {
				t.Errorf("%q: line %d is %q, want %q", f.Text, i+1, got, w)
			}
		}
		if got := f.LineSpan(len(want) + 1); got.Start != len(f.Text) || got.End != len(f.Text) {
			t.Errorf("a line after the last is at %d to %d", got.Start, got.End)
		}
	})
}

func TestPositionsCountWhatTheirReadersCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := source.New("a.md", "a.md", []byte(anyText(t)))
		offset := 0
		for n := 1; n <= f.Lines(); n++ {
			span := f.LineSpan(n)
			line := span.Text()
			for i := range line {
				runes := []rune(line[:i])
				if got, want := f.Position(span.Start+i), (source.Position{Line: n, Column: len(runes) + 1}); got != want {
					t.Errorf("%q at %d: %v, want %v", f.Text, span.Start+i, got, want)
				}
				if got, want := f.Column16(span.Start+i), len(utf16.Encode(runes))+1; got != want {
					t.Errorf("%q at %d: column %d for editors, want %d", f.Text, span.Start+i, got, want)
				}
			}
			if span.Start < offset {
				t.Errorf("%q: line %d begins at %d, before the end of the one above", f.Text, n, span.Start)
			}
			offset = span.End
		}
	})
}

func TestRawIsTheFileByteForByte(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		raw := anyText(t)
		f := source.New("a.md", "a.md", []byte(raw))
		if got := string(f.Raw()); got != raw {
			t.Errorf("%q came back as %q", raw, got)
		}
		if strings.HasPrefix(raw, "\xef\xbb\xbf") != (f.Mark == 3) {
			t.Errorf("%q: a mark of %d bytes was cut off", raw, f.Mark)
		}
	})
}

func TestSpansStayInsideTheirFile(t *testing.T) {
	f := source.New("a.md", "a.md", []byte("slack"))
	for _, c := range []struct {
		start, end int
		want       string
	}{{0, 5, "slack"}, {1, 3, "la"}, {-4, 2, "sl"}, {3, 99, "ck"}, {4, 2, ""}, {9, 12, ""}} {
		if got := f.At(c.start, c.end).Text(); got != c.want {
			t.Errorf("%d to %d is %q, want %q", c.start, c.end, got, c.want)
		}
	}
	if (source.Span{}).Known() || (source.Span{}).Text() != "" {
		t.Error("the zero span has a file or a text")
	}
	other := source.New("b.md", "b.md", []byte("slack"))
	whole := f.At(0, 5)
	for at, want := range map[source.Span]bool{f.At(1, 3): true, whole: true, other.At(1, 3): false, f.At(0, 0): true} {
		if whole.Holds(at) != want || f.At(1, 3).Holds(whole) {
			t.Errorf("%v is held: %v, want %v", at, !want, want)
		}
	}
	if got := f.At(1, 2).To(f.At(4, 5)).Text(); got != "lack" {
		t.Errorf("from one span to another is %q", got)
	}
}

// The digest is pinned to what two other programs give: sha256sum, and base32 of GNU coreutils over its first five bytes.
//
//	printf abc | sha256sum | xxd -r -p | head -c 5 | base32     # XJ4BNP4P
func TestDigestIsTheOneOfOtherPrograms(t *testing.T) {
	whole := source.New("a.md", "a.md", []byte("abc"))
	first, second := source.New("b.md", "b.md", []byte("ab")), source.New("c.md", "c.md", []byte("c"))
	if got := source.Digest(whole); got != "XJ4BNP4P" {
		t.Errorf("digest %s", got)
	}
	if got := source.Digest(first, second); got != source.Digest(whole) {
		t.Errorf("two files in order give %s", got)
	}
	marked := source.New("a.md", "a.md", []byte("\xef\xbb\xbfabc"))
	if source.Digest(marked) == source.Digest(whole) {
		t.Error("a byte order mark is not in the digest")
	}
}

func TestWidthOnATerminal(t *testing.T) {
	for s, want := range map[string]int{"": 0, "nut": 3, "Müller": 6, "Mu\u0308ller": 6, "漢字": 4, "M８": 3, "a\u200db": 2} {
		if got := source.Width(s); got != want {
			t.Errorf("%q is %d columns wide, want %d", s, got, want)
		}
	}
}
