// Package quantity knows numbers with units as a workshop writes them: `22 N·m`, `20..24 N·m`, `22 ±2 N·m`, `1/2 in`.
// Arithmetic is exact (rationals); figures keep the digits that were typed and are rounded only to print.
package quantity

import (
	"math/big"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Kind is what is measured. Units of one kind convert into each other.
type Kind int

// The kinds.
const (
	Torque Kind = iota + 1
	Length
	Volume
	Mass
	Time
	Pressure
	Temperature
	Angle
	Speed
	Rotation
	Force
	Voltage
	Current
	Resistance
	Flow
	Area
	Power
	Frequency
	Share // percent
)

// Word names a kind: "torque".
func (k Kind) Word() string {
	words := [...]string{
		"", "torque", "length", "volume", "mass", "time", "pressure", "temperature", "angle", "speed", "rotation", "force",
		"voltage", "current", "resistance", "flow", "area", "power", "frequency", "share",
	}
	if k < 0 || int(k) >= len(words) {
		return ""
	}
	return words[k]
}

// System is whose unit it is.
type System int

// The systems. Either is at home in both, such as minutes and volts.
const (
	Either System = iota
	Metric
	US
)

// Unit is one unit of measure. Value in the unit of reference = typed value × factor + offset, exactly.
type Unit struct {
	Name   string // as it prints: "N·m"
	Kind   Kind
	System System
	Joined bool // stands right behind its figure: "90°", "30%"
	factor *big.Rat
	offset *big.Rat
	also   []string

	reference bool // it is the unit of reference of its kind
}

func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("quantity: bad factor " + s) // impossible: the table is below
	}
	return r
}

func product(s ...string) *big.Rat {
	p := big.NewRat(1, 1)
	for _, f := range s {
		p.Mul(p, rat(f))
	}
	return p
}

// Exact definitions: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, standard gravity 9.80665 m/s², 1 US gallon = 231 in³
// (NIST SP 811, 2008, appendix B.6 and B.8).
const (
	inch    = "0.0254"
	pound   = "0.45359237"
	gravity = "9.80665"
	gallon  = "0.003785411784"
)

// units is the table made ready to look up: every spelling by its first byte, longest first.
type spelling struct {
	text string
	unit *Unit
}

type lookup struct {
	all   []*Unit
	exact [256][]spelling
	loose [256][]spelling // lower-cased, of three letters or more, by first byte
}

var units = build()

func build() *lookup {
	l := &lookup{}
	rows := table()
	for i := range rows {
		u := &rows[i]
		u.reference = u.factor.Cmp(big.NewRat(1, 1)) == 0 && u.offset.Sign() == 0
		l.all = append(l.all, u)
		for _, s := range append([]string{u.Name}, u.also...) {
			l.exact[s[0]] = append(l.exact[s[0]], spelling{s, u})
			if low := strings.ToLower(s); utf8.RuneCountInString(s) >= 3 {
				l.loose[low[0]] = append(l.loose[low[0]], spelling{low, u})
			}
		}
	}
	for _, lists := range []*[256][]spelling{&l.exact, &l.loose} {
		for _, list := range lists {
			sort.SliceStable(list, func(a, b int) bool { return len(list[a].text) > len(list[b].text) })
		}
	}
	return l
}

// Units lists all units in the order of the table.
func Units() []*Unit { return units.all }

// UnitNamed finds a unit by one of its spellings.
func UnitNamed(s string) (*Unit, bool) {
	u, n := unitPrefix(s)
	return u, u != nil && n == len(s)
}

// unitPrefix finds the longest spelling at the start of s with no letter or digit behind it.
func unitPrefix(s string) (*Unit, int) {
	if s == "" {
		return nil, 0
	}
	for _, sp := range units.exact[s[0]] {
		if strings.HasPrefix(s, sp.text) && !runsOn(s[len(sp.text):]) {
			return sp.unit, len(sp.text)
		}
	}
	first := s[0]
	if 'A' <= first && first <= 'Z' {
		first += 'a' - 'A'
	}
	for _, sp := range units.loose[first] {
		if len(s) >= len(sp.text) && strings.EqualFold(s[:len(sp.text)], sp.text) && !runsOn(s[len(sp.text):]) {
			return sp.unit, len(sp.text)
		}
	}
	return nil, 0
}

// runsOn tells whether a letter or digit follows: then the spelling was only the start of a word.
func runsOn(rest string) bool {
	r, _ := utf8.DecodeRuneInString(rest)
	return rest != "" && (unicode.IsLetter(r) || unicode.IsDigit(r) || r == '·' || r == '²' || r == '³')
}
