// Package hardware reads what a part or a tool is said to be: threads, strengths, heads, sizes, ranges.
package hardware

import (
	"math/big"
	"strings"
	"unicode"

	"refitcard/compiler/quantity"
)

// Spec is what was understood of a Spec cell. Fields are empty for what is not written.
type Spec struct {
	Thread    *Thread
	Strength  string          // "8.8", "A2-70", "grade 5", "class 8"
	Head      string          // hex, flange, socket, button, countersunk, hexalobular, cross recess, slotted
	Nut       string          // nylon insert, castle, jam
	Size      *Size           // a size that differs from the standard's
	Condition []string        // dry, oiled, zinc, anti-seize, threadlocker
	Joint     string          // aluminium, plastic
	Mass      *quantity.Value // "18 kg"
	Thickness *quantity.Value // "3.0 ±0.05 mm thick"
	Items     []Item          // what was understood, in order
}

// Item is one thing understood in the cell, bytes Start up to End.
type Item struct {
	Kind       string // thread, strength, head, nut, size, condition, joint, mass, thickness
	Start, End int
}

// Thread is a screw thread by its designation.
type Thread struct {
	Name     string  // "M8", "M14×1.5", "1/4-20 UNC"
	Diameter float64 // mm
	Pitch    float64 // mm; 0 for a metric coarse pitch that is not written
	Inch     bool
	Length   string // of the fastener, as typed: "30", "3/4"
}

// System tells what a size measures.
type System int

// The systems of sizes.
const (
	AcrossFlats System = iota // of a hexagon, or of the key of a hexagon socket
	HexKey
	Hexalobular // T number
	CrossRecess // PH number
	Blade       // of a slotted driver
)

// Size is the size of a drive: mm across flats, or a number.
type Size struct {
	System System
	MM     float64 // for hexagons, keys and blades
	Number int     // for T and PH
	Typed  string
}

var heads = []string{"hexalobular", "countersunk", "cross recess", "slotted", "flange", "socket", "button", "hex"}

var nuts = []string{"nylon insert", "castle", "jam"}

var conditions = []string{"anti-seize", "threadlocker", "oiled", "zinc", "dry"}

// ParseSpec reads a Spec cell. What it does not know it leaves alone.
func ParseSpec(cell string) Spec {
	s := Spec{}
	for i := 0; i < len(cell); {
		if i > 0 && !boundary(cell[i-1]) {
			i++
			continue
		}
		n := s.item(cell, i)
		if n == 0 {
			n = 1
		}
		i += n
	}
	return s
}

func boundary(c byte) bool { return strings.IndexByte(" ,;(/\t", c) >= 0 }

func (s *Spec) item(cell string, at int) int {
	rest := cell[at:]
	note := func(kind string, n int) int {
		s.Items = append(s.Items, Item{kind, at, at + n})
		return n
	}
	if t, n := threadPrefix(rest); n > 0 && s.Thread == nil {
		s.Thread = t
		return note("thread", n)
	}
	if n := strengthPrefix(rest); n > 0 && s.Strength == "" {
		s.Strength = rest[:n]
		return note("strength", n)
	}
	if size, n := recessPrefix(rest); n > 0 {
		s.Size = &size
		return note("size", n)
	}
	if v, n, p := quantity.Prefix(rest); n > 0 && p == nil {
		switch tail := rest[n:]; {
		case v.Unit.Kind == quantity.Length && strings.HasPrefix(strings.TrimLeft(tail, " "), "thick"):
			s.Thickness = &v
			return note("thickness", n)
		case v.Unit.Kind == quantity.Mass:
			s.Mass = &v
			return note("mass", n)
		case v.Unit.Kind == quantity.Length && v.Form == quantity.Exact:
			s.Size = &Size{AcrossFlats, v.Float() * 1000, 0, rest[:n]}
			return note("size", n)
		}
		return n
	}
	for _, w := range []struct {
		kind  string
		words []string
	}{{"head", heads}, {"nut", nuts}, {"condition", conditions}, {"joint", []string{"in aluminium", "in plastic"}}} {
		for _, word := range w.words {
			if hasWord(rest, word) {
				s.put(w.kind, word)
				return note(w.kind, len(word))
			}
		}
	}
	return 0
}

func (s *Spec) put(kind, word string) {
	switch kind {
	case "head":
		s.Head = word
	case "nut":
		s.Nut = word
	case "condition":
		s.Condition = append(s.Condition, word)
	case "joint":
		s.Joint = strings.TrimPrefix(word, "in ")
	}
}

func hasWord(s, word string) bool {
	if len(s) < len(word) || !strings.EqualFold(s[:len(word)], word) {
		return false
	}
	return len(s) == len(word) || !unicode.IsLetter(rune(s[len(word)]))
}

func strengthPrefix(s string) int {
	words := []string{"12.9", "10.9", "9.8", "8.8", "6.8", "5.8", "5.6", "4.8", "4.6"}
	for _, w := range words {
		if strings.HasPrefix(s, w) && ends(s[len(w):]) {
			return len(w)
		}
	}
	if len(s) >= 4 && (s[0] == 'A' || s[0] == 'F' || s[0] == 'C') && isDigit(s[1]) && s[2] == '-' {
		n := 3
		for n < len(s) && isDigit(s[n]) {
			n++
		}
		if n > 3 && ends(s[n:]) {
			return n
		}
	}
	for _, w := range []string{"grade ", "class "} {
		if len(s) > len(w) && strings.EqualFold(s[:len(w)], w) {
			n := len(w)
			for n < len(s) && (isDigit(s[n]) || s[n] == '.' && n+1 < len(s) && isDigit(s[n+1])) {
				n++
			}
			if n > len(w) {
				return n
			}
		}
	}
	return 0
}

func recessPrefix(s string) (Size, int) {
	for _, p := range []struct {
		letters string
		system  System
	}{{"PH", CrossRecess}, {"T", Hexalobular}} {
		rest, ok := strings.CutPrefix(s, p.letters)
		n := 0
		for ok && n < len(rest) && isDigit(rest[n]) && n < 3 {
			n++
		}
		if ok && n > 0 && ends(rest[n:]) {
			number, _ := new(big.Int).SetString(rest[:n], 10)
			return Size{p.system, 0, int(number.Int64()), s[:len(p.letters)+n]}, len(p.letters) + n
		}
	}
	return Size{}, 0
}

func ends(rest string) bool {
	return rest == "" || boundary(rest[0]) || rest[0] == '.' || rest[0] == ')'
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

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
	return t, end
}

func unified(s string) (*Thread, int) {
	start, inch := 0, 0.0
	if strings.HasPrefix(s, "#") {
		start = 1
	}
	d, n := quantity.NumberPrefix(s[start:])
	end := start + n
	if n == 0 || end >= len(s) || s[end] != '-' {
		return nil, 0
	}
	pitch, m := quantity.NumberPrefix(s[end+1:])
	if m == 0 || strings.ContainsAny(pitch.Typed, "./") {
		return nil, 0
	}
	inch, _ = d.Rat.Float64()
	if start == 1 {
		inch = 0.060 + 0.013*inch // number sizes, ASME B1.1
	}
	per, _ := pitch.Rat.Float64()
	end += 1 + m
	t := &Thread{Diameter: inch * 25.4, Pitch: 25.4 / per, Inch: true}
	rest := strings.TrimLeft(s[end:], " ")
	for _, series := range []string{"UNC", "UNF", "UNEF", "UNS"} {
		if strings.HasPrefix(rest, series) {
			end = len(s) - len(rest) + len(series)
		}
	}
	t.Name = s[:end]
	if inch > 4 || per < 4 {
		return nil, 0
	}
	if k := times(s[end:]); k > 0 {
		v, m := quantity.NumberPrefix(s[end+k:])
		t.Length = v.Typed
		end += k + m
	}
	return t, end
}
