package pdf

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"unicode/utf16"
)

// The values that a PDF file is made of (ISO 32000-1, 7.3). Numbers, true, false and null are kept as written, in word.
type (
	name  string
	word  string
	words []byte // a string, its escapes resolved
	array []any
	dict  map[name]any
	ref   int // number of an object of the file

	// stream is a dictionary with bytes after it, filtered as its dictionary says.
	stream struct {
		dict dict
		data []byte
	}
)

func integer(n int) word { return word(strconv.Itoa(n)) }

// decimal writes a number with at most three places, without an exponent, as the format wants it.
func decimal(v float64) word {
	b := strconv.AppendFloat(nil, v, 'f', 3, 64)
	b = bytes.TrimRight(b, "0")
	b = bytes.TrimSuffix(b, []byte("."))
	if string(b) == "-0" {
		return "0"
	}
	return word(b)
}

// textString is text for a person: plain ASCII as it is, all else in UTF-16 (7.9.2.2).
func textString(s string) words {
	for _, r := range s {
		if r < ' ' || r > '~' {
			out := words{0xfe, 0xff}
			for _, u := range utf16.Encode([]rune(s)) {
				out = append(out, byte(u>>8), byte(u))
			}
			return out
		}
	}
	return words(s)
}

// readText is the inverse of textString.
func readText(w words) string {
	if len(w) < 2 || w[0] != 0xfe || w[1] != 0xff {
		return string(w)
	}
	var units []uint16
	for i := 2; i+1 < len(w); i += 2 {
		units = append(units, uint16(w[i])<<8|uint16(w[i+1]))
	}
	return string(utf16.Decode(units))
}

// put writes a value. Keys of dictionaries are sorted, so that equal values give equal bytes.
func put(b *bytes.Buffer, v any) {
	switch v := v.(type) {
	case word:
		b.WriteString(string(v))
	case name:
		putName(b, v)
	case ref:
		fmt.Fprintf(b, "%d 0 R", int(v))
	case words:
		putWords(b, v)
	case array:
		b.WriteByte('[')
		for i, x := range v {
			if i > 0 {
				b.WriteByte(' ')
			}
			put(b, x)
		}
		b.WriteByte(']')
	case dict:
		b.WriteString("<<")
		for _, k := range slices.Sorted(maps.Keys(v)) {
			putName(b, k)
			b.WriteByte(' ')
			put(b, v[k])
		}
		b.WriteString(">>")
	case stream:
		d := maps.Clone(v.dict)
		if d == nil {
			d = dict{}
		}
		d["Length"] = integer(len(v.data))
		put(b, d)
		b.WriteString("\nstream\n")
		b.Write(v.data)
		b.WriteString("\nendstream")
	default:
		panic(fmt.Sprintf("pdf: no way to write a %T", v)) // a slip of this package
	}
}

func putName(b *bytes.Buffer, n name) {
	b.WriteByte('/')
	for i := range len(n) {
		if c := n[i]; c <= ' ' || c > '~' || bytes.IndexByte([]byte("#/()<>[]{}%"), c) >= 0 {
			fmt.Fprintf(b, "#%02X", c)
			continue
		}
		b.WriteByte(n[i])
	}
}

func putWords(b *bytes.Buffer, w words) {
	b.WriteByte('(')
	for _, c := range w {
		switch {
		case c == '(' || c == ')' || c == '\\':
			b.WriteByte('\\')
			b.WriteByte(c)
		case c < ' ' || c > '~':
			fmt.Fprintf(b, "\\%03o", c)
		default:
			b.WriteByte(c)
		}
	}
	b.WriteByte(')')
}

// output gathers the objects of a file in the order of their numbers, from 1.
type output struct{ objects []any }

func (o *output) add(v any) ref {
	o.objects = append(o.objects, v)
	return ref(len(o.objects))
}

// reserve takes a number for an object that set fills in later.
func (o *output) reserve() ref { return o.add(word("null")) }

func (o *output) set(r ref, v any) { o.objects[r-1] = v }

// bytes writes the file. Its ID is a digest of what stands before it, so the same content has the same ID.
func (o *output) bytes(root, info ref, digest func([]byte) []byte) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n") // bytes above 127 tell mail programs that the file is not text
	offsets := make([]int, len(o.objects))
	for i, v := range o.objects {
		offsets[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n", i+1)
		put(&b, v)
		b.WriteString("\nendobj\n")
	}
	id := words(digest(b.Bytes()))
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(offsets)+1)
	for _, at := range offsets {
		fmt.Fprintf(&b, "%010d 00000 n \n", at)
	}
	b.WriteString("trailer\n")
	put(&b, dict{"Size": integer(len(offsets) + 1), "Root": root, "Info": info, "ID": array{id, id}})
	fmt.Fprintf(&b, "\nstartxref\n%d\n%%%%EOF\n", start)
	return b.Bytes()
}
