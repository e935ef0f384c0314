package pdf

import (
	"bytes"
	"compress/zlib"
	"errors"
	"io"

	"refitcard/render/sheet"
)

// most is how large a file inside a card may be when unpacked, in bytes: a guard against files made to fill memory.
const most = 64 << 20

// Attached gives the files inside a PDF file that this package wrote, in the order in which they were put in; none is no
// error. It fails on what is no PDF file, is damaged, or was written anew by another program.
func Attached(pdf []byte) ([]sheet.Attachment, error) {
	f, err := open(pdf)
	if err != nil {
		return nil, err
	}
	at := any(f.trailer["Root"])
	for _, key := range []name{"Names", "EmbeddedFiles"} {
		d, err := f.dict(at)
		if err != nil {
			return nil, err
		}
		at = d[key]
	}
	d, err := f.dict(at)
	if err != nil {
		return nil, err
	}
	names, _ := d["Names"].(array)
	var out []sheet.Attachment
	for i := 1; i < len(names); i += 2 {
		a, err := f.attachment(names[i])
		if err != nil {
			return nil, err
		}
		out = append(out, a)
	}
	return out, nil
}

func (f *file) attachment(v any) (sheet.Attachment, error) {
	spec, err := f.dict(v)
	if err != nil {
		return sheet.Attachment{}, err
	}
	title, _ := spec["UF"].(words)
	about, _ := spec["Desc"].(words)
	a := sheet.Attachment{Name: readText(title), Description: readText(about)}
	places, err := f.dict(spec["EF"])
	if err != nil {
		return a, err
	}
	v, err = f.get(places["F"])
	if err != nil {
		return a, err
	}
	content, ok := v.(stream)
	if !ok {
		return a, errShort
	}
	kind, _ := content.dict["Subtype"].(name)
	a.Type = string(kind)
	a.Data, err = unpack(content)
	if err != nil {
		return a, err
	}
	params, err := f.dict(content.dict["Params"])
	if err != nil {
		return a, err
	}
	if sum, ok := params["CheckSum"].(words); ok && !bytes.Equal(sum, checksum(a.Data)) {
		return a, errShort
	}
	return a, nil
}

func unpack(s stream) ([]byte, error) {
	if s.dict["Filter"] != name("FlateDecode") {
		return s.data, nil
	}
	r, err := zlib.NewReader(bytes.NewReader(s.data))
	if err != nil {
		return nil, errShort
	}
	data, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return nil, errShort
	}
	if len(data) > most {
		return nil, errors.New("a file inside the PDF file is too large")
	}
	return data, nil
}
