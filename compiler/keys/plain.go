package keys

import (
	"strings"
	"unicode/utf8"

	"refitcard/compiler/source"
)

// plainReader reads the YAML that nearly every front matter is written in: a key a line, each with a word or words as they
// stand, words in quotation marks, or a list of such. It knows no more of YAML than that, and steps aside for the library
// where anything else stands; that takes many times as long. Where it reads, it gives what the library would have given.
type plainReader struct {
	file  *source.File
	text  string // all of it
	start int    // where it stands in the file
	next  int    // behind the line that was read last
}

// The limits on what is read plainly: to look for repeated keys takes time that grows with the square of their count, and the
// library takes a long line for no key.
const (
	maxPlain = 100 // keys
	maxKey   = 100 // bytes
)

// plain reads YAML of the plain shape. ok is false for any other.
func plain(f *source.File, at source.Span) (m *Map, ok bool) {
	r := plainReader{file: f, text: at.Text(), start: at.Start}
	m = &Map{At: at}
	for {
		from, to, more := r.line()
		if !more {
			return m, len(m.Entries) > 0
		}
		end := keyEnd(r.text[from:to])
		if end == 0 {
			return nil, false
		}
		e := Entry{Key: r.text[from : from+end], KeyAt: r.at(from, from+end)}
		if _, repeated := m.Get(e.Key); repeated || len(m.Entries) == maxPlain {
			return nil, false
		}
		if from += end + 1; from == to {
			e.Value, ok = r.block()
		} else {
			e.Value, ok = r.value(from, to)
		}
		if !ok {
			return nil, false
		}
		if m.Entries == nil {
			m.Entries = make([]Entry, 0, min(maxPlain, 1+strings.Count(r.text[to:], "\n")))
		}
		m.Entries = append(m.Entries, e)
	}
}

// at is the place in the file of text[from:to].
func (r *plainReader) at(from, to int) source.Span {
	return source.Span{File: r.file, Start: r.start + from, End: r.start + to}
}

// line gives the next line that is not empty, without the blanks behind it; more is false when there is none.
func (r *plainReader) line() (from, to int, more bool) {
	for r.next < len(r.text) {
		from, to = r.next, len(r.text)
		r.next = to
		if n := strings.IndexByte(r.text[from:], '\n'); n >= 0 {
			to = from + n
			r.next = to + 1
			if to > from && r.text[to-1] == '\r' {
				to--
			}
		}
		for to > from && r.text[to-1] == ' ' {
			to--
		}
		if from < to {
			return from, to, true
		}
	}
	return 0, 0, false
}

// keyEnd is the offset of the colon behind the key that a line begins with, with a blank or nothing behind it; 0 when it
// begins otherwise.
func keyEnd(line string) int {
	n := 0
	for n < min(len(line), maxKey) && (isWord(line[n]) || n > 0 && (line[n] == '_' || line[n] == '-')) {
		n++
	}
	if n < len(line) && line[n] == ':' && (n+1 == len(line) || line[n+1] == ' ') {
		return n
	}
	return 0
}

func isWord(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9'
}

// block reads the lines of a list, each with a dash, all set in alike.
func (r *plainReader) block() (v Value, ok bool) {
	margin := -1
	for {
		before := r.next
		from, to, more := r.line()
		dash := from
		for dash < to && r.text[dash] == ' ' {
			dash++
		}
		if !more || r.text[dash] != '-' {
			r.next = before
			return v, margin >= 0
		}
		if margin < 0 {
			margin = dash - from
			v = Value{Kind: Sequence, At: r.at(dash, dash)}
		}
		if dash-from != margin || dash+1 == to || r.text[dash+1] != ' ' {
			return v, false
		}
		item, fine := r.scalar(dash+1, to)
		if !fine {
			return v, false
		}
		v.List = append(v.List, item)
		v.At.End = item.At.End
	}
}

// value reads what stands behind a key: a scalar, or a list in brackets.
func (r *plainReader) value(from, to int) (v Value, ok bool) {
	for from < to && r.text[from] == ' ' {
		from++
	}
	if r.text[from] != '[' {
		return r.scalar(from, to)
	}
	inside := r.text[from+1 : to]
	if !strings.HasSuffix(inside, "]") || strings.ContainsAny(inside[:len(inside)-1], "[]{}:#\"'&*!|>%@`?") {
		return v, false
	}
	v = Value{Kind: Sequence, At: r.at(from, from)}
	for from, to = from+1, to-1; from <= to; {
		end := to
		if n := strings.IndexByte(r.text[from:to], ','); n >= 0 {
			end = from + n
		}
		stop := end
		for stop > from && r.text[stop-1] == ' ' {
			stop--
		}
		item, fine := r.scalar(from, stop)
		if !fine {
			return v, false
		}
		v.List = append(v.List, item)
		v.At.End = item.At.End
		from = end + 1
	}
	return v, true
}

// scalar reads words as they stand, or in quotation marks; blanks may stand before them.
func (r *plainReader) scalar(from, to int) (v Value, ok bool) {
	for from < to && r.text[from] == ' ' {
		from++
	}
	if from >= to {
		return v, false
	}
	v = Value{Text: r.text[from:to], At: r.at(from, to)}
	switch quote := r.text[from]; {
	case quote == '"' || quote == '\'':
		if to-from < 2 || r.text[to-1] != quote {
			return v, false
		}
		v.Text = r.text[from+1 : to-1]
		return v, readable(v.Text, false) && strings.IndexByte(v.Text, quote) < 0 && strings.IndexByte(v.Text, '\\') < 0
	case isWord(quote) || quote == '(' || quote >= utf8.RuneSelf:
		return v, readable(v.Text, true)
	}
	return v, false
}

// readable tells whether a text is of letters, figures and stops that mean nothing in YAML. Where it stands without quotation
// marks, a colon at the end of a word and a sharp at the start of one mean something.
func readable(s string, bare bool) bool {
	for i, c := range s {
		switch {
		case c < ' ' || 0x7e < c && c < 0xa0, c == '\u2028' || c == '\u2029', 0xd7ff < c: // 0xd7ff: what is not UTF-8 too
			return false
		case bare && c == ':' && (i+1 == len(s) || s[i+1] == ' '), bare && c == '#' && s[i-1] == ' ':
			return false
		}
	}
	return true
}
