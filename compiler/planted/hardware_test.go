package planted_test

import (
	"fmt"
	"math"
	"strings"
)

// size is a thread with what turns it and how tight it may be. The figures are common practice, no source: widths as on the
// heads of a usual set of bolts, torques of 8.8 (grade 5) screws with plain threads, rounded.
type size struct {
	thread  string // as in a Spec, without length
	lengths []string
	strong  string // the strength of a screw
	hex     string
	key     string
	star    string
	torque  float64 // in the unit
	us      bool
}

var sizes = []size{
	{"M5", []string{"×12", "×16"}, "8.8", "8 mm", "4 mm", "T25", 5.5, false},
	{"M6", []string{"×16", "×20"}, "8.8", "10 mm", "5 mm", "T30", 9.5, false},
	{"M8", []string{"×25", "×30", "×40"}, "8.8", "13 mm", "6 mm", "T45", 22, false},
	{"M10", []string{"×30", "×45"}, "8.8", "16 mm", "8 mm", "T50", 45, false},
	{"M12", []string{"×35", "×60"}, "8.8", "18 mm", "10 mm", "T55", 78, false},
	{"M16", []string{"×50", "×70"}, "8.8", "24 mm", "14 mm", "T70", 190, false},
	{"1/4-20 UNC", []string{" × 3/4", " × 1"}, "grade 5", "7/16 in", "3/16 in", "", 8, true},
	{"5/16-18 UNC", []string{" × 1", " × 1 1/4"}, "grade 5", "1/2 in", "1/4 in", "", 17, true},
	{"3/8-16 UNC", []string{" × 1", " × 1 1/2"}, "grade 5", "9/16 in", "5/16 in", "", 30, true},
	{"1/2-13 UNC", []string{" × 1 1/2", " × 2"}, "grade 5", "3/4 in", "3/8 in", "", 75, true},
}

// wrenches are the torque wrenches of the board's stores; the useful part of a scale begins at a fifth of its end.
var wrenches = []struct {
	low, high float64
	unit      string
}{
	{5, 25, "N·m"},
	{5, 50, "N·m"},
	{20, 100, "N·m"},
	{40, 200, "N·m"},
	{60, 340, "N·m"},
	{5, 25, "lbf·ft"},
	{10, 75, "lbf·ft"},
	{30, 150, "lbf·ft"},
}

const footPound = 1.3558179483 // N·m in one lbf·ft: 0.3048 m × 4.4482216 N

// wrenchFor finds a listed torque wrench for a value in a unit, or lists one.
func (m *maker) wrenchFor(value float64, unit string) *tool {
	fits := func(low, high float64, u string) bool {
		return u == unit && value >= math.Max(low, high/5)*1.02 && value <= high*0.98
	}
	for _, t := range m.d.tools {
		var low, high float64
		var u string
		if t.name == "torque wrench" {
			if _, err := fmt.Sscanf(strings.Replace(t.detail, "–", " ", 1), "%g %g %s", &low, &high, &u); err == nil && fits(low, high, u) {
				return t
			}
		}
	}
	var able []string
	for _, w := range wrenches {
		if fits(w.low, w.high, w.unit) {
			able = append(able, fmt.Sprintf("%g–%g %s", w.low, w.high, w.unit))
		}
	}
	return m.toolOf("torque wrench", pick(m, able...))
}

// inBoth writes a torque with its second unit, to as many figures as say the same.
func inBoth(value float64, unit string) string {
	if unit == "lbf·ft" {
		return fmt.Sprintf("%g lbf·ft (%s N·m)", value, figures(value*footPound))
	}
	return fmt.Sprintf("%g N·m (%s lbf·ft)", value, figures(value/footPound))
}

func figures(v float64) string {
	if v < 10 {
		return fmt.Sprintf("%.1f", v)
	}
	return fmt.Sprintf("%.0f", v)
}
