package procedure

import "refitcard/compiler/source"

// Joined is runs put together to one text: it tells where in the file a byte of that text stands.
type Joined struct {
	Runs []Run
	from []int // where each run begins in the text
}

// NewJoined takes runs that stand one behind the other, and where each begins in the text.
func NewJoined(runs []Run, from []int) Joined { return Joined{runs, from} }

// Join puts a run behind the others; from is the byte of the text at which it begins.
func (j *Joined) Join(r Run, from int) {
	j.Runs, j.from = append(j.Runs, r), append(j.from, from)
}

// From is the byte of the text at which the k-th run begins.
func (j Joined) From(k int) int { return j.from[k] }

// In is the number of the run in which a byte of the text stands, 0 when there are no runs.
func (j Joined) In(i int) int {
	k := 0
	for k+1 < len(j.from) && j.from[k+1] <= i {
		k++
	}
	return k
}

// Byte is the place of one byte of the text, of which there must be runs; where escapes make the text unlike the file, the
// place of the whole run. It is not known where the run stands in no file.
func (j Joined) Byte(i int) source.Span {
	k := j.In(i)
	r := j.Runs[k]
	if !r.Exact() {
		return r.At
	}
	at := min(r.At.Start+i-j.from[k], r.At.End)
	return r.At.File.At(at, min(at+1, r.At.End))
}

// Span is the place of the bytes from up to to of the text: at least one, and only its start when it ends in another file.
func (j Joined) Span(from, to int) source.Span {
	start, end := j.Byte(from), j.Byte(max(to-1, from))
	if !start.Known() || start.File != end.File {
		return start
	}
	return start.File.At(start.Start, end.End)
}
