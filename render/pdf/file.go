package pdf

import (
	"bytes"
	"errors"
	"strconv"
)

// file is a PDF file being read: one with plain cross-reference tables, as fpdf and this package write it, and many
// programs that write something behind it.
type file struct {
	data    []byte
	offsets map[ref]int
	trailer dict
}

// deepest is how far values may be nested: far more than any file needs, and few enough for any stack.
const deepest = 64

var errShort = errors.New("the PDF file is cut off or damaged")

// open reads the table of objects.
func open(data []byte) (*file, error) {
	if !bytes.HasPrefix(data, []byte("%PDF-")) {
		return nil, errors.New("this is no PDF file")
	}
	at := bytes.LastIndex(data, []byte("startxref"))
	if at < 0 {
		return nil, errShort
	}
	p := &parser{data: data, at: at + len("startxref")}
	start, err := p.integer()
	if err != nil || start < 0 || start >= len(data) {
		return nil, errShort
	}
	f := &file{data: data, offsets: map[ref]int{}}
	for range mostTables {
		p.at = start
		if p.keyword() != "xref" {
			return nil, errors.New("the PDF file was not written by this program, or was written anew by another")
		}
		trailer, err := f.table(p)
		if err != nil {
			return nil, err
		}
		if f.trailer == nil { // the newest one counts
			f.trailer = trailer
		}
		earlier, more := trailer["Prev"].(word)
		if !more {
			break
		}
		if start, err = strconv.Atoi(string(earlier)); err != nil || start < 0 || start >= len(data) {
			return nil, errShort
		}
	}
	if _, locked := f.trailer["Encrypt"]; locked {
		return nil, errors.New("the PDF file is locked with a password: take the password off first")
	}
	if root, err := f.dict(f.trailer["Root"]); err != nil || len(root) == 0 {
		return nil, errShort
	}
	return f, nil
}

// mostTables guards against tables that lead to each other in a ring; a file has one more for each time that a program
// wrote something behind it.
const mostTables = 200

// table reads the sections of a cross-reference table and gives the trailer after them. What a newer table has said of
// an object stands.
func (f *file) table(p *parser) (dict, error) {
	for {
		mark := p.at
		if p.keyword() == "trailer" {
			break
		}
		p.at = mark
		first, err1 := p.integer()
		n, err2 := p.integer()
		if err1 != nil || err2 != nil || first < 0 || n < 0 || n > len(f.data) {
			return nil, errShort
		}
		for i := range n {
			offset, err1 := p.integer()
			_, err2 := p.integer()
			kind := p.keyword()
			if err1 != nil || err2 != nil || kind != "n" && kind != "f" {
				return nil, errShort
			}
			if kind == "f" {
				offset = 0 // no object begins there
			}
			if _, known := f.offsets[ref(first+i)]; !known && offset < len(f.data) {
				f.offsets[ref(first+i)] = offset
			}
		}
	}
	v, err := p.value(0)
	if err != nil {
		return nil, err
	}
	d, ok := v.(dict)
	if !ok {
		return nil, errShort
	}
	return d, nil
}

// get follows a reference; any other value is given back as it is. Objects that are missing are null.
func (f *file) get(v any) (any, error) {
	r, ok := v.(ref)
	if !ok {
		return v, nil
	}
	at := f.offsets[r]
	if at <= 0 {
		return word("null"), nil
	}
	p := &parser{data: f.data, at: at}
	if n, err := p.integer(); err != nil || ref(n) != r {
		return nil, errShort
	}
	if _, err := p.integer(); err != nil || p.keyword() != "obj" {
		return nil, errShort
	}
	v, err := p.value(0)
	if err != nil {
		return nil, err
	}
	d, ok := v.(dict)
	if !ok || p.keyword() != "stream" {
		return v, nil
	}
	data, err := f.streamData(d, p.at)
	return stream{d, data}, err
}

// streamData gives the bytes after the word stream.
func (f *file) streamData(d dict, at int) ([]byte, error) {
	if at < len(f.data) && f.data[at] == '\r' {
		at++
	}
	if at < len(f.data) && f.data[at] == '\n' {
		at++
	}
	length, ok := d["Length"].(word)
	if !ok {
		return nil, errShort // this package and fpdf always write the length itself
	}
	n, err := strconv.Atoi(string(length))
	if err != nil || n < 0 || n > len(f.data)-at {
		return nil, errShort
	}
	return f.data[at : at+n], nil
}

// dict follows a reference to a dictionary, empty if it is something else.
func (f *file) dict(v any) (dict, error) {
	v, err := f.get(v)
	d, _ := v.(dict)
	return d, err
}
