package hardware

import (
	"math"
	"slices"
	"strings"

	"refitcard/compiler/reference"
)

// Fit says whether a tool turns a fastener.
type Fit int

// The answers. Unsure is given whenever the tables or the words leave a way out.
const (
	Unsure Fit = iota
	DoesFit
	DoesNotFit
)

// Fastener is a part as its row gives it.
type Fastener struct {
	Name string // "cover bolt"
	Spec *Spec
}

// Fitting is one size that turns a fastener.
type Fitting struct {
	Size     Size
	Standard string // that says so; "its Spec" where the size is written
	Sure     bool   // not from memory
}

// Fits tells whether the tool turns the fastener, and gives the reason in words: the sizes that do, with their standards. The
// reason is empty when nobody can tell.
func (t Tool) Fits(f Fastener) (Fit, string) {
	takes, complete := f.Takes()
	fit := t.FitsAny(takes, complete)
	if fit == Unsure {
		return fit, ""
	}
	return fit, Sizes(takes)
}

// FitsAny is Fits for a fastener whose sizes have been looked up.
func (t Tool) FitsAny(takes []Fitting, complete bool) Fit {
	if !t.Turns() || t.Kind == Grips || len(takes) == 0 {
		return Unsure
	}
	if t.Adjustable {
		if slices.ContainsFunc(takes, func(x Fitting) bool { return x.Size.System == AcrossFlats }) {
			return DoesFit
		}
		return DoesNotFit
	}
	if t.Size == nil {
		return Unsure
	}
	fit := t.Size.among(takes, complete, t.Vague)
	for _, other := range t.Others {
		if o := other.among(takes, complete, t.Vague); o == DoesFit || fit == DoesNotFit {
			fit = o
		}
	}
	return fit
}

// among compares a tool's size with all that turn a fastener.
func (s Size) among(takes []Fitting, complete, vague bool) Fit {
	best := DoesNotFit
	if !complete || !certain(takes, s.System) {
		best = Unsure
	}
	for _, x := range takes {
		switch s.turns(x.Size, vague) {
		case DoesFit:
			return DoesFit
		case Unsure:
			best = Unsure
		}
	}
	return best
}

// certain tells whether a size that is not among these can be ruled out: what is known from memory only rules nothing out.
func certain(takes []Fitting, system System) bool {
	any, mine, sure := false, false, false
	for _, x := range takes {
		any = any || x.Sure
		mine = mine || x.Size.System == system
		sure = sure || x.Size.System == system && x.Sure
	}
	return any && (!mine || sure)
}

// turns compares a tool's size with a fastener's. An inch tool and a metric head, or the other way round, may be too near for
// anybody to tell. A vague tool may be of either kind of hexagon.
func (s Size) turns(want Size, vague bool) Fit {
	hexagons := vague && s.System != want.System && s.System <= HexKey && want.System <= HexKey
	if s.System != want.System && !hexagons {
		return DoesNotFit
	}
	switch s.System {
	case Blade:
		return DoesFit // the width of a blade is a matter of what is at hand
	case Hexalobular, CrossRecess:
		if s.Number == want.Number {
			return DoesFit
		}
		return DoesNotFit
	}
	gap := math.Abs(s.MM - want.MM)
	switch {
	case gap < 0.01 && !hexagons:
		return DoesFit
	case gap < 0.01, s.Inch != want.Inch && gap <= reference.Limit("near enough"):
		return Unsure
	}
	return DoesNotFit
}

// Sizes lists the sizes in words, each once, with the standards that are not from memory: "16 mm (ISO 4014), 17 mm (DIN 931)".
func Sizes(takes []Fitting) string {
	var words []string
	for i, x := range takes {
		first := slices.IndexFunc(takes, func(y Fitting) bool { return y.Sure && y.Size.System == x.Size.System && y.Size.Typed == x.Size.Typed })
		if first != i {
			continue
		}
		standard, _, _ := strings.Cut(x.Standard, " / ")
		standard, _, _ = strings.Cut(standard, " (")
		words = append(words, x.Size.Typed+" ("+standard+")")
	}
	return strings.Join(words, ", ")
}

// special lists words in the name of a threaded part whose size follows no standard for bolts, screws and nuts.
var special = []string{
	"plug", "spark", "banjo", "bleed", "bleeder", "nipple", "union", "fitting", "wheel", "lug", "hub", "axle", "propeller", "spindle",
	"shaft", "adjuster", "adjusting", "packing", "compression", "wing", "knob", "thumb", "eye", "stud", "sensor",
	"switch", "barrel", "weld", "coach", "carriage", "cup", "shear", "impeller", "pinion", "crank", "crankshaft", "flywheel",
	"rod", "ball", "flare", "dome", "acorn", "shoulder", "pivot",
}

// lending lists words that do so in the name of a nut, and are a part that it holds in the name of a bolt or a screw.
var lending = []string{"cap", "gland", "ring", "valve", "hose", "pipe", "lock", "coupling", "lifting"}

// told is what the name of a part tells of how it is turned.
type told struct {
	ordinary bool // a bolt, a screw or a nut of the kind that the standards are about
	nut      bool
	grub     bool // it may mean a screw without a head: a set screw, or a grub screw
}

func (t told) index() int {
	i := 0
	for _, yes := range [...]bool{t.ordinary, t.nut, t.grub} {
		i *= 2
		if yes {
			i++
		}
	}
	return i
}

func (f Fastener) told() told {
	var room [roomForWords]byte
	w := wordsOf(room[:0], f.Name, "")
	t := told{nut: w.endIn("nut"), grub: w.has("screw") && w.hasAny("set", "grub") || w.has("setscrew")}
	if t.nut || w.endIn("bolt") || w.endIn("screw") || w.endIn("capscrew") || w.endIn("setscrew") {
		// A part that a bolt holds lends it its name: "cap bolt", "gland bolt", "wheel bolt". A nut of that name is a thing of
		// its own, and so are wheel bolts and a few more.
		t.ordinary = !w.hasAny(special...) && (!t.nut || !w.hasAny(lending...))
	}
	return t
}

// turned tells whether the Spec says something of what turns the part.
func (s *Spec) turned() bool {
	return s.Size != nil || s.slotted() || (s.Head != "" || s.Nut != "") && s.Thread != nil && !s.Bare
}

func (s *Spec) slotted() bool { return s.Head == "slotted" && len(s.Heads) == 1 }

// takes is Takes for a Spec that says something of what turns the part.
func (s *Spec) takes(t told) (takes []Fitting, complete bool) {
	if s.Size != nil {
		return []Fitting{{*s.Size, "its Spec", true}}, true
	}
	if s.slotted() {
		return []Fitting{{Size{System: Blade, Typed: "a slotted screwdriver"}, "its Spec", true}}, true
	}
	complete = t.ordinary && !s.Unusual && s.Thread.published()
	takes = append(s.widths(t), s.drives(t)...)
	if slices.Contains(s.Heads, "cross recess") && s.Thread.Inch {
		complete = false // the tables have truss heads only
	}
	if slices.Contains(s.Heads, "slotted") || s.Head == "countersunk" && len(s.Heads) == 1 {
		takes = append(takes, Fitting{Size{System: Blade, Typed: "a slotted screwdriver"}, "slotted heads", false})
	}
	return slices.Clip(takes), complete
}

// widths gives the widths across flats that the standards know for the thread, when its drive is an outer hexagon.
func (s *Spec) widths(t told) []Fitting {
	flange := slices.Contains(s.Heads, "flange")
	if !flange && s.Head != "hex" && (s.Head != "" || s.Nut == "") {
		return nil
	}
	part := "bolt"
	if s.Nut != "" || t.nut {
		part = "nut"
	}
	var all, others []Fitting
	for _, w := range reference.Widths() {
		if w.Inch != s.Thread.Inch || !near(w.Diameter, s.Thread.Diameter) || (w.Head == "flange") != flange {
			continue
		}
		if w.Inch && w.Part != part && w.Part != "any" {
			continue // inch nuts and bolts differ; metric ones are alike, and a name may mislead
		}
		x := Fitting{Size{System: AcrossFlats, MM: w.MM, Typed: w.Typed, Inch: w.Inch}, w.Standard, w.Sure}
		if w.Part == part {
			all = append(all, x)
		} else {
			others = append(others, x)
		}
	}
	return append(all, others...)
}

// drives gives the keys, bits and drivers that the standards know for the thread, when its drive is a recess.
func (s *Spec) drives(t told) []Fitting {
	shape := ""
	for _, w := range []string{"countersunk", "button", "socket"} {
		if slices.Contains(s.Heads, w) {
			shape = w
			break
		}
	}
	wanted := ""
	switch {
	case slices.Contains(s.Heads, "hexalobular"):
		wanted = "hexalobular"
	case slices.Contains(s.Heads, "cross recess"):
		wanted = "cross recess"
	case slices.Contains(s.Heads, "socket") || slices.Contains(s.Heads, "hex") && shape != "":
		wanted = "hexagon socket"
	case shape == "":
		return nil
	}
	grub := s.Grub || t.grub
	var all []Fitting
	for _, d := range reference.Drives() {
		head := d.Head == shape || shape == "" || grub && d.Head == "set screw"
		if wanted == "cross recess" {
			head = true // pan and countersunk heads have equal numbers
		}
		if d.Inch != s.Thread.Inch || !near(d.Diameter, s.Thread.Diameter) || !head || wanted != "" && d.Drive != wanted {
			continue
		}
		x := Fitting{Size{MM: d.MM, Number: d.Number, Typed: d.Typed, Inch: d.Inch}, d.Standard, d.Sure}
		x.Size.System = map[string]System{"hexagon socket": HexKey, "hexalobular": Hexalobular, "cross recess": CrossRecess}[d.Drive]
		all = append(all, x)
	}
	return all
}
