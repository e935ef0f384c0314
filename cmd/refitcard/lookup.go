package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"refitcard/compiler/hardware"
	"refitcard/compiler/quantity"
)

func lookupTask() task {
	return task{
		name: "lookup", args: "WORDS",
		purpose: "tell what the tables say of a thread, a quantity, or a crowfoot on a torque wrench",
		example: `refitcard lookup crowfoot 22 N·m 300 mm 45 mm

setting     19.1 N·m, 14.1 lbf·ft
`,
		options: func(set *pflag.FlagSet, o *options) {
			o.formatOf(set, "text", "json")
		},
		run: runLookup,
	}
}

// A known is one thing that the tables say: a key for programs, a label and words for people.
type known struct {
	key, label string
	value      any // for JSON
	words      string
}

func runLookup(s *session) (int, error) {
	words := strings.Join(s.args, " ")
	if strings.TrimSpace(words) == "" {
		return 0, usageError{"nothing was named to look up", "refitcard lookup M8 8.8 socket, or lookup 22 N·m"}
	}
	found, err := lookedUp(words)
	if err != nil {
		return 0, err
	}
	var b bytes.Buffer
	if s.opt.format == "json" {
		err = knownJSON(&b, found)
	} else {
		for _, k := range found {
			if k.words != "" {
				fmt.Fprintf(&b, "%-12s%s\n", k.label, k.words)
			}
		}
	}
	if err == nil {
		_, err = s.Out.Write(b.Bytes())
	}
	return done, err
}

// lookedUp finds out what the words are, and what is known of them.
func lookedUp(words string) ([]known, error) {
	if rest, ok := cutFirst(words, "crowfoot", "adapter"); ok {
		return crowfoot(rest)
	}
	if v, p := quantity.Parse(words); p == nil && v.Unit != nil {
		return conversions(v), nil
	}
	if spec := hardware.ParseSpec(words); spec.Thread != nil {
		return threadKnown(words, spec), nil
	}
	return nil, usageError{
		fmt.Sprintf("%q is neither a thread nor a quantity that the tables know", words),
		"refitcard lookup M8 8.8 socket, lookup 22 N·m, or lookup crowfoot 22 N·m 300 mm 45 mm",
	}
}

func cutFirst(words string, firsts ...string) (string, bool) {
	for _, f := range firsts {
		if rest, ok := strings.CutPrefix(words, f+" "); ok {
			return rest, true
		}
	}
	return "", false
}

// crowfoot works out the setting of a torque wrench: the torque, the length of the wrench, that of the adapter, "at 45°".
func crowfoot(words string) ([]known, error) {
	how := usageError{fmt.Sprintf("%q is not a torque and two lengths", words), "refitcard lookup crowfoot 22 N·m 300 mm 45 mm, or … 45 mm at 45°"}
	words, angle, bent := strings.Cut(words, " at ")
	degrees := 0.0
	if bent {
		a, p := quantity.Parse(angle)
		if p != nil || a.Unit == nil || a.Unit.Kind != quantity.Angle {
			return nil, how
		}
		degrees = a.Float()
	}
	var given []quantity.Value
	for rest := strings.TrimSpace(words); rest != ""; rest = strings.TrimLeft(rest, " ,") {
		v, n, p := quantity.Prefix(rest)
		if p != nil || n == 0 || v.Unit == nil {
			return nil, how
		}
		given = append(given, v)
		rest = rest[n:]
	}
	if len(given) != 3 || given[0].Unit.Kind != quantity.Torque || given[1].Unit.Kind != quantity.Length || given[2].Unit.Kind != quantity.Length || given[1].Float() <= 0 || given[2].Float() < 0 {
		return nil, how
	}
	factor, _ := given[0].Unit.Factor()
	one, _ := factor.Float64()
	set := round(hardware.Setting(given[0].Float(), given[1].Float(), given[2].Float(), degrees)/one, 3)
	return []known{
		{"setting", "setting", map[string]any{"value": set, "unit": given[0].Unit.Name}, figure(set) + " " + given[0].Unit.Name},
		{"", "for", nil, fmt.Sprintf("%s at the fastener, wrench %s from grip to drive, adapter %s from drive to fastener, %s", given[0].Running(), given[1].Running(), given[2].Running(), atAngle(degrees))},
		{"", "", nil, "A crowfoot at 90° changes nothing. The maker's own rule goes first."},
	}, nil
}

func atAngle(degrees float64) string {
	if degrees == 0 {
		return "in line"
	}
	return "at " + figure(degrees) + "°"
}

// conversions gives a quantity in every unit of its kind.
func conversions(v quantity.Value) []known {
	var all []known
	for _, u := range quantity.Units() {
		if u.Kind != v.Unit.Kind {
			continue
		}
		factor, offset := u.Factor()
		one, _ := factor.Float64()
		shift, _ := offset.Float64()
		x := round((v.Float()-shift)/one, 3)
		if u == v.Unit {
			x = round((v.Float()-shift)/one, 15)
		}
		all = append(all, known{u.Name, u.Name, x, figure(x) + " " + u.Name})
	}
	return all
}

// threadKnown tells what the tables say of a thread with the strength and head that were written.
func threadKnown(words string, s *hardware.Spec) []known {
	t := s.Thread
	all := []known{{"thread", "thread", t.Name, t.Name}}
	if p := t.PitchMM(); p > 0 {
		all = append(all,
			known{"pitch_mm", "pitch", round(p, 4), figure(round(p, 4)) + " mm"},
			known{"stress_area_mm2", "area", round(t.Area(), 3), figure(round(t.Area(), 3)) + " mm² under tension"})
	}
	if s.Strength != "" {
		all = append(all, known{"strength", "strength", s.Strength, s.Strength})
	}
	if p, ok := s.ProofLoad(); ok {
		load, what := round(p.Load/1000, 3), " kN"
		if p.Stainless {
			what = " kN at its 0.2 % limit: stainless steel has no proof load"
		}
		all = append(all, known{"proof_load_kN", "proof load", load, figure(load) + what})
	}
	all = append(all, driveKnown(words, s)...)
	if guides := s.Guides(0.10, 0.12, 0.14); len(guides) > 0 {
		var list []map[string]any
		for _, g := range guides {
			list = append(list, map[string]any{"mu": g.Mu, "preload_kN": round(g.Preload/1000, 3), "N·m": round(g.Torque, 3)})
		}
		all = append(all, known{"torque", "", list, ""})
		for _, g := range guides {
			all = append(all, known{"", "torque", nil, fmt.Sprintf("%s N·m at friction %.2f, which holds with %s kN", figure(round(g.Torque, 3)), g.Mu, figure(round(g.Preload/1000, 3)))})
		}
		all = append(all, known{"", "", nil, "Guide values for steel by VDI 2230. The maker's figure goes first; soft parts, gaskets and stainless take less."})
	}
	return all
}

// driveKnown gives the sizes that turn the thread with the head that was written; a bolt where the words do not say nut.
func driveKnown(words string, s *hardware.Spec) []known {
	name := "bolt"
	if s.Nut != "" || strings.Contains(words, "nut") {
		name = "nut"
	}
	takes, _ := hardware.Fastener{Name: name, Spec: s}.Takes()
	if len(takes) == 0 {
		return nil
	}
	x := takes[0].Size
	all := []known{{"", "turned by", nil, hardware.Sizes(takes)}}
	switch {
	case x.System == hardware.Hexalobular:
		all = append(all, known{"drive_t", "", x.Number, ""})
	case x.System == hardware.AcrossFlats || x.System == hardware.HexKey:
		key, value := "drive_mm", round(x.MM, 4)
		if x.Inch {
			key, value = "drive_in", round(x.MM/25.4, 5)
		}
		all = append(all, known{key, "", value, ""})
	}
	standard, _, _ := strings.Cut(takes[0].Standard, " / ")
	return append(all, known{"standard", "", standard, ""})
}

// round rounds to significant figures, and never an integer part.
func round(x float64, figures int) float64 {
	if x == 0 {
		return 0
	}
	digits := max(figures-1-int(math.Floor(math.Log10(math.Abs(x)))), 0)
	p := math.Pow10(min(digits, 300))
	return math.Round(x*p) / p
}

func figure(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// knownJSON writes one object, its keys in the order in which they are told.
func knownJSON(b *bytes.Buffer, all []known) error {
	b.WriteString("{")
	first := true
	for _, k := range all {
		if k.key == "" || k.value == nil {
			continue
		}
		if !first {
			b.WriteString(", ")
		}
		first = false
		value, err := json.Marshal(k.value)
		if err != nil {
			return err
		}
		key, err := json.Marshal(k.key)
		if err != nil {
			return err
		}
		fmt.Fprintf(b, "%s: %s", key, value)
	}
	b.WriteString("}\n")
	return nil
}
