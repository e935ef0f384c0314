package syntax

import (
	"bytes"
	"strconv"
	"unicode/utf8"

	"github.com/yuin/goldmark/util"

	"refitcard/compiler/source"
)

// piece is a run of text: what stands at src[start:end], or what an entity there stands for.
type piece struct {
	start, end int
	text       []byte
	entity     bool
}

// pieces cuts src[start:stop] where a backslash or an entity stands and resolves each once: `\&amp;` is `&amp;`, never `&`.
func pieces(src []byte, start, stop int) []piece {
	if !bytes.ContainsAny(src[start:stop], `\&`) {
		return []piece{{start, stop, src[start:stop], false}}
	}
	var list []piece
	run := start
	flush := func(end int) {
		if end > run {
			list = append(list, piece{run, end, src[run:end], false})
		}
	}
	for i := start; i < stop; {
		if src[i] == '\\' && i+1 < stop && util.IsPunct(src[i+1]) {
			flush(i)
			run = i + 1
			i += 2
			continue
		}
		if src[i] == '&' {
			if size, text := entity(src[i:stop]); size > 0 {
				flush(i)
				list = append(list, piece{i, i + size, text, true})
				i += size
				run = i
				continue
			}
		}
		i++
	}
	flush(stop)
	return list
}

// unescape is unescape of what stands at a place of the file; most often nothing is to be resolved there.
func (b *builder) unescape(at source.Span) (string, []int32) {
	if !bytes.ContainsAny(b.src[at.Start:at.End], `\&`) {
		return at.Text(), nil
	}
	return unescape(b.src, at.Start, at.End)
}

// unescape joins the pieces of src[start:stop]. The offsets are those of each byte of the text and of its end; nil when
// nothing was there to resolve.
func unescape(src []byte, start, stop int) (string, []int32) {
	list := pieces(src, start, stop)
	if len(list) == 1 && !list[0].entity && list[0].start == start {
		return string(list[0].text), nil
	}
	var out []byte
	var from []int32
	for _, p := range list {
		for i := range p.text {
			at := p.start
			if !p.entity {
				at += i
			}
			from = append(from, int32(at))
		}
		out = append(out, p.text...)
	}
	return string(out), append(from, int32(stop))
}

// longestEntity is the most bytes that an entity may have: the longest name of HTML 5 has 31 letters, with "&" and ";".
const longestEntity = 33

// entity reads an entity at the start of s. It gives its size, 0 when there is none, and what it stands for.
// Source: CommonMark 0.31, 2.5, entity and numeric character references.
func entity(s []byte) (int, []byte) {
	end := bytes.IndexByte(s[:min(len(s), longestEntity)], ';')
	if end < 2 {
		return 0, nil
	}
	name := s[1:end]
	if name[0] != '#' {
		if e, ok := util.LookUpHTML5EntityByName(string(name)); ok {
			return end + 1, e.Characters
		}
		return 0, nil
	}
	digits, base, most := name[1:], 10, 7
	if len(digits) > 0 && (digits[0] == 'x' || digits[0] == 'X') {
		digits, base, most = digits[1:], 16, 6
	}
	n, err := strconv.ParseUint(string(digits), base, 32)
	if err != nil || len(digits) > most {
		return 0, nil
	}
	r := rune(n)
	if n == 0 || !utf8.ValidRune(r) {
		r = utf8.RuneError
	}
	return end + 1, utf8.AppendRune(nil, r)
}
