package pdf

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
)

// The values that a PDF file is made of (ISO 32000-1, 7.3). Numbers, true, false and null are kept as written, in word.
type (
	name  string
	word  string
	words []byte // a string, its escapes resolved
	array []any
	dict  map[name]any
	ref   int   // number of an object of the file
	refs  []ref // an array of nothing else

	// stream is a dictionary with bytes after it, filtered as its dictionary says.
	stream struct {
		dict dict
		data []byte
	}
)

func integer(n int) word { return word(strconv.Itoa(n)) }

// decimal writes a number with at most three places, without an exponent, as the format wants it.
func decimal(v float64) word { return word(appendNumber(nil, v)) }

// appendNumber does so behind b. Numbers of 10^12 and more, which no page has, come out as 0.
func appendNumber(b []byte, v float64) []byte { return appendPlaces(b, v, 1000) }

// appendFine writes a number with six places, for the sine of an angle.
func appendFine(b []byte, v float64) []byte { return appendPlaces(b, v, 1_000_000) }

// appendPlaces writes a number in whole parts of a unit, a power of ten.
func appendPlaces(b []byte, v float64, unit int64) []byte {
	if !(math.Abs(v) < 1e12) {
		return append(b, '0')
	}
	n := int64(math.Round(v * float64(unit)))
	if n < 0 {
		b = append(b, '-')
		n = -n
	}
	b = strconv.AppendInt(b, n/unit, 10)
	n %= unit
	if n == 0 {
		return b
	}
	b = append(b, '.')
	for n > 0 {
		unit /= 10
		b = append(b, '0'+byte(n/unit))
		n %= unit
	}
	return b
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

// put writes a value behind b. Keys of dictionaries are sorted, so that equal values give equal bytes.
func put(b []byte, v any) []byte {
	switch v := v.(type) {
	case word:
		return append(b, v...)
	case name:
		return appendName(b, v)
	case ref:
		return appendRef(b, v)
	case refs:
		b = append(b, '[')
		for i, r := range v {
			if i > 0 {
				b = append(b, ' ')
			}
			b = appendRef(b, r)
		}
		return append(b, ']')
	case words:
		return appendWords(b, v)
	case *element:
		return v.put(b)
	case array:
		b = append(b, '[')
		for i, x := range v {
			if i > 0 {
				b = append(b, ' ')
			}
			b = put(b, x)
		}
		return append(b, ']')
	case dict:
		return putDict(b, v, -1)
	case stream:
		b = append(putDict(b, v.dict, len(v.data)), "\nstream\n"...)
		return append(append(b, v.data...), "\nendstream"...)
	}
	panic(fmt.Sprintf("pdf: no way to write a %T", v)) // a slip of this package
}

// putDict writes a dictionary, with the length of the bytes after it where that is not below 0.
func putDict(b []byte, d dict, length int) []byte {
	var room [16]name // few have more keys
	keys := room[:0]
	for k := range d {
		keys = append(keys, k)
	}
	if _, has := d["Length"]; length >= 0 && !has {
		keys = append(keys, "Length")
	}
	slices.Sort(keys)
	b = append(b, "<<"...)
	for _, k := range keys {
		b = append(appendName(b, k), ' ')
		if k == "Length" && length >= 0 {
			b = strconv.AppendInt(b, int64(length), 10)
			continue
		}
		b = put(b, d[k])
	}
	return append(b, ">>"...)
}

func appendRef(b []byte, r ref) []byte { return append(strconv.AppendInt(b, int64(r), 10), " 0 R"...) }

const hexDigits = "0123456789ABCDEF"

func appendName(b []byte, n name) []byte {
	b = append(b, '/')
	for i := range len(n) {
		if c := n[i]; c <= ' ' || c > '~' || strings.IndexByte("#/()<>[]{}%", c) >= 0 {
			b = append(b, '#', hexDigits[c>>4], hexDigits[c&15])
			continue
		}
		b = append(b, n[i])
	}
	return b
}

func appendWords[T string | []byte | words](b []byte, w T) []byte {
	b = append(b, '(')
	for i := range len(w) {
		switch c := w[i]; {
		case c == '(' || c == ')' || c == '\\':
			b = append(b, '\\', c)
		case c < ' ' || c > '~':
			b = append(b, '\\', '0'+c>>6, '0'+c>>3&7, '0'+c&7)
		default:
			b = append(b, c)
		}
	}
	return append(b, ')')
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
	size := 4096
	for _, v := range o.objects {
		size += 160 // most are elements, named in two lists and the table
		if s, ok := v.(stream); ok {
			size += len(s.data)
		}
	}
	b := make([]byte, 0, size)
	b = append(b, "%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"...) // bytes above 127 tell mail programs that the file is not text
	offsets := make([]int, len(o.objects))
	for i, v := range o.objects {
		offsets[i] = len(b)
		b = append(strconv.AppendInt(b, int64(i+1), 10), " 0 obj\n"...)
		b = append(put(b, v), "\nendobj\n"...)
	}
	id := words(digest(b))
	start := len(b)
	b = fmt.Appendf(b, "xref\n0 %d\n0000000000 65535 f \n", len(offsets)+1)
	for _, at := range offsets {
		b = append(b, "0000000000 00000 n \n"...)
		for i := len(b) - len("0 00000 n \n"); at > 0; i, at = i-1, at/10 {
			b[i] = '0' + byte(at%10)
		}
	}
	b = append(b, "trailer\n"...)
	b = put(b, dict{"Size": integer(len(offsets) + 1), "Root": root, "Info": info, "ID": array{id, id}})
	return fmt.Appendf(b, "\nstartxref\n%d\n%%%%EOF\n", start)
}
