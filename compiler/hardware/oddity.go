package hardware

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"refitcard/compiler/reference"
)

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

// letterForDigit finds a metric size with a letter O, I or l where a figure was meant: "M1O×40".
var letterForDigit = regexp.MustCompile(`^M[\dOoIl]{1,3}[×xX][\dOoIl.]+(?:[×xX][\dOoIl.]+)?`)

var figures = strings.NewReplacer("O", "0", "o", "0", "I", "1", "l", "1")

// lettered reads such a size; false when it has no letter, no figure, or is no thread with the figures put in.
func lettered(m string, at int) (Oddity, bool) {
	write := figures.Replace(m)
	if t, n := threadPrefix(write); write == m || !strings.ContainsAny(m, "0123456789") || n != len(write) || !t.published() {
		return Oddity{}, false
	}
	return Oddity{Kind: "shape", Start: at, End: at + len(m), Typed: m, Write: write}, true
}

// oddities lists what starts like a thread and is none, or is one that the tables rule out.
func oddities(cell string, s *Spec) []Oddity {
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
		if c := cell[at]; c != 'M' && c != 'm' && c != '#' && !isDigit(c) {
			continue // nothing that is looked for begins so
		}
		if !mayBeThread(cell[at:]) {
			continue
		}
		if m := letterForDigit.FindString(cell[at:]); m != "" && ends(cell[at+len(m):]) {
			if o, bad := lettered(m, at); bad {
				odd = append(odd, o)
				at += len(m) - 1
				continue
			}
		}
		if m := likeThread.FindString(cell[at:]); m != "" && ends(cell[at+len(m):]) && (s.Thread == nil || !isDigit(m[0])) {
			odd = append(odd, misspelt(m, at))
			at += len(m) - 1
		}
	}
	return odd
}

// mayBeThread tells, of what begins with one of those, whether it is worth a closer look.
func mayBeThread(s string) bool {
	if c := s[0]; c == 'M' || c == 'm' {
		return len(s) > 1 && strings.IndexByte(" 0123456789OoIl", s[1]) >= 0
	}
	return strings.Contains(s, "UN") // of UNC, UNF, UNEF
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
	coarsest, known, right, pitch := 0.0, 0, false, t.PitchMM()
	for _, r := range reference.Threads() {
		if r.Inch != t.Inch || !near(r.Diameter, t.Diameter) {
			continue
		}
		coarsest = max(coarsest, r.Pitch)
		if t.listed(r) {
			known, right = known+1, right || near(r.Pitch, pitch)
		}
	}
	switch {
	case !t.Inch && known == 0 && t.Diameter != math.Trunc(t.Diameter):
		o.Kind = "shape" // a diameter between whole millimetres that no standard has
		return o, true
	case !t.Inch && coarsest > 0 && t.Pitch > coarsest+0.001:
		o.Kind = "pitch" // no pitch is coarser than the coarse one
	case t.Inch && known > 0 && !right:
		o.Kind = "threads"
	default:
		return Oddity{}, false
	}
	for _, r := range reference.Threads() {
		if t.listed(r) {
			o.Known = append(o.Known, r.Name)
		}
	}
	return o, true
}

// listed tells whether a row of the tables has the diameter, and the series of an inch thread.
func (t Thread) listed(r reference.Thread) bool {
	return r.Inch == t.Inch && near(r.Diameter, t.Diameter) && (!t.Inch || strings.HasSuffix(t.Name, " "+r.Series))
}
