package hardware

import (
	"math"
	"strconv"
	"testing"
)

// The rows are of VDI 2230 sheet 1, fine threads; how they were read stands at the head of the file.
func TestGuidesAgreeWithTheGuideTable(t *testing.T) {
	checked := 0
	for _, row := range published(t, "torques.csv", 150) {
		if row["source"] != "vdi fine" {
			continue
		}
		checked++
		mu, err := strconv.ParseFloat(row["mu"], 64)
		if err != nil {
			t.Fatal(err)
		}
		g := ParseSpec(row["thread"] + " " + row["class"]).Guides(mu)
		if len(g) != 1 {
			t.Errorf("%s %s: no guide value", row["thread"], row["class"])
			continue
		}
		preload, torque := figure(t, row["preload"])*1000, newtonMetres(t, row)
		if off := g[0].Preload/preload - 1; math.Abs(off) > 0.015 {
			t.Errorf("%s %s at %s: %.1f kN, the table has %s", row["thread"], row["class"], row["mu"], g[0].Preload/1000, row["preload"])
		}
		if off := g[0].Torque/torque - 1; math.Abs(off) > 0.035 {
			t.Errorf("%s %s at %s: %.1f N·m, the table has %.1f", row["thread"], row["class"], row["mu"], g[0].Torque, torque)
		}
	}
	if checked < 60 {
		t.Errorf("only %d rows", checked)
	}
}

func TestNoGuideWithoutAStrengthOfABolt(t *testing.T) {
	for _, cell := range []string{"M8", "M8 A2-70", "M8 class 8", "3/8-16 UNC grade 5", "8.8"} {
		if g := ParseSpec(cell).Guides(0.12); len(g) > 0 {
			t.Errorf("%q: %v", cell, g)
		}
	}
}
