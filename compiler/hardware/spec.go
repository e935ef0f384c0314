// Package hardware knows what the standards say of a thread, a head, a drive and a strength. It reads what a part or a tool is
// said to be, and computes: the preload of a torque, the setting of a wrench, whether a tool fits. It never guesses: what can't
// be told for certain is said to be so.
package hardware

import (
	"slices"
	"strings"

	"refitcard/compiler/quantity"
)

// Spec is what was understood of a Spec cell. Fields are empty for what is not written.
type Spec struct {
	Thread    *Thread
	Strength  string          // as typed: "8.8", "A2-70", "grade 5", "class 8"
	Head      string          // hex, flange, socket, button, countersunk, hexalobular, cross recess, slotted: the most telling one
	Heads     []string        // all words of heads and drives: "countersunk", "hexalobular"
	Nut       string          // nylon insert, castle, jam
	Grub      bool            // a screw without a head
	Unusual   bool            // a word stands there that puts it outside the standards for bolts, screws and nuts
	Size      *Size           // a size that differs from the standard's
	Bare      bool            // a bare length stands there, which may be a size or something else
	Condition []string        // dry, oiled, zinc, anti-seize, threadlocker
	Joint     string          // aluminium, plastic
	Mass      *quantity.Value // "18 kg"
	Thickness *quantity.Value // "3.0 ±0.05 mm thick"
	Items     []Item          // what was understood, in order
	Odd       []Oddity        // what starts like a thread and is none

	known *lookups // what the tables say of it; nil for a Spec that was not read from a cell
}

// NoSpec is that of a part without one. Nobody may change it.
var NoSpec = &Spec{}

// Item is one thing understood in the cell, bytes Start up to End.
type Item struct {
	Kind       string // thread, strength, head, nut, size, condition, joint, mass, thickness
	Start, End int
}

// System tells what a size measures.
type System int

// The systems of sizes.
const (
	AcrossFlats System = iota // of a hexagon, or of the key of a hexagon socket
	HexKey
	Hexalobular // T number
	CrossRecess // PH or PZ number
	Blade       // of a slotted driver
)

// Size is the size of a drive: mm across flats, or a number.
type Size struct {
	System System
	MM     float64 // for hexagons, keys and blades
	Number int     // for T, PH and PZ
	Typed  string
	Inch   bool // typed in inches
}

var heads = []string{"hexalobular", "countersunk", "cross recess", "slotted", "flange", "flanged", "socket", "button", "hexagon", "hex"}

// unusual lists words that put a part outside the standards for bolts, screws and nuts.
var unusual = []string{
	"plug", "banjo", "bleed", "union", "wheel", "lug", "domed", "dome", "acorn", "cap", "square", "12 point", "twelve point", "external",
	"wing", "thumb", "coach", "carriage", "special", "shoulder", "shouldered", "pipe", "fitting", "stud", "eye", "made here", "turned down",
}

var nuts = []string{"nylon insert", "castle", "jam"}

var conditions = []string{"anti-seize", "threadlocker", "oiled", "zinc", "dry"}

// kinds are the words that say something of a part, by what they say.
var kinds = []struct {
	kind  string
	words []string
}{{"head", heads}, {"nut", nuts}, {"condition", conditions}, {"joint", []string{"in aluminium", "in plastic"}}}

// longest is how many bytes of a cell or a bullet are read: what stands behind them is prose.
const longest = 400

// ParseSpec reads a Spec cell. What it does not know it leaves alone.
func ParseSpec(cell string) *Spec {
	s := &Spec{known: &lookups{}}
	cell = cell[:min(len(cell), longest)]
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
	s.Head = telling(s.Heads)
	var room [roomForWords]byte
	w := wordsOf(room[:0], cell, ",")
	s.Grub = w.hasAny("set screw", "grub", "cup point", "dog point", "cone point", "flat point")
	s.Unusual = w.hasAny(unusual...)
	s.sizes(cell)
	s.Odd = oddities(cell, s)
	return s
}

func boundary(c byte) bool { return strings.IndexByte(" ,;(/\t", c) >= 0 }

// item reads one thing of the cell and gives its length, 0 when nothing is understood here.
func (s *Spec) item(cell string, at int) int {
	rest := cell[at:]
	if t, n := threadPrefix(rest); n > 0 && s.Thread == nil {
		s.Thread = t
		return s.note("thread", at, n)
	}
	if n := strengthPrefix(rest); n > 0 && s.Strength == "" {
		s.Strength = rest[:n]
		return s.note("strength", at, n)
	}
	if size, n := recessPrefix(rest); n > 0 {
		s.Size = &size
		return s.note("size", at, n)
	}
	if figured(rest) {
		return s.quantity(rest, at)
	}
	for _, w := range kinds {
		for _, word := range w.words {
			if hasWord(rest, word) {
				s.put(w.kind, word)
				return s.note(w.kind, at, len(word))
			}
		}
	}
	return 0
}

func (s *Spec) note(kind string, at, n int) int {
	s.Items = append(s.Items, Item{kind, at, at + n})
	return n
}

// quantity reads a length, a mass or a thickness.
func (s *Spec) quantity(rest string, at int) int {
	v, n, p := quantity.Prefix(rest)
	if x, k := asLength(rest, v, n, p); k > 0 && x.Inch && strings.Contains(x.Typed, "-") {
		return s.note("length", at, k)
	}
	switch {
	case n == 0 || p != nil:
		return 0
	case v.Unit.Kind == quantity.Length && strings.HasPrefix(strings.TrimLeft(rest[n:], " "), "thick"):
		s.Thickness = &v
		return s.note("thickness", at, n)
	case v.Unit.Kind == quantity.Mass:
		s.Mass = &v
		return s.note("mass", at, n)
	case v.Unit.Kind == quantity.Length && v.Form == quantity.Exact:
		return s.note("length", at, n) // sizes decides what it is
	}
	return n
}

func (s *Spec) put(kind, word string) {
	switch kind {
	case "head":
		switch word {
		case "hexagon":
			word = "hex"
		case "flanged":
			word = "flange"
		}
		s.Heads = append(s.Heads, word)
	case "nut":
		s.Nut = word
	case "condition":
		s.Condition = append(s.Condition, word)
	case "joint":
		s.Joint = strings.TrimPrefix(word, "in ")
	}
}

// telling is the word that says most about the drive: "hex socket" is a socket, "button hexalobular" is hexalobular.
func telling(words []string) string {
	for _, w := range heads {
		if slices.Contains(words, w) {
			return w
		}
	}
	return ""
}

// sizes decides what each bare length is. It is a size when it stands with a head in one part of the cell between commas and no
// noun follows ("hex 17 mm", "17 mm hex"), or where "across flats" follows. With a noun ("30 mm long", "40 mm bore") it is none;
// otherwise nobody can tell.
func (s *Spec) sizes(cell string) {
	kept := s.Items[:0]
	for _, item := range s.Items {
		if item.Kind != "length" {
			kept = append(kept, item)
			continue
		}
		after := strings.TrimLeft(cell[item.End:], " ")
		switch {
		case hasWord(after, "across flats"), hasWord(after, "AF"), s.beside(cell, item) && s.closes(cell, item.End):
			size, _ := lengthPrefix(cell[item.Start:])
			if s.Head == "socket" || s.Head == "button" || s.Head == "countersunk" {
				size.System = HexKey
			}
			s.Size = &size
			item.Kind = "size"
			kept = append(kept, item)
		case s.closes(cell, item.End):
			s.Bare = true
		}
	}
	s.Items = kept
}

// closes tells whether nothing but things understood follows up to the next comma.
func (s *Spec) closes(cell string, at int) bool {
	for at < len(cell) {
		switch c := cell[at]; {
		case c == ' ' || c == '\t':
			at++
		case c == ',' || c == ';' || c == ')' || c == '(':
			return true
		default:
			i := slices.IndexFunc(s.Items, func(x Item) bool { return x.Start == at })
			if i < 0 {
				return false
			}
			at = s.Items[i].End
		}
	}
	return true
}

// beside tells whether a head stands in the same part of the cell between commas.
func (s *Spec) beside(cell string, item Item) bool {
	from := strings.LastIndexAny(cell[:item.Start], ",;") + 1
	to := len(cell)
	if i := strings.IndexAny(cell[item.End:], ",;"); i >= 0 {
		to = item.End + i
	}
	return slices.ContainsFunc(s.Items, func(x Item) bool { return x.Kind == "head" && x.Start >= from && x.End <= to })
}

func ends(rest string) bool {
	return rest == "" || boundary(rest[0]) || rest[0] == '.' || rest[0] == ')'
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }
