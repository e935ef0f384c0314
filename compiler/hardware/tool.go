package hardware

import (
	"slices"
	"strings"
	"unicode"

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
	low := spacedWords(name)
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return holds(low, w) })
	}
	t := Tool{Adjustable: has("adjustable"), Crowfoot: has("crowfoot", "crow foot")}
	for _, row := range kindWords {
		if has(row.words...) || row.kind == Measures && meters(low) {
			t.Kind = row.kind
			break
		}
	}
	if t.Kind == OtherTool && numbered(name) && !has("drill bit", "bit holder") {
		t.Kind = TurnsRecess // "T30 driver"
	}
	t.HexKey = t.Kind == TurnsRecess && has("hex key", "hexagon key", "hex wrench", "hexagon wrench", "ball end key", "l key")
	t.Vague = t.Kind == TurnsHexagon && has("hex socket", "hexagon socket") || t.Kind == TurnsRecess && has("t handle") && !has("hex") || oddWrench(low)
	if t.Kind == TurnsHexagon || t.Kind == TurnsRecess {
		pieces := append([]string{name}, strings.Split(detail, ",")...)
		if t.Crowfoot {
			pieces = pieces[:1] // its details are its length and its angle
		}
		drive := has("impact wrench", "air wrench", "breaker bar") || has("ratchet") && !has("spanner", "wrench", "socket")
		if !t.Adjustable && !has("set") && !drive {
			t.sizes(pieces, has("slotted", "flat", "flat blade"))
		}
	}
	for _, piece := range strings.Split(detail, ",") {
		t.detail(strings.TrimSpace(piece))
	}
	return t
}

// wrenches lists the words that stand before "wrench" for a tool that goes round a hexagon.
var wrenches = []string{"end", "ring", "box", "combination", "nut", "socket", "ratchet", "line", "mm", "in", "ended", "offset", "crowfoot", "foot", "tee", "adjustable"}

// oddWrench tells whether a wrench has a word before it that may make it a key for recesses.
func oddWrench(low string) bool {
	words := strings.Fields(low)
	i := slices.Index(words, "wrench")
	return i > 0 && !slices.Contains(wrenches, words[i-1])
}

// numbered tells whether a name holds the number of a driver: T30, PH2.
func numbered(name string) bool {
	return slices.ContainsFunc(strings.Fields(name), func(w string) bool { _, n := recessPrefix(w); return n == len(w) })
}

// spacedWords is the words of a name as singular gives them, with a space before, between and behind them.
func spacedWords(name string) string {
	var b strings.Builder
	b.Grow(len(name) + 2)
	b.WriteByte(' ')
	words := singular(name)
	if len(words) == 0 {
		b.WriteByte(' ')
	}
	for _, w := range words {
		b.WriteString(w)
		b.WriteByte(' ')
	}
	return b.String()
}

// holds tells whether spaced words hold some words as a whole.
func holds(spaced, words string) bool {
	for from := 1; ; {
		i := strings.Index(spaced[from:], words)
		if i < 0 {
			return false
		}
		if i += from; spaced[i-1] == ' ' && spaced[i+len(words)] == ' ' {
			return true
		}
		from = i + 1
	}
}

// singular cuts a name into words, lower case, a hyphen as a space, without the s of a plural.
func singular(name string) []string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r == '-' || r == '\u2011' || unicode.IsSpace(r) })
	for i, w := range words {
		if len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") && w != "pliers" {
			words[i] = w[:len(w)-1]
		}
	}
	return words
}

// meters tells whether a word ends in meter, gauge or scale: a multimeter, a thermometer.
func meters(low string) bool {
	return slices.ContainsFunc(strings.Fields(low), func(w string) bool { return strings.HasSuffix(w, "meter") || strings.HasSuffix(w, "gauge") })
}

// sizes reads the size, or the sizes of a double-ended tool, from the first piece that has one. The size of a square drive
// ("1/2 in drive") and lengths ("long", "deep") are none.
func (t *Tool) sizes(pieces []string, blade bool) {
	system := AcrossFlats
	if t.Kind == TurnsRecess {
		system = HexKey
		if blade {
			system = Blade
		}
	}
	for _, piece := range pieces {
		for i := range piece {
			if i > 0 && !boundary(piece[i-1]) {
				continue
			}
			if s, n := recessPrefix(piece[i:]); n > 0 && t.Kind == TurnsRecess {
				t.Size = &s
				return
			}
			if pair, typed, u, n := dual(piece[i:]); n > 0 {
				factor, _ := u.Factor()
				f, _ := factor.Float64()
				us := u.System == quantity.US
				t.Size = &Size{System: system, MM: pair[0] * f * 1000, Typed: typed[0], Inch: us}
				t.Others = []Size{{System: system, MM: pair[1] * f * 1000, Typed: typed[1], Inch: us}}
				return
			}
			size, n := lengthPrefix(piece[i:])
			if n == 0 || noSize(piece[i+n:]) {
				continue
			}
			size.System = system
			t.Size = &size
			return
		}
	}
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
	v, n, p := quantity.Prefix(strings.TrimPrefix(piece, "at "))
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
