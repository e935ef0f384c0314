package pdf

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"

	"refitcard/render/sheet"
)

// A guard against files made to fill memory or time: how many files may be inside, and how large they may be together
// when unpacked, in bytes.
const (
	mostFiles = 1000
	mostBytes = 64 << 20
)

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
	if len(names)/2 > mostFiles {
		return nil, fmt.Errorf("the PDF file has %d files inside, which are too many", len(names)/2)
	}
	var out []sheet.Attachment
	room := mostBytes
	for i := 1; i < len(names); i += 2 {
		a, err := f.attachment(names[i], room)
		if err != nil {
			return nil, err
		}
		room -= len(a.Data)
		out = append(out, a)
	}
	return out, nil
}

// attachment reads one file of at most room bytes.
func (f *file) attachment(v any, room int) (sheet.Attachment, error) {
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
	a.Data, err = unpack(content, room)
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

func unpack(s stream, room int) ([]byte, error) {
	if s.dict["Filter"] != name("FlateDecode") {
		return s.data, nil
	}
	r, err := zlib.NewReader(bytes.NewReader(s.data))
	if err != nil {
		return nil, errShort
	}
	data, err := io.ReadAll(io.LimitReader(r, int64(room)+1))
	if err != nil {
		return nil, errShort
	}
	if len(data) > room {
		return nil, errors.New("the files inside the PDF file are too large")
	}
	return data, nil
}
