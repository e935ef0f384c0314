package hardware

import (
	"slices"
	"strings"

	"refitcard/compiler/quantity"
)

// ToolKind is what a tool does.
type ToolKind int

// The kinds of tools.
const (
	OtherTool ToolKind = iota
	TurnsHexagon
	TurnsRecess
	AppliesTorque
	Measures
	Lifts
	Catches
	Grips // turns round or worn things without a size: a strap wrench, a pipe wrench, pliers
)

// Tool is what was understood of a tool's name and details.
type Tool struct {
	Kind       ToolKind
	Size       *Size  // of a turning tool; nil for an adjustable one, a set, or when it is not written
	Others     []Size // the other ends of a double-ended one
	Adjustable bool
	Crowfoot   bool
	HexKey     bool            // turned by hand: no torque wrench takes it
	Vague      bool            // "hex socket", "T-handle": for hexagons, or with a hexagon
	Range      *quantity.Value // what it applies or measures
	Length     *quantity.Value // of a torque wrench or an adapter
	Angle      *quantity.Value // at which an adapter stands to the wrench; nil is in line
	Load       *quantity.Value // what it lifts or bears
	Volume     *quantity.Value // what it catches
}

// Calibrated tells whether its serial and calibration date are written down: it measures, or applies a torque.
func (t Tool) Calibrated() bool { return t.Kind == AppliesTorque || t.Kind == Measures }

// Turns tells whether it turns a fastener.
func (t Tool) Turns() bool { return t.Kind == TurnsHexagon || t.Kind == TurnsRecess || t.Kind == Grips }

// kindWords lists the words of each kind; the first kind with a word in the name is taken. "set" and sizes don't matter here.
var kindWords = []struct {
	kind  ToolKind
	words []string
}{
	{AppliesTorque, []string{"torque wrench", "torque spanner", "torque screwdriver", "torque multiplier", "torque driver", "torque handle"}},
	{Measures, []string{
		"gauge", "micrometer", "calliper", "caliper", "rule", "ruler", "dial indicator", "straightedge", "straight edge", "spirit level",
		"scale", "stopwatch", "tape measure", "protractor",
	}},
	{OtherTool, []string{"drill bit", "bit holder", "socket extension", "ratchet handle", "wrench holder", "spanner rack"}},
	{Lifts, []string{"hoist", "jack", "stand", "sling", "strop", "crane", "winch", "shackle", "eyebolt", "eye bolt", "lifting", "chain block", "pull lift"}},
	{Grips, []string{
		"strap wrench", "strap spanner", "chain wrench", "pipe wrench", "filter wrench", "pliers", "grip", "hook spanner", "hook wrench", "c spanner",
		"pin spanner", "pin wrench", "peg spanner", "impact driver",
	}},
	{Catches, []string{"pan", "tray", "bucket", "drum", "container", "basin"}},
	{TurnsRecess, []string{
		"hex key", "hexagon key", "hex wrench", "hexagon wrench", "ball end key", "l key", "hex bit", "hex driver", "screwdriver", "bit socket",
		"socket bit", "bit", "t handle",
	}},
	{TurnsHexagon, []string{
		"socket", "wrench", "spanner", "crowfoot", "crow foot", "nut driver", "nut spinner", "nut runner", "wheel brace", "speed brace", "ratchet",
		"breaker bar",
	}},
}

// ParseTool reads the name of a tool, such as "6 mm hex bit socket", and its details, such as "5–50 N·m, 450 mm". Whole words
// count: a spanner holds no pan.
func ParseTool(name, detail string) Tool {
	name, detail = name[:min(len(name), longest)], detail[:min(len(detail), longest)]
	var room [roomForWords]byte
	w := wordsOf(room[:0], name, "")
	t := Tool{Adjustable: w.has("adjustable"), Crowfoot: w.hasAny("crowfoot", "crow foot")}
	for _, row := range kindWords {
		if w.hasAny(row.words...) || row.kind == Measures && (w.ending("meter") || w.ending("gauge")) { // a multimeter, a thermometer
			t.Kind = row.kind
			break
		}
	}
	if t.Kind == OtherTool && numbered(name) && !w.hasAny("drill bit", "bit holder") {
		t.Kind = TurnsRecess // "T30 driver"
	}
	t.HexKey = t.Kind == TurnsRecess && w.hasAny("hex key", "hexagon key", "hex wrench", "hexagon wrench", "ball end key", "l key")
	t.Vague = t.Kind == TurnsHexagon && w.hasAny("hex socket", "hexagon socket") || t.Kind == TurnsRecess && w.has("t handle") && !w.has("hex") || oddWrench(w)
	if t.Kind == TurnsHexagon || t.Kind == TurnsRecess {
		drive := w.hasAny("impact wrench", "air wrench", "breaker bar") || w.has("ratchet") && !w.hasAny("spanner", "wrench", "socket")
		if !t.Adjustable && !w.has("set") && !drive {
			t.sizes(name, detail, w.hasAny("slotted", "flat", "flat blade"))
		}
	}
	for piece := range strings.SplitSeq(detail, ",") {
		t.detail(strings.TrimSpace(piece))
	}
	return t
}

// roomForWords is how many bytes the words of nearly all names need: they take no memory of their own.
const roomForWords = 128

// wrenches lists the words that stand before "wrench" for a tool that goes round a hexagon.
var wrenches = []string{"end", "ring", "box", "combination", "nut", "socket", "ratchet", "line", "mm", "in", "ended", "offset", "crowfoot", "foot", "tee", "adjustable"}

// oddWrench tells whether a wrench has a word before it that may make it a key for recesses.
func oddWrench(w words) bool {
	before := w.before("wrench")
	return before != "" && !slices.Contains(wrenches, before)
}

// numbered tells whether a name holds the number of a driver: T30, PH2.
func numbered(name string) bool {
	for w := range strings.FieldsSeq(name) {
		if _, n := recessPrefix(w); n == len(w) {
			return true
		}
	}
	return false
}

// sizes reads the size, or the sizes of a double-ended tool, from the first piece that has one. The size of a square drive
// ("1/2 in drive") and lengths ("long", "deep") are none.
func (t *Tool) sizes(name, detail string, blade bool) {
	system := AcrossFlats
	if t.Kind == TurnsRecess {
		system = HexKey
		if blade {
			system = Blade
		}
	}
	found := t.size(name, system)
	if found || t.Crowfoot { // the details of a crowfoot are its length and its angle
		return
	}
	for piece := range strings.SplitSeq(detail, ",") {
		if t.size(piece, system) {
			return
		}
	}
}

// size reads the size, or the pair of sizes, that stands in a piece; false when there is none.
func (t *Tool) size(piece string, system System) bool {
	for i := range len(piece) {
		if i > 0 && !boundary(piece[i-1]) {
			continue
		}
		rest := piece[i:]
		if s, n := recessPrefix(rest); n > 0 && t.Kind == TurnsRecess {
			t.Size = &s
			return true
		}
		if !figured(rest) {
			continue
		}
		if pair, typed, u, n := dual(rest); n > 0 {
			factor, _ := u.Factor()
			f, _ := factor.Float64()
			us := u.System == quantity.US
			t.Size = &Size{System: system, MM: pair[0] * f * 1000, Typed: typed[0], Inch: us}
			t.Others = []Size{{System: system, MM: pair[1] * f * 1000, Typed: typed[1], Inch: us}}
			return true
		}
		size, n := lengthPrefix(rest)
		if n == 0 || noSize(rest[n:]) {
			continue
		}
		size.System = system
		t.Size = &size
		return true
	}
	return false
}

// noSize tells whether a length is followed by a word that says it is something else.
func noSize(after string) bool {
	after = strings.TrimLeft(after, " -")
	for _, w := range []string{"drive", "square", "long", "deep", "extension"} {
		if hasWord(after, w) {
			return true
		}
	}
	return false
}

func (t *Tool) detail(piece string) {
	piece = strings.TrimPrefix(piece, "at ")
	if !figured(piece) {
		return
	}
	v, n, p := quantity.Prefix(piece)
	if n == 0 || p != nil {
		return
	}
	switch {
	case t.Kind == AppliesTorque && v.Unit.Kind == quantity.Torque, t.Kind == Measures && t.Range == nil:
		t.Range = &v
	case t.Kind == Lifts && v.Unit.Kind == quantity.Mass:
		t.Load = &v
	case v.Unit.Kind == quantity.Volume:
		t.Volume = &v
	case v.Unit.Kind == quantity.Angle && t.Crowfoot:
		t.Angle = &v
	case v.Unit.Kind == quantity.Length && (t.Kind == AppliesTorque || t.Crowfoot):
		t.Length = &v
	}
}
