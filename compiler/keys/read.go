package keys

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"refitcard/compiler/source"
)

// Read reads the YAML that stands at a place of a file. It gives the mapping as far as it could be read, never nil, and
// the faults it met: broken YAML is one file/bad-value at its line.
func Read(f *source.File, at source.Span) (*Map, []source.Fault) {
	if m, ok := plain(f, at); ok {
		return m, nil
	}
	return thorough(f, at)
}

// thorough reads any YAML, with the library.
func thorough(f *source.File, at source.Span) (*Map, []source.Fault) {
	r := &reader{file: f, at: at, first: f.Line(at.Start)}
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(at.Text()), &doc); err != nil {
		r.broken(err)
		return &Map{At: at}, r.faults
	}
	if len(doc.Content) == 0 {
		return &Map{At: at}, nil
	}
	v := r.value(doc.Content[0])
	if v.Kind != Mapping {
		r.bad(v.At, "", cut(v.At.Text()), "lines such as title: Reseal the end cover")
		return &Map{At: at}, r.faults
	}
	v.Map.At = at
	return v.Map, r.faults
}

type reader struct {
	file   *source.File
	at     source.Span
	first  int // the line of the file that the YAML's line 1 is
	faults []source.Fault

	line, column int // the last place that was asked for,
	reached      int // and its offset
}

func (r *reader) bad(at source.Span, words ...string) {
	r.faults = append(r.faults, source.Fault{Name: "file/bad-value", At: at, Words: words})
}

var yamlLine = regexp.MustCompile(`line (\d+)`)

// broken says where the YAML breaks, in words that need no knowledge of YAML. The library often names a line too early or
// none at all, so each key is read by itself first: the first one that can't be read is the one to mend.
func (r *reader) broken(err error) {
	line := r.first
	if m := yamlLine.FindStringSubmatch(err.Error()); m != nil {
		n, _ := strconv.Atoi(m[1])
		line = r.first + n - 1
	}
	last := r.file.Line(max(r.at.End-1, r.at.Start))
	for begin := r.first; begin <= last; {
		end := begin + 1
		for end <= last && !opens(r.part(end, end+1).Text()) {
			end++
		}
		var doc yaml.Node
		if yaml.Unmarshal([]byte(r.part(begin, end).Text()), &doc) != nil {
			line = begin
			break
		}
		begin = end
	}
	at := r.part(min(line, last), min(line, last)+1)
	at = r.file.At(at.Start, at.Start+len(strings.TrimRight(at.Text(), "\r\n")))
	r.bad(at, "", cut(at.Text()), "lines such as title: Reseal the end cover; put quotation marks around a value with a colon in it")
}

// part is what was read, from line begin up to but without line end.
func (r *reader) part(begin, end int) source.Span {
	start, stop := r.file.LineSpan(begin).Start, r.file.LineSpan(end).Start
	return r.file.At(max(start, r.at.Start), min(stop, r.at.End))
}

// opens tells whether a line begins a key of its own: it is neither set in, nor an entry of a list, nor a closing bracket,
// nor a note.
func opens(line string) bool {
	return line != "" && !strings.ContainsRune(" \t\r\n#-]}", rune(line[0]))
}

// offset turns the library's line and column (runes, from 1) into bytes of the file. Most nodes stand behind the one before
// on its line, so that the columns are counted on from there: a line of thousands of nodes is read once.
func (r *reader) offset(n *yaml.Node) int {
	line := r.file.LineSpan(r.first + n.Line - 1)
	if n.Line != r.line || n.Column < r.column {
		r.line, r.column, r.reached = n.Line, 1, line.Start
		if n.Line == 1 {
			r.reached = r.at.Start
		}
	}
	for r.column < n.Column && r.reached < line.End {
		_, size := utf8.DecodeRune(r.file.Text[r.reached:line.End])
		r.reached += size
		r.column++
	}
	if r.column < n.Column {
		return line.End
	}
	return r.reached
}

func (r *reader) value(n *yaml.Node) Value {
	start := r.offset(n)
	if n.Kind == yaml.AliasNode || n.Anchor != "" || n.Style&yaml.TaggedStyle != 0 {
		at := r.file.At(start, r.file.LineSpan(r.file.Line(start)).End)
		r.bad(at, "", cut(at.Text()), "a plain value: marks such as & * ! are not read here; put quotation marks around it")
		return Value{Kind: Scalar, At: at}
	}
	switch n.Kind {
	case yaml.MappingNode:
		return r.mapping(n, start)
	case yaml.SequenceNode:
		v := Value{Kind: Sequence, At: r.file.At(start, start)}
		for _, c := range n.Content {
			e := r.value(c)
			v.List = append(v.List, e)
			v.At = v.At.To(e.At)
		}
		return v
	}
	return Value{Kind: Scalar, Text: n.Value, At: r.scalar(n, start)}
}

func (r *reader) mapping(n *yaml.Node, start int) Value {
	m := &Map{At: r.file.At(start, start)}
	seen := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := r.value(n.Content[i])
		e := Entry{key.Text, key.At, r.value(n.Content[i+1])}
		m.At = m.At.To(e.Value.At)
		if seen[e.Key] {
			m.Repeated = append(m.Repeated, e)
			continue
		}
		seen[e.Key] = true
		m.Entries = append(m.Entries, e)
	}
	return Value{Kind: Mapping, Map: m, At: m.At}
}

// scalar works out where a scalar ends: the library gives only its start.
func (r *reader) scalar(n *yaml.Node, start int) source.Span {
	line := r.file.LineSpan(r.file.Line(start))
	rest := string(r.file.Text[start:line.End])
	switch n.Style {
	case yaml.DoubleQuotedStyle, yaml.SingleQuotedStyle:
		for i := 1; i < len(rest); i++ {
			if rest[i] == '\\' && rest[0] == '"' {
				i++
			} else if rest[i] == rest[0] {
				return r.file.At(start, start+i+1)
			}
		}
	case 0:
		if strings.HasPrefix(rest, n.Value) {
			return r.file.At(start, start+len(n.Value))
		}
	}
	return r.file.At(start, start+len(strings.TrimRight(rest, " \t")))
}

func cut(s string) string {
	s = strings.TrimSpace(s)
	if len(s) > 40 {
		return strings.ToValidUTF8(s[:40], "") + "…"
	}
	return s
}

// Date tells whether s is a day of the calendar as ISO 8601 writes it, such as 2026-11-20.
func Date(s string) bool {
	t, err := time.Parse(time.DateOnly, s)
	return err == nil && t.Format(time.DateOnly) == s
}

// String shows a value in one line, for tests.
func (v Value) String() string {
	switch v.Kind {
	case Sequence:
		var parts []string
		for _, e := range v.List {
			parts = append(parts, e.String())
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case Mapping:
		var parts []string
		for _, e := range v.Map.Entries {
			parts = append(parts, e.Key+": "+e.Value.String())
		}
		return "{" + strings.Join(parts, ", ") + "}"
	}
	return fmt.Sprintf("%q", v.Text)
}
