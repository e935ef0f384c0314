package document

import (
	"bytes"
	"encoding/json"
	"reflect"
	"testing"

	"refitcard/compiler/source"
)

// full fills every field of a value, one entry in each list; text is in every string.
func full(r reflect.Value, text string) {
	switch r.Kind() {
	case reflect.Pointer:
		r.Set(reflect.New(r.Type().Elem()))
		full(r.Elem(), text)
	case reflect.Struct:
		for i := range r.NumField() {
			if r.Type() != reflect.TypeFor[source.Span]() {
				full(r.Field(i), text)
			}
		}
	case reflect.Slice:
		r.Set(reflect.MakeSlice(r.Type(), 1, 1))
		full(r.Index(0), text)
	case reflect.Interface: // a block within a block
		r.Set(reflect.ValueOf(Note{Runs: []Run{{Text: text}}}))
	case reflect.String:
		r.SetString(text)
	case reflect.Int:
		r.SetInt(-7)
	case reflect.Bool:
		r.SetBool(true)
	}
}

// What is written by hand is what encoding/json would write: valid, indented by one space, the words as they were.
func TestJSONIsAsTheStandardLibraryWritesIt(t *testing.T) {
	for _, text := range []string{"M8 × 25", `"a" \ b`, "<b>&amp;</b>", "a\tb\nc\x01", "\u2028 \u2029", "22 N·m, 90°"} {
		card := &JobCard{Language: text}
		full(reflect.ValueOf(&card.Header).Elem(), text)
		for _, b := range Blocks() {
			p := reflect.New(reflect.TypeOf(b))
			full(p.Elem(), text)
			card.Blocks = append(card.Blocks, p.Elem().Interface().(Block), b)
		}
		ours, err := card.JSON()
		if err != nil {
			t.Fatal(err)
		}
		var compact, theirs bytes.Buffer
		if err := json.Compact(&compact, ours); err != nil {
			t.Fatalf("%v\n%s", err, ours)
		}
		if err := json.Indent(&theirs, compact.Bytes(), "", " "); err != nil || !bytes.Equal(ours, theirs.Bytes()) {
			t.Errorf("indented otherwise (%v):\n%s", err, ours)
		}
		var read struct{ Header map[string]any }
		if err := json.Unmarshal(ours, &read); err != nil || read.Header["short_date"] != text {
			t.Errorf("the date %q comes back as %q (%v)", text, read.Header["short_date"], err)
		}
		quoted, _ := json.Marshal(text)
		if !bytes.Contains(ours, quoted) {
			t.Errorf("%q is not written as %s", text, quoted)
		}
	}
}
