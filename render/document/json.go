package document

import (
	"encoding/json"
	"reflect"
	"strings"

	"refitcard/compiler/source"
)

// JSON gives the content of a card as JSON, indented by one space: "header", "foot", "language", "blocks", "end". Each
// block has its type under "block". Pictures are left out: they stand on the card. So are the places of the source.
func (c *JobCard) JSON() ([]byte, error) {
	type named struct {
		Block   string `json:"block"`
		Content any    `json:"content"`
	}
	out := struct {
		Header   any     `json:"header"`
		Foot     any     `json:"foot"`
		Language string  `json:"language"`
		Blocks   []named `json:"blocks"`
		End      any     `json:"end"`
	}{Header: plain(c.Header), Foot: plain(c.Foot), Language: c.Language, Blocks: []named{}, End: plain(c.End)}
	for _, b := range c.Blocks {
		name := strings.ToLower(reflect.TypeOf(b).Name())
		out.Blocks = append(out.Blocks, named{name, plain(b)})
	}
	return json.MarshalIndent(out, "", " ")
}

// plain turns a block into maps and lists with lower-case keys, without what is empty and without pictures.
func plain(v any) any {
	r := reflect.ValueOf(v)
	for r.Kind() == reflect.Pointer || r.Kind() == reflect.Interface {
		if r.IsNil() {
			return nil
		}
		r = r.Elem()
	}
	switch r.Kind() {
	case reflect.Struct:
		m := map[string]any{}
		for i := range r.NumField() {
			f := r.Field(i)
			if f.IsZero() || f.Type() == reflect.TypeFor[[]byte]() || f.Type() == reflect.TypeFor[source.Span]() {
				continue
			}
			if p := plain(f.Interface()); p != nil {
				m[key(r.Type().Field(i).Name)] = p
			}
		}
		return m
	case reflect.Slice:
		list := []any{}
		for i := range r.Len() {
			item := plain(r.Index(i).Interface())
			if m, ok := item.(map[string]any); ok && r.Type().Elem().Kind() == reflect.Interface {
				m["block"] = strings.ToLower(r.Index(i).Elem().Type().Name())
			}
			list = append(list, item)
		}
		return list
	}
	return r.Interface()
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
