package document

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"refitcard/compiler/source"
)

// JSON gives the content of a card as JSON, indented by one space: "header", "foot", "language", "blocks", "end". Each
// block has its type under "block". Pictures are left out: they stand on the card. So are the places of the source. Keys are
// in lower case and sorted below the first level, and what is empty is left out.
func (c *JobCard) JSON() ([]byte, error) {
	w := jsonWriter{b: make([]byte, 0, 640*(4+len(c.Blocks)))}
	w.open('{')
	w.member(`"header": `)
	w.value(reflect.ValueOf(c.Header), "")
	w.member(`"foot": `)
	w.value(reflect.ValueOf(c.Foot), "")
	w.member(`"language": `)
	w.text(c.Language)
	w.member(`"blocks": `)
	w.open('[')
	for _, b := range c.Blocks {
		r := reflect.ValueOf(b)
		w.member("")
		w.open('{')
		w.member(`"block": `)
		w.text(blockName(r))
		w.member(`"content": `)
		w.value(r, "")
		w.close('}')
	}
	w.close(']')
	w.member(`"end": `)
	w.value(reflect.ValueOf(c.End), "")
	w.close('}')
	return w.b, nil
}

// blockName is the name of a block's type: "torquetable".
func blockName(r reflect.Value) string { return strings.ToLower(r.Type().Name()) }

// jsonWriter writes JSON as encoding/json indents it.
type jsonWriter struct {
	b     []byte
	depth int
	begun bool // something stands in what is open
}

func (w *jsonWriter) open(bracket byte) {
	w.b = append(w.b, bracket)
	w.depth++
	w.begun = false
}

func (w *jsonWriter) close(bracket byte) {
	w.depth--
	if w.begun {
		w.line()
	}
	w.b = append(w.b, bracket)
	w.begun = true
}

// line begins a line.
func (w *jsonWriter) line() {
	w.b = append(w.b, '\n')
	for range w.depth {
		w.b = append(w.b, ' ')
	}
}

// member begins a member of what is open, with its key in an object.
func (w *jsonWriter) member(key string) {
	if w.begun {
		w.b = append(w.b, ',')
	}
	w.line()
	w.b = append(w.b, key...)
	w.begun = true
}

// value writes a value; one of several types has its type under "block".
func (w *jsonWriter) value(r reflect.Value, block string) {
	switch r.Kind() {
	case reflect.Pointer:
		w.value(r.Elem(), block)
	case reflect.Struct:
		w.object(r, block)
	case reflect.Slice:
		w.open('[')
		for i := range r.Len() {
			w.member("")
			item, block := r.Index(i), ""
			if item.Kind() == reflect.Interface {
				item = item.Elem()
				block = blockName(item)
			}
			w.value(item, block)
		}
		w.close(']')
	case reflect.String:
		w.text(r.String())
	case reflect.Int:
		w.b = strconv.AppendInt(w.b, r.Int(), 10)
	case reflect.Bool:
		w.b = strconv.AppendBool(w.b, r.Bool())
	default:
		panic(fmt.Sprintf("document: no way to write a %s as JSON", r.Type())) // a slip of this package
	}
}

func (w *jsonWriter) object(r reflect.Value, block string) {
	w.open('{')
	for _, m := range membersOf(r.Type()) {
		if m.index < 0 {
			if block != "" {
				w.member(m.key)
				w.text(block)
			}
			continue
		}
		if f := r.Field(m.index); !f.IsZero() {
			w.member(m.key)
			w.value(f, "")
		}
	}
	w.close('}')
}

// text writes a string. What has to be escaped is left to encoding/json.
func (w *jsonWriter) text(s string) {
	if simple(s) {
		w.b = append(append(append(w.b, '"'), s...), '"')
		return
	}
	quoted, _ := json.Marshal(s) // a string has no way to fail
	w.b = append(w.b, quoted...)
}

// simple tells whether a string stands in JSON as it is. encoding/json escapes some signs for the sake of HTML too.
func simple(s string) bool {
	wide := false
	for i := range len(s) {
		switch c := s[i]; {
		case c < ' ' || c == '"' || c == '\\' || c == '<' || c == '>' || c == '&':
			return false
		case c >= utf8.RuneSelf:
			wide = true
		}
	}
	return !wide || utf8.ValidString(s) && !strings.ContainsAny(s, "\u2028\u2029")
}

// member is a field of a block by its key; an index below 0 is the place of the type's name.
type member struct {
	key   string // `"short_date": `
	index int
}

// members are the fields of each type, sorted by key: worked out once.
var members sync.Map

func membersOf(t reflect.Type) []member {
	if all, ok := members.Load(t); ok {
		return all.([]member)
	}
	all := []member{{`"block": `, -1}}
	for i := range t.NumField() {
		switch f := t.Field(i); f.Type {
		case reflect.TypeFor[[]byte](), reflect.TypeFor[source.Span]():
		default:
			all = append(all, member{`"` + key(f.Name) + `": `, i})
		}
	}
	slices.SortFunc(all, func(a, b member) int { return strings.Compare(a.key, b.key) })
	members.Store(t, all)
	return all
}

// key turns ShortDate into short_date.
func key(name string) string {
	var b strings.Builder
	for i, r := range name {
		if 'A' <= r && r <= 'Z' {
			if i > 0 {
				b.WriteByte('_')
			}
			r += 'a' - 'A'
		}
		b.WriteRune(r)
	}
	return b.String()
}
