package hardware

import (
	"math/big"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"refitcard/compiler/quantity"
	"refitcard/compiler/reference"
)

// Thread is a screw thread by its designation.
type Thread struct {
	Name     string  // "M8", "M14×1.5", "1/4-20 UNC"
	Diameter float64 // mm
	Pitch    float64 // mm; 0 for a metric coarse pitch that is not written
	Inch     bool
	Length   string // of the fastener, as typed: "30", "3/4"
}

// LengthMM is the length of the fastener in mm, 0 when it is not written: metric threads give it in mm, unified ones in inches.
func (t Thread) LengthMM() float64 {
	if t.Length == "" {
		return 0
	}
	n, _ := quantity.NumberPrefix(t.Length)
	f, _ := n.Rat.Float64()
	if t.Inch {
		return f * inch()
	}
	return f
}

func inch() float64 {
	u, _ := quantity.UnitNamed("in")
	factor, _ := u.Factor()
	f, _ := factor.Float64()
	return f * 1000
}

// SameAs tells whether two threads screw into each other: equal diameter and pitch, a coarse pitch written or not.
func (t Thread) SameAs(o Thread) bool {
	return t.Inch == o.Inch && near(t.Diameter, o.Diameter) && near(t.PitchMM(), o.PitchMM())
}

func recessPrefix(s string) (Size, int) {
	for _, p := range []struct {
		letters string
		system  System
	}{{"PH", CrossRecess}, {"PZ", CrossRecess}, {"T", Hexalobular}} {
		rest, ok := strings.CutPrefix(s, p.letters)
		n := 0
		for ok && n < len(rest) && isDigit(rest[n]) && n < 3 {
			n++
		}
		if ok && n > 0 && ends(rest[n:]) {
			number, _ := strconv.Atoi(rest[:n])
			return Size{System: p.system, Number: number, Typed: s[:len(p.letters)+n]}, len(p.letters) + n
		}
	}
	return Size{}, 0
}

// threadPrefix reads M8, M8×1, M8x30, M8×1.25×30, 1/4-20 UNC × 3/4, #10-32 UNF.
func threadPrefix(s string) (*Thread, int) {
	if len(s) > 1 && s[0] == 'M' && isDigit(s[1]) {
		return metric(s)
	}
	return unified(s)
}

func times(s string) int {
	gap := len(s) - len(strings.TrimLeft(s, " "))
	for _, x := range []string{"×", "x", "X"} {
		if strings.HasPrefix(s[gap:], x) {
			after := s[gap+len(x):]
			more := len(after) - len(strings.TrimLeft(after, " "))
			if more < len(after) && isDigit(after[more]) {
				return gap + len(x) + more
			}
		}
	}
	return 0
}

func metric(s string) (*Thread, int) {
	d, n := quantity.NumberPrefix(s[1:])
	if n == 0 {
		return nil, 0
	}
	end := 1 + n
	t := &Thread{Name: s[:end]}
	t.Diameter, _ = d.Rat.Float64()
	if fused(d.Typed, t.Diameter) {
		return nil, 0
	}
	if k := times(s[end:]); k > 0 {
		v, m := quantity.NumberPrefix(s[end+k:])
		f, _ := v.Rat.Float64()
		if f <= 6 && f < t.Diameter*0.45 { // no fastener is shorter than half its thread: it is a pitch
			t.Pitch = f
			t.Name = "M" + d.Typed + "×" + v.Typed
			end += k + m
			k = times(s[end:])
			if k > 0 {
				v, m = quantity.NumberPrefix(s[end+k:])
			}
		}
		if k > 0 {
			t.Length = v.Typed
			end += k + m
		}
	}
	if rest := s[end:]; rest != "" && rest[0] < utf8.RuneSelf && unicode.IsLetter(rune(rest[0])) && !strings.HasPrefix(rest, "mm") {
		return nil, 0 // a name of something: M2B
	}
	return t, end
}

// fused tells whether a diameter is a strength that ran into the M: "M8.8" for "M8 8.8".
func fused(typed string, diameter float64) bool {
	return strings.Contains(typed, ".") && !slices.ContainsFunc(reference.Threads(), func(r reference.Thread) bool { return !r.Inch && near(r.Diameter, diameter) }) &&
		slices.ContainsFunc(reference.Strengths(), func(r reference.Strength) bool { return r.Name == typed })
}

func unified(s string) (*Thread, int) {
	start := 0
	if strings.HasPrefix(s, "#") {
		start = 1
	}
	size, n := inchSize(s[start:])
	end := start + n
	if n == 0 || end >= len(s) || s[end] != '-' {
		return nil, 0
	}
	pitch, m := quantity.NumberPrefix(s[end+1:])
	if m == 0 || strings.ContainsAny(pitch.Typed, "./") {
		return nil, 0
	}
	mm := size * inch()
	if start == 1 {
		mm = reference.NumberSize(int(size))
	}
	per, _ := pitch.Rat.Float64()
	end += 1 + m
	if per < 4 {
		return nil, 0
	}
	t := &Thread{Diameter: mm, Pitch: inch() / per, Inch: true}
	rest := strings.TrimLeft(s[end:], " ")
	series := ""
	for _, w := range []string{"UNC", "UNF", "UNEF", "UNS", "UN"} {
		if strings.HasPrefix(rest, w) && series == "" {
			series = w
			end = len(s) - len(rest) + len(w)
		}
	}
	t.Name = s[:end]
	if mm > 4*inch() || series == "" && start == 0 && !strings.Contains(s[:n], "/") && !t.published() {
		return nil, 0 // "3-5" is a range, "10-32" a number size without its sign
	}
	if k := times(s[end:]); k > 0 {
		v, m := quantity.NumberPrefix(s[end+k:])
		t.Length = v.Typed
		end += k + m
	}
	return t, end
}

// inchSize reads the nominal size of a unified thread, 1/4 or 1-1/8 or 10, and gives the length.
func inchSize(s string) (float64, int) {
	d, n := quantity.NumberPrefix(s)
	if n == 0 {
		return 0, 0
	}
	whole, _ := d.Rat.Float64()
	if n < len(s) && s[n] == '-' && !strings.Contains(d.Typed, "/") {
		if part, m := quantity.NumberPrefix(s[n+1:]); strings.Contains(part.Typed, "/") && !strings.Contains(part.Typed, " ") {
			f, _ := part.Rat.Float64()
			return whole + f, n + 1 + m
		}
	}
	return whole, n
}

// published tells whether the tables have the thread.
func (t Thread) published() bool {
	return slices.ContainsFunc(reference.Threads(), func(r reference.Thread) bool {
		return r.Inch == t.Inch && near(r.Diameter, t.Diameter) && near(r.Pitch, t.PitchMM())
	})
}

// Oddity is something in a Spec that starts like a thread and is none, bytes Start up to End of the cell.
type Oddity struct {
	Kind       string   // shape, strength, tail, pitch, number, threads
	Start, End int      //
	Typed      string   // as it stands there
	Write      string   // what may have been meant, empty when nobody can tell
	Known      []string // of pitch: what the tables have for the diameter
}

// likeThread finds what starts like a thread: M and a digit, or an inch size in front of a series.
var likeThread = regexp.MustCompile(`^(?:M ?\d[\d.×xX*/-]*|m(?:[4-9]|\d\d)[\d.×xX*/-]*|#?(?:\d+-)?\d+(?:/\d+)?(?:["″]| in)?(?:-\d+)? ?(?:UNC|UNF|UNEF)\b|#?\d+(?:/\d+)?-\d+ ?(?:UNC|UNF|UNEF)\b)`)

// oddities lists what starts like a thread and is none, or is one that the tables rule out.
func oddities(cell string, s Spec) []Oddity {
	var odd []Oddity
	for at := 0; at < len(cell); at++ {
		if at > 0 && !boundary(cell[at-1]) {
			continue
		}
		i := slices.IndexFunc(s.Items, func(x Item) bool { return x.Kind == "thread" && x.Start <= at && at < x.End })
		if i >= 0 {
			if o, bad := s.Thread.odd(cell, s.Items[i]); bad {
				odd = append(odd, o)
			}
			at = s.Items[i].End - 1
			continue
		}
		if m := likeThread.FindString(cell[at:]); m != "" && ends(cell[at+len(m):]) && (s.Thread == nil || !isDigit(m[0])) {
			odd = append(odd, misspelt(m, at))
			at += len(m) - 1
		}
	}
	return odd
}

// misspelt says what a thing may mean that starts like a thread and can't be read as one.
func misspelt(m string, at int) Oddity {
	o := Oddity{Kind: "shape", Start: at, End: at + len(m), Typed: m}
	if number := strings.TrimPrefix(m, "M"); number != m && fused(number, 0) {
		first, _, _ := strings.Cut(number, ".")
		o.Kind, o.Write = "strength", "M"+first+" "+number
		return o
	}
	tries := []string{strings.ReplaceAll(m, " ", ""), "M" + strings.TrimLeft(m, "Mm "), "#" + m}
	for _, try := range tries {
		if t, n := threadPrefix(try); n == len(try) && (t.Inch || !strings.HasPrefix(try, "#")) && t.published() {
			o.Write = try
			return o
		}
	}
	return o
}

// odd tells what is wrong with a thread that was read: something runs on behind it, or the tables rule it out.
func (t Thread) odd(cell string, item Item) (Oddity, bool) {
	o := Oddity{Start: item.Start, End: item.End, Typed: cell[item.Start:item.End]}
	if rest := cell[item.End:]; !ends(rest) || len(rest) > 1 && (rest[0] == ',' || rest[0] == '.') && isDigit(rest[1]) {
		stop := strings.IndexAny(rest, " ;)")
		if stop < 0 {
			stop = len(rest)
		}
		if unit := strings.TrimLeft(rest[:stop], " "); unit == "mm" || unit == "in" {
			return o, false
		}
		o.Kind, o.End, o.Typed = "tail", item.End+stop, cell[item.Start:item.End+stop]
		if rest[0] == ',' {
			o.Write = strings.Replace(o.Typed, ",", ".", 1)
		} else if _, n := threadPrefix(t.Name + "×" + strings.Trim(rest[:stop], "-*×x.")); t.Length == "" && n > 0 && !t.Inch {
			o.Write = t.Name + "×" + strings.Trim(rest[:stop], "-*×x.")
		}
		return o, true
	}
	coarsest, known, right := 0.0, []string{}, false
	for _, r := range reference.Threads() {
		if r.Inch != t.Inch || !near(r.Diameter, t.Diameter) {
			continue
		}
		coarsest = max(coarsest, r.Pitch)
		if t.Inch && strings.HasSuffix(t.Name, " "+r.Series) || !t.Inch {
			known, right = append(known, r.Name), right || near(r.Pitch, t.PitchMM())
		}
	}
	o.Known = known
	switch {
	case !t.Inch && coarsest > 0 && t.Pitch > coarsest+0.001:
		o.Kind = "pitch" // no pitch is coarser than the coarse one
		return o, true
	case t.Inch && len(known) > 0 && !right:
		o.Kind = "threads"
		return o, true
	}
	return Oddity{}, false
}

// dual reads a pair of sizes as on a double-ended wrench, "16/17 mm", "10 × 13 mm", and gives the length. Sizes in mm have no
// fractions, so a stroke between them parts two ends.
func dual(s string) (sizes [2]float64, typed [2]string, unit *quantity.Unit, n int) {
	a, i := quantity.NumberPrefix(s)
	if i == 0 {
		return sizes, typed, nil, 0
	}
	if first, second, ok := strings.Cut(a.Typed, "/"); ok {
		u, length := unitAfter(s[i:])
		f, isFirst := new(big.Rat).SetString(first)
		g, isSecond := new(big.Rat).SetString(second)
		if u != nil && u.Name == "mm" && isFirst && isSecond {
			sizes[0], _ = f.Float64()
			sizes[1], _ = g.Float64()
			return sizes, [2]string{first + " mm", second + " mm"}, u, i + length
		}
	}
	rest := strings.TrimLeft(s[i:], " ")
	for _, mark := range []string{"×", "x", "/", "and "} {
		tail, ok := strings.CutPrefix(rest, mark)
		tail = strings.TrimLeft(tail, " ")
		b, j := quantity.NumberPrefix(tail)
		if !ok || j == 0 {
			continue
		}
		if u, length := unitAfter(tail[j:]); u != nil && u.Kind == quantity.Length {
			sizes[0], _ = a.Rat.Float64()
			sizes[1], _ = b.Rat.Float64()
			return sizes, [2]string{a.Typed + " " + u.Name, b.Typed + " " + u.Name}, u, len(s) - len(tail) + j + length
		}
	}
	return sizes, typed, nil, 0
}

// lengthPrefix reads one exact length, also in the shop's way of writing inches, "1-1/8 in", and gives how long it is.
func lengthPrefix(s string) (Size, int) {
	if size, n := inchSize(s); n > 0 && strings.Contains(s[:n], "-") {
		if u, length := unitAfter(s[n:]); u != nil && u.System == quantity.US && u.Kind == quantity.Length {
			factor, _ := u.Factor()
			f, _ := factor.Float64()
			return Size{MM: size * f * 1000, Typed: s[:n+length], Inch: true}, n + length
		}
	}
	v, n, p := quantity.Prefix(s)
	if n == 0 || p != nil || v.Unit.Kind != quantity.Length || v.Form != quantity.Exact {
		return Size{}, 0
	}
	return Size{MM: v.Float() * 1000, Typed: s[:n], Inch: v.Unit.System == quantity.US}, n
}

func unitAfter(s string) (*quantity.Unit, int) {
	gap := len(s) - len(strings.TrimLeft(s, " "))
	end := gap
	for end < len(s) && s[end] >= 'a' && s[end] <= 'z' {
		end++
	}
	u, ok := quantity.UnitNamed(s[gap:end])
	if !ok {
		return nil, 0
	}
	return u, end
}
