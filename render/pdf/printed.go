package pdf

import (
	"strings"

	"refitcard/compiler/letters"
	"refitcard/render/faces"
)

// Printed gives the strings that stand on the first page of a PDF file that this package wrote, in the order in which they
// are drawn: what people read, and not what the file says of itself elsewhere. It fails as Attached does.
func Printed(pdf []byte) ([]string, error) {
	f, err := open(pdf)
	if err != nil {
		return nil, err
	}
	page, data, err := f.firstPage()
	if err != nil {
		return nil, err
	}
	sets, err := f.sets(page["Resources"])
	if err != nil {
		return nil, err
	}
	return drawnStrings(data, sets)
}

// firstPage gives the dictionary of the first page and the operators on it, unpacked.
func (f *file) firstPage() (dict, []byte, error) {
	root, err := f.dict(f.trailer["Root"])
	if err != nil {
		return nil, nil, err
	}
	pages, err := f.dict(root["Pages"])
	if err != nil {
		return nil, nil, err
	}
	kids, _ := pages["Kids"].(array)
	if len(kids) == 0 {
		return nil, nil, errShort
	}
	page, err := f.dict(kids[0])
	if err != nil {
		return nil, nil, err
	}
	v, err := f.get(page["Contents"])
	if err != nil {
		return nil, nil, err
	}
	content, ok := v.(stream)
	if !ok {
		return nil, nil, errShort
	}
	data, err := unpack(content, mostBytes)
	return page, data, err
}

// sets tells which set of characters stands behind each name of a font.
func (f *file) sets(resources any) (map[name]letters.Set, error) {
	d, err := f.dict(resources)
	if err != nil {
		return nil, err
	}
	fonts, err := f.dict(d["Font"])
	if err != nil {
		return nil, err
	}
	out := map[name]letters.Set{}
	for key, v := range fonts {
		font, err := f.dict(v)
		if err != nil {
			return nil, err
		}
		base, _ := font["BaseFont"].(name)
		if known, ok := faces.Named(string(base)); ok {
			out[key] = known.Set
		}
	}
	return out, nil
}

// drawnStrings gives the strings that are drawn by the operator Tj (ISO 32000-1, 9.4.3): those of one text together.
func drawnStrings(content []byte, sets map[name]letters.Set) ([]string, error) {
	var all []string
	var text strings.Builder
	var last words
	var font name
	set := letters.Common
	for p := (&parser{data: content}); p.skip() != 0; {
		v, err := p.value(0)
		if err != nil {
			return nil, err
		}
		switch v := v.(type) {
		case words:
			last = v
		case name:
			font = v
		case word:
			switch v {
			case "Tf":
				set = sets[font]
			case "Tj":
				decode(&text, last, set)
			case "ET":
				all = append(all, text.String())
				text.Reset()
			}
		}
	}
	return all, nil
}

// decode turns the codes of a set into characters.
func decode(b *strings.Builder, codes words, set letters.Set) {
	for _, c := range codes {
		if r := letters.Rune(set, c); r != 0 {
			b.WriteRune(r)
		}
	}
}
