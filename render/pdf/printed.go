package pdf

import (
	"strings"

	"refitcard/render/faces"
)

// Printed gives the strings that stand on the first page of a PDF file that this package wrote, in the order in which they
// are drawn: what people read, and not what the file says of itself elsewhere. It fails as Attached does.
func Printed(pdf []byte) ([]string, error) {
	f, err := open(pdf)
	if err != nil {
		return nil, err
	}
	root, err := f.dict(f.trailer["Root"])
	if err != nil {
		return nil, err
	}
	pages, err := f.dict(root["Pages"])
	if err != nil {
		return nil, err
	}
	kids, _ := pages["Kids"].(array)
	if len(kids) == 0 {
		return nil, errShort
	}
	page, err := f.dict(kids[0])
	if err != nil {
		return nil, err
	}
	v, err := f.get(page["Contents"])
	if err != nil {
		return nil, err
	}
	content, ok := v.(stream)
	if !ok {
		return nil, errShort
	}
	data, err := unpack(content, mostBytes)
	if err != nil {
		return nil, err
	}
	return drawnStrings(data)
}

// drawnStrings gives the strings before each operator Tj, the one by which fpdf draws words (ISO 32000-1, 9.4.3).
func drawnStrings(content []byte) ([]string, error) {
	var all []string
	var last words
	for p := (&parser{data: content}); p.skip() != 0; {
		v, err := p.value(0)
		if err != nil {
			return nil, err
		}
		switch v := v.(type) {
		case words:
			last = v
		case word:
			if v == "Tj" {
				all = append(all, decoded(last))
			}
			last = nil
		}
	}
	return all, nil
}

// decoded turns the codes of the faces into characters.
func decoded(codes words) string {
	var b strings.Builder
	for _, c := range codes {
		if r := faces.Rune(c); r != 0 {
			b.WriteRune(r)
		}
	}
	return b.String()
}
