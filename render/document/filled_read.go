package document

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// How large a filled record may be: its file in bytes, one text in characters, what is typed into a field of one line, one list in
// entries. The page lets nobody type more, and the largest card of the library fills a hundredth of the rest.
const (
	filledBytes = 4 << 20
	filledText  = 4000
	filledTyped = 200
	filledList  = 10000
)

// ReadFilled reads a filled record. It takes nothing that the page would not have written: a key that it does not know, one that
// stands twice, one that is missing, another schema, a control character. The errors are sentences for the person who named
// the file.
func ReadFilled(r io.Reader) (*Filled, error) {
	raw, err := io.ReadAll(io.LimitReader(r, filledBytes+1))
	if err != nil {
		return nil, err
	}
	switch {
	case len(raw) > filledBytes:
		return nil, errors.New("the file is larger than any filled record")
	case !utf8.Valid(raw):
		return nil, errors.New("the file is not UTF-8 text")
	}
	var head struct {
		Schema json.Number `json:"schema"`
		Kind   string      `json:"kind"`
	}
	if err := json.Unmarshal(raw, &head); err != nil {
		return nil, fmt.Errorf("the file is not JSON of a filled record: %s", plainJSON(err))
	}
	switch {
	case head.Kind != FilledKind:
		return nil, fmt.Errorf("the file does not say that it is a %q", FilledKind)
	case head.Schema.String() != fmt.Sprint(FilledSchema):
		return nil, fmt.Errorf("the file has the schema %q, and this program reads %d", head.Schema, FilledSchema)
	}
	f := &Filled{}
	d := json.NewDecoder(bytes.NewReader(raw))
	d.DisallowUnknownFields()
	if err := d.Decode(f); err != nil {
		return nil, fmt.Errorf("the file is not as the page saves it: %s", plainJSON(err))
	}
	if err := sameKeys(raw, f); err != nil {
		return nil, fmt.Errorf("the file is not as the page saves it: %w", err)
	}
	return f, f.sound()
}

// plainJSON takes the reader's own words off an error.
func plainJSON(err error) string {
	var kind *json.UnmarshalTypeError
	if errors.As(err, &kind) {
		return fmt.Sprintf("%q has the kind %q", kind.Field, kind.Value)
	}
	return strings.TrimPrefix(err.Error(), "json: ")
}

// sameKeys tells whether a text has the keys that f has when it is written, each once and no other. Written and read again, both
// are walked through side by side.
func sameKeys(raw []byte, f *Filled) error {
	again, err := json.Marshal(f)
	if err != nil {
		return err
	}
	return sameShape(json.NewDecoder(bytes.NewReader(raw)), json.NewDecoder(bytes.NewReader(again)))
}

// sameShape walks through two JSON texts: the same tokens, but for the order in which the keys of an object stand.
func sameShape(a, b *json.Decoder) error {
	x, err := shapeOf(a)
	if err != nil {
		return err
	}
	y, err := shapeOf(b)
	if err != nil {
		return err
	}
	if err := x.like(y, ""); err != nil {
		return err
	}
	if _, err := a.Token(); err != io.EOF {
		return errors.New("something stands behind its end")
	}
	return nil
}

// shape is a JSON value without its texts and figures: the keys of an object, the items of a list.
type shape struct {
	keys  map[string]shape
	items []shape
}

func shapeOf(d *json.Decoder) (shape, error) {
	t, err := d.Token()
	if err != nil {
		return shape{}, err
	}
	switch t {
	case json.Delim('{'):
		s := shape{keys: map[string]shape{}}
		for d.More() {
			k, err := d.Token()
			if err != nil {
				return s, err
			}
			name, _ := k.(string)
			if _, twice := s.keys[name]; twice {
				return s, fmt.Errorf("%q stands twice", name)
			}
			if s.keys[name], err = shapeOf(d); err != nil {
				return s, err
			}
		}
		_, err := d.Token()
		return s, err
	case json.Delim('['):
		s := shape{}
		for d.More() {
			item, err := shapeOf(d)
			if err != nil {
				return s, err
			}
			s.items = append(s.items, item)
		}
		_, err := d.Token()
		return s, err
	}
	return shape{}, nil
}

// like tells whether a value has all keys of another, by their exact names.
func (s shape) like(want shape, at string) error {
	for k, v := range want.keys {
		own, ok := s.keys[k]
		if !ok {
			return fmt.Errorf("%q is missing", strings.TrimPrefix(at+"."+k, "."))
		}
		if err := own.like(v, at+"."+k); err != nil {
			return err
		}
	}
	if len(s.keys) > len(want.keys) {
		return fmt.Errorf("%q has more keys than the page writes", strings.TrimPrefix(at, "."))
	}
	for i := range min(len(s.items), len(want.items)) {
		if err := s.items[i].like(want.items[i], at); err != nil {
			return err
		}
	}
	return nil
}

// sound tells whether texts and lists keep within their bounds, and verdicts are some that there are.
func (f *Filled) sound() error {
	for _, n := range []int{len(f.Boxes), len(f.Readings), len(f.Holds), len(f.Written), len(f.Ticks)} {
		if n > filledList {
			return fmt.Errorf("a list of %d entries is longer than any card has", n)
		}
	}
	for _, s := range f.typed() {
		if n := utf8.RuneCountInString(s); n > filledTyped || strings.Contains(s, "\n") {
			return fmt.Errorf("%.40q is longer than a field of the page takes", s)
		}
	}
	for _, s := range f.texts() {
		if n := utf8.RuneCountInString(s); n > filledText {
			return fmt.Errorf("a text of %d characters is longer than the page lets anyone type", n)
		}
		if strings.ContainsFunc(s, func(r rune) bool { return r != '\n' && unicode.IsControl(r) }) {
			return fmt.Errorf("there is a control character in %.40q", s)
		}
	}
	for _, r := range f.Readings {
		for _, v := range []FilledValue{r.Found, r.Left} {
			if !slices.Contains(Verdicts(), v.Verdict) {
				return fmt.Errorf("step %s: %.40q is no verdict", r.Step, v.Verdict)
			}
		}
	}
	return nil
}

// texts lists all that stands in a record as text.
func (f *Filled) texts() []string {
	c := f.Card
	all := append(f.typed(), c.Number, c.Revision, c.Variant, c.Title, c.Machine, c.Date, c.Digest, f.Saved, f.Remarks)
	for _, b := range f.Boxes {
		all = append(all, b.Label)
	}
	for _, r := range f.Readings {
		all = append(all, r.Step, r.Act, r.Place, r.Limits, r.Unit)
	}
	for _, h := range f.Holds {
		all = append(all, h.Step, h.For)
	}
	for _, w := range f.Written {
		all = append(all, w.Column)
	}
	for _, t := range f.Ticks {
		all = append(all, t.Step, t.Box)
	}
	return all
}

// typed lists what was typed into fields of one line.
func (f *Filled) typed() (all []string) {
	for _, b := range f.Boxes {
		all = append(all, b.Typed)
	}
	for _, r := range f.Readings {
		all = append(all, r.Found.Typed, r.Left.Typed)
	}
	for _, h := range f.Holds {
		all = append(all, h.Name, h.Time)
	}
	for _, w := range f.Written {
		all = append(all, w.Typed)
	}
	for _, t := range f.Ticks {
		if t.Ticked != nil {
			all = append(all, *t.Ticked)
		}
	}
	return append(all, f.Saved)
}
