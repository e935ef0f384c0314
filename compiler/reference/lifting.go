package reference

import (
	"fmt"
	"strconv"
	"strings"
	"sync"
)

// liftingRows are read once.
var liftingRows = sync.OnceValue(func() []map[string]string { return columns("lifting") })

// Lifting is the revised lifting equation of NIOSH (DHHS (NIOSH) Publication 94-110) in one system of units: centimetres and
// kilograms, or inches and pounds; angles are in degrees.
type Lifting struct {
	LC                     float64 // the load of the best lift
	HLeast, HMost          float64
	VBest, VSlope, VMost   float64
	DFloor, DShare         float64
	DLeast, DMost          float64
	ASlope, AMost          float64
	VHigh                  float64 // from here on the grip counts for more
	frequency, couplingRow []map[string]string
}

// MetricLifting gives the equation in centimetres and kilograms, USLifting in inches and pounds.
func MetricLifting() Lifting { return lifting("metric") }

// USLifting gives the equation in inches and pounds.
func USLifting() Lifting { return lifting("US") }

func lifting(system string) Lifting {
	var l Lifting
	set := map[string]*float64{
		"LC": &l.LC, "H least": &l.HLeast, "H most": &l.HMost, "V best": &l.VBest, "V slope": &l.VSlope, "V most": &l.VMost,
		"D floor": &l.DFloor, "D share": &l.DShare, "D least": &l.DLeast, "D most": &l.DMost, "A slope": &l.ASlope, "A most": &l.AMost,
	}
	for _, r := range liftingRows() {
		switch r["kind"] {
		case "parameter":
			if to := set[r["name"]]; to != nil && r["unit_value"] == system {
				*to = figure("lifting.csv", r["value"])
			}
		case "frequency multiplier":
			l.frequency = append(l.frequency, r)
		case "coupling multiplier":
			l.couplingRow = append(l.couplingRow, r)
		}
	}
	l.VHigh = l.VBest // 75 cm and 30 in are both the best height and the row of the tables
	return l
}

// Coupling gives the multiplier of a grip, "good", "fair" or "poor", at a height (table 7).
func (l Lifting) Coupling(grip string, height float64) float64 {
	for _, r := range l.couplingRow {
		if r["coupling"] == grip && (r["V"] == ">=30 in") == (height >= l.VHigh) {
			return figure("lifting.csv", r["value"])
		}
	}
	return 0
}

// Frequency gives the multiplier of so many lifts a minute over so many hours, at a height (table 5): between its rows in a
// straight line, 0 beyond them.
func (l Lifting) Frequency(perMinute, hours, height float64) float64 {
	column := "<=1 h"
	switch {
	case hours > 2:
		column = ">2 to 8 h"
	case hours > 1:
		column = ">1 to 2 h"
	}
	lastF, lastM := 0.0, 1.0
	first := true
	for _, r := range l.frequency {
		if r["duration"] != column || (r["V"] == ">=30 in") != (height >= l.VHigh) {
			continue
		}
		f, m := figure("lifting.csv", r["F_per_min"]), figure("lifting.csv", r["value"])
		if perMinute <= f {
			if first {
				return m
			}
			return lastM + (m-lastM)*(perMinute-lastF)/(f-lastF)
		}
		lastF, lastM, first = f, m, false
	}
	return 0
}

// LiftingExample is a published example of the equation, each figure as printed.
type LiftingExample struct {
	Name, H, V, D, A, PerMinute, Duration, Coupling string
	Load, Unit, Limit                               string   // the recommended weight limit
	Multipliers                                     []string // as rounded in the source: H, V, D, A, F, C
	Source, Status                                  string
}

// LiftingExamples gives the examples of lifting.csv in order.
func LiftingExamples() []LiftingExample {
	var all []LiftingExample
	for _, r := range liftingRows() {
		if r["kind"] != "example" {
			continue
		}
		_, list, _ := strings.Cut(r["formula_value"], "multipliers ")
		list, _, _ = strings.Cut(list, ";")
		all = append(all, LiftingExample{
			Name: r["name"], H: r["H"], V: r["V"], D: r["D"], A: r["A"], PerMinute: r["F_per_min"], Duration: r["duration"], Coupling: r["coupling"],
			Load: r["load"], Unit: r["unit"], Limit: r["value"], Multipliers: strings.Fields(list), Source: r["source"], Status: r["status"],
		})
	}
	return all
}

// LiftingFormulas gives the formulas of lifting.csv as printed, by name and system ("HM metric").
func LiftingFormulas() map[string]string {
	all := map[string]string{}
	for _, r := range liftingRows() {
		if r["kind"] == "formula" {
			all[r["name"]+" "+r["unit_value"]] = r["value"]
		}
	}
	return all
}

// figure reads a number of a table; a table that holds none there is a mistake of the build.
func figure(file, cell string) float64 {
	f, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		panic(fmt.Sprintf("%s: %q is no number", file, cell))
	}
	return f
}
