package hardware

import (
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
)

// Tool is what was understood of a tool's name and details.
type Tool struct {
	Kind       ToolKind
	Size       *Size // of a turning tool; nil for an adjustable one
	Adjustable bool
	Crowfoot   bool
	HexKey     bool            // turned by hand: no torque wrench takes it
	Range      *quantity.Value // what it applies or measures
	Length     *quantity.Value // of a torque wrench or an adapter
	Load       *quantity.Value // what it lifts or bears
	Volume     *quantity.Value // what it catches
}

// Calibrated tells whether its serial and calibration date are written down: it measures, or applies a torque.
func (t Tool) Calibrated() bool { return t.Kind == AppliesTorque || t.Kind == Measures }

// ParseTool reads the name of a tool, such as "6 mm hex bit socket", and its details, such as "5–50 N·m, 450 mm".
func ParseTool(name, detail string) Tool {
	low := strings.ToLower(name)
	has := func(words ...string) bool {
		for _, w := range words {
			if strings.Contains(low, w) {
				return true
			}
		}
		return false
	}
	t := Tool{Adjustable: has("adjustable"), Crowfoot: has("crowfoot", "crow foot")}
	switch {
	case has("torque wrench", "torque screwdriver", "torque multiplier", "torque driver"):
		t.Kind = AppliesTorque
	case has("gauge", "micrometer", "calliper", "caliper", "rule", "dial indicator", "multimeter", "meter", "thermometer", "straightedge", "spirit level", "scale", "stopwatch", "tape measure"):
		t.Kind = Measures
	case has("hoist", "jack", "stand", "sling", "crane", "winch", "shackle", "eyebolt", "lifting"):
		t.Kind = Lifts
	case has("drain pan", "tray", "bucket", "pan", "drum", "container"):
		t.Kind = Catches
	case has("hex key", "hex bit", "screwdriver", "bit socket", "bit", "t-handle") && !has("drill bit"):
		t.Kind, t.HexKey = TurnsRecess, has("hex key")
	case has("socket", "wrench", "spanner", "crowfoot"):
		t.Kind = TurnsHexagon
	}
	t.size(name)
	for _, piece := range strings.Split(detail, ",") {
		t.detail(strings.TrimSpace(piece))
	}
	return t
}

func (t *Tool) size(name string) {
	if t.Kind != TurnsHexagon && t.Kind != TurnsRecess || t.Adjustable {
		return
	}
	for i := range name {
		if i > 0 && !boundary(name[i-1]) {
			continue
		}
		if s, n := recessPrefix(name[i:]); n > 0 && t.Kind == TurnsRecess {
			t.Size = &s
			return
		}
		if v, n, p := quantity.Prefix(name[i:]); n > 0 && p == nil && v.Unit.Kind == quantity.Length {
			system := AcrossFlats
			if t.Kind == TurnsRecess {
				system = HexKey
			}
			t.Size = &Size{system, v.Float() * 1000, 0, name[i : i+n]}
			return
		}
	}
}

func (t *Tool) detail(piece string) {
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
	case v.Unit.Kind == quantity.Length && (t.Kind == AppliesTorque || t.Crowfoot):
		t.Length = &v
	}
}
