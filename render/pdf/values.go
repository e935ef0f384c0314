package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
)

// parser reads values from a place on. It takes tokens as the format has them: a search for words would also find
// them inside strings and streams.
type parser struct {
	data []byte
	at   int
}

func isWhite(c byte) bool {
	return c == ' ' || c == '\n' || c == '\r' || c == '\t' || c == '\f' || c == 0
}

func isDelimiter(c byte) bool {
	switch c {
	case '(', ')', '<', '>', '[', ']', '{', '}', '/', '%':
		return true
	}
	return false
}

// skip passes white and comments; it gives the byte after them, 0 at the end of the file.
func (p *parser) skip() byte {
	for p.at < len(p.data) {
		switch c := p.data[p.at]; {
		case isWhite(c):
			p.at++
		case c == '%':
			for p.at < len(p.data) && p.data[p.at] != '\n' && p.data[p.at] != '\r' {
				p.at++
			}
		default:
			return c
		}
	}
	return 0
}

// keyword reads a run of ordinary characters: a number or a word.
func (p *parser) keyword() string {
	p.skip()
	start := p.at
	for p.at < len(p.data) && !isWhite(p.data[p.at]) && !isDelimiter(p.data[p.at]) {
		p.at++
	}
	return string(p.data[start:p.at])
}

func (p *parser) integer() (int, error) { return strconv.Atoi(p.keyword()) }

func (p *parser) value(depth int) (any, error) {
	if depth > deepest {
		return nil, errors.New("the PDF file nests its values too deeply")
	}
	switch c := p.skip(); {
	case c == '/':
		return p.name()
	case c == '(':
		return p.literal()
	case c == '[':
		p.at++
		return p.list(depth)
	case c == '<' && p.at+1 < len(p.data) && p.data[p.at+1] == '<':
		p.at += 2
		return p.dict(depth)
	case c == '<':
		return p.hex()
	case c == 0 || isDelimiter(c):
		return nil, errShort
	}
	return p.wordOrRef(), nil
}

// wordOrRef reads a word, or "12 0 R".
func (p *parser) wordOrRef() any {
	first := p.keyword()
	n, err := strconv.Atoi(first)
	if err != nil || n < 0 {
		return word(first)
	}
	mark := p.at
	if _, err := p.integer(); err == nil && p.keyword() == "R" {
		return ref(n)
	}
	p.at = mark
	return word(first)
}

func (p *parser) list(depth int) (any, error) {
	out := array{}
	for {
		if p.skip() == ']' {
			p.at++
			return out, nil
		}
		v, err := p.value(depth + 1)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
}

func (p *parser) dict(depth int) (any, error) {
	out := dict{}
	for {
		c := p.skip()
		if c == '>' {
			p.at = min(p.at+2, len(p.data))
			return out, nil
		}
		if c != '/' {
			return nil, errShort
		}
		key, err := p.name()
		if err != nil {
			return nil, err
		}
		if out[key], err = p.value(depth + 1); err != nil {
			return nil, err
		}
	}
}

func (p *parser) name() (name, error) {
	p.at++ // the slash
	raw := p.keywordHere()
	var out []byte
	for i := 0; i < len(raw); i++ {
		if raw[i] == '#' && i+2 < len(raw) {
			v, err := strconv.ParseUint(raw[i+1:i+3], 16, 8)
			if err != nil {
				return "", fmt.Errorf("%q is no name of a PDF file", raw)
			}
			out = append(out, byte(v))
			i += 2
			continue
		}
		out = append(out, raw[i])
	}
	return name(out), nil
}

// keywordHere is keyword without white before it: a name may be empty.
func (p *parser) keywordHere() string {
	if p.at >= len(p.data) || isWhite(p.data[p.at]) || p.data[p.at] == '%' {
		return ""
	}
	return p.keyword()
}

func (p *parser) hex() (any, error) {
	end := bytes.IndexByte(p.data[p.at:], '>')
	if end < 0 {
		return nil, errShort
	}
	var digits []byte
	for _, c := range p.data[p.at+1 : p.at+end] {
		if !isWhite(c) {
			digits = append(digits, c)
		}
	}
	p.at += end + 1
	if len(digits)%2 == 1 {
		digits = append(digits, '0')
	}
	out := make(words, 0, len(digits)/2)
	for i := 0; i < len(digits); i += 2 {
		v, err := strconv.ParseUint(string(digits[i:i+2]), 16, 8)
		if err != nil {
			return nil, errShort
		}
		out = append(out, byte(v))
	}
	return out, nil
}

// literal reads a string in brackets; brackets inside it are paired or escaped.
func (p *parser) literal() (any, error) {
	out := words{}
	open := 0
	for ; p.at < len(p.data); p.at++ {
		c := p.data[p.at]
		switch c {
		case '\\':
			out = p.escape(out)
			continue
		case '(':
			if open++; open == 1 {
				continue
			}
		case ')':
			if open--; open == 0 {
				p.at++
				return out, nil
			}
		}
		out = append(out, c)
	}
	return nil, errShort
}

// escape reads what follows a backslash and stays on its last byte.
func (p *parser) escape(out words) words {
	p.at++
	if p.at >= len(p.data) {
		return out
	}
	c := p.data[p.at]
	if i := bytes.IndexByte([]byte("nrtbf"), c); i >= 0 {
		return append(out, "\n\r\t\b\f"[i])
	}
	switch {
	case c == '\r':
		if p.at+1 < len(p.data) && p.data[p.at+1] == '\n' {
			p.at++
		}
		return out
	case c == '\n':
		return out
	case c < '0' || c > '7':
		return append(out, c)
	}
	v := 0
	for n := 0; n < 3 && p.at < len(p.data) && p.data[p.at] >= '0' && p.data[p.at] <= '7'; n++ {
		v = v*8 + int(p.data[p.at]-'0')
		p.at++
	}
	p.at--
	return append(out, byte(v))
}
