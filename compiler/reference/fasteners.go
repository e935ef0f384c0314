package reference

import (
	"strings"
	"sync"
)

// Thread is one published screw thread.
type Thread struct {
	Name     string  // "M8", "M8×1", "1/4-20", "#10-32"
	Series   string  // coarse, fine, UNC, UNF, UNS
	Inch     bool    // a unified thread
	Diameter float64 // nominal, mm
	Pitch    float64 // mm
	Area     float64 // published tensile stress area, mm²; 0 where none was read
}

// Strength is one strength class of bolts and screws over a range of sizes.
type Strength struct {
	Standard  string
	Name      string  // "8.8", "grade 5", "A2-70"
	Over      float64 // mm: the nominal diameter is above this
	To        float64 // mm: and at most this; 0 is no limit
	Proof     float64 // stress under proof load, MPa; of stainless steel its 0.2 % limit
	Yield     float64 // least yield or 0.2 % limit, MPa
	Tensile   float64 // least tensile strength, MPa
	Stainless bool
	Sure      bool // not from memory
}

// Width is the width across flats of a hexagon for a thread size by one standard.
type Width struct {
	Head     string  // hex, flange
	Part     string  // bolt, nut, any
	Standard string  // its name
	Inch     bool    // of the inch system
	Diameter float64 // of the thread, mm
	MM       float64 // across flats, mm
	Typed    string  // as a tool is called: "13 mm", "1/2 in"
	Sure     bool    // not from memory
}

// Drive is the key, bit or driver size of a recess for a thread size by one standard.
type Drive struct {
	Head     string // socket, button, countersunk, set screw, pan
	Drive    string // hexagon socket, hexalobular, cross recess
	Standard string
	Inch     bool
	Diameter float64 // of the thread, mm
	MM       float64 // of the key, mm; 0 for numbers
	Number   int     // T or PH number
	Typed    string  // "6 mm", "1/4 in", "T45", "PH2"
	Sure     bool    // not from memory
}

// Friction is a nut factor by the condition of the thread, as one source gives it.
type Friction struct {
	Condition string // dry, oiled, zinc, anti-seize, cadmium, threadlocker, stainless, not stated
	Low, High float64
	Source    string
	Sure      bool // not from memory
}

func sure(status string) bool { return status != "memory" }

// Threads gives the published threads: metric, then unified.
func Threads() []Thread { return threads() }

var threads = sync.OnceValue(func() []Thread {
	var all []Thread
	t := Open("threads-metric")
	for _, row := range t.Rows {
		cell := t.cells(row)
		all = append(all, Thread{Name: cell("thread"), Series: cell("series"), Diameter: number(cell("d")), Pitch: number(cell("pitch")), Area: number(cell("area"))})
	}
	t = Open("threads-unified")
	inch := millimetres("1", "in")
	for _, row := range t.Rows {
		cell := t.cells(row)
		all = append(all, Thread{
			Name: cell("thread"), Series: cell("series"), Inch: true, Diameter: millimetres(cell("d"), "in"),
			Pitch: inch / number(cell("tpi")), Area: number(cell("area")) * inch * inch,
		})
	}
	return all
})

// Strengths gives the strength classes of bolts and screws.
func Strengths() []Strength { return strengths() }

var strengths = sync.OnceValue(func() []Strength {
	var all []Strength
	t := Open("strengths")
	for _, row := range t.Rows {
		cell := t.cells(row)
		length := "mm"
		if cell("unit") == "ksi" {
			length = "in"
		}
		mega := func(c string) float64 { return in(cell(c), cell("unit")) / in("1", "MPa") }
		s := Strength{
			Standard: cell("standard"), Name: cell("class"), Over: millimetres(cell("over"), length), To: millimetres(cell("to"), length),
			Proof: mega("proof"), Yield: mega("yield"), Tensile: mega("tensile"), Sure: sure(cell("status")),
		}
		if cell("proof") == "" {
			s.Proof, s.Stainless = s.Yield, true
		}
		all = append(all, s)
	}
	return all
})

// NutPartner gives the class of the strongest bolt that a nut of a class such as "class 8" goes with, empty when none is known.
func NutPartner(class string) string { return nutPartners()[strings.ToLower(class)] }

var nutPartners = sync.OnceValue(func() map[string]string {
	all := map[string]string{}
	t := Open("nut-classes")
	for _, row := range t.Rows {
		cell := t.cells(row)
		all[cell("nut")] = cell("bolt")
	}
	return all
})

// Widths gives the widths across flats.
func Widths() []Width { return widths() }

var widths = sync.OnceValue(func() []Width {
	var all []Width
	t := Open("widths")
	for _, row := range t.Rows {
		cell := t.cells(row)
		d, inch := size(cell("thread"))
		all = append(all, Width{
			Head: cell("head"), Part: cell("part"), Standard: cell("standard"), Inch: inch, Diameter: d,
			MM: millimetres(cell("width"), cell("unit")), Typed: cell("width") + " " + cell("unit"), Sure: sure(cell("status")),
		})
	}
	return all
})

// Drives gives the key, bit and driver sizes.
func Drives() []Drive { return drives() }

var drives = sync.OnceValue(func() []Drive {
	var all []Drive
	t := Open("drives")
	for _, row := range t.Rows {
		cell := t.cells(row)
		d, inch := size(cell("thread"))
		x := Drive{Head: cell("head"), Drive: cell("drive"), Standard: cell("standard"), Inch: inch, Diameter: d, Sure: sure(cell("status"))}
		switch unit := cell("unit"); unit {
		case "T", "PH":
			x.Number, x.Typed = int(number(cell("size"))), unit+cell("size")
		default:
			x.MM, x.Typed = millimetres(cell("size"), unit), cell("size")+" "+unit
		}
		all = append(all, x)
	}
	return all
})

// size is the nominal diameter in mm of a thread size "M8", "1/4" or "#10": the number sizes stand in the table of threads.
func size(cell string) (mm float64, inch bool) {
	if metric, ok := strings.CutPrefix(cell, "M"); ok {
		return number(metric), false
	}
	if n, ok := strings.CutPrefix(cell, "#"); ok {
		return NumberSize(int(number(n))), true
	}
	return millimetres(cell, "in"), true
}

// NumberSize is the major diameter in mm of the number sizes of unified threads: 0.060 in and 0.013 in more for each number
// (ASME B1.1).
func NumberSize(n int) float64 {
	return Limit("number size") + float64(n)*Limit("number step")
}

// Frictions gives the nut factors, all sources.
func Frictions() []Friction { return frictions() }

var frictions = sync.OnceValue(func() []Friction {
	var all []Friction
	t := Open("friction")
	for _, row := range t.Rows {
		cell := t.cells(row)
		all = append(all, Friction{cell("condition"), number(cell("low")), number(cell("high")), cell("source"), sure(cell("status"))})
	}
	return all
})

// LockingNut is the least torque of a locking nut that may be used again, by one source.
type LockingNut struct {
	Diameter, Pitch float64 // of the thread, mm
	Kind            string  // running, breakaway
	Least           string  // as printed, in lbf·in
	Source          string
}

// LockingNuts gives them; all are for unified threads.
func LockingNuts() []LockingNut { return lockingNuts() }

var lockingNuts = sync.OnceValue(func() []LockingNut {
	var all []LockingNut
	t := Open("locking-nuts")
	for _, row := range t.Rows {
		cell := t.cells(row)
		name := cell("thread")
		cut := strings.LastIndexByte(name, '-')
		d := name[:cut]
		if d == "10" {
			d = "#10" // aircraft tables leave the sign out
		}
		mm, _ := size(d)
		all = append(all, LockingNut{mm, millimetres("1", "in") / number(name[cut+1:]), cell("kind"), cell("least"), cell("source")})
	}
	return all
})

// Limit gives one figure that checks judge by, by its name in the table limits: a ratio, or mm.
func Limit(name string) float64 {
	f, ok := limits()[name]
	if !ok {
		panic("reference: no limit " + name) // impossible: the tests read every limit that the code names
	}
	return f
}

var limits = sync.OnceValue(func() map[string]float64 {
	all := map[string]float64{}
	t := Open("limits")
	for _, row := range t.Rows {
		cell := t.cells(row)
		if unit := cell("unit"); unit == "in" {
			all[cell("limit")] = millimetres(cell("value"), unit)
		} else {
			all[cell("limit")] = number(cell("value"))
		}
	}
	return all
})
