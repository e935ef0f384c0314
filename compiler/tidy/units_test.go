package tidy

import (
	"strings"
	"testing"
)

// Spellings as they are met in old notes, and the one that each becomes.
func TestSpelt(t *testing.T) {
	for typed, want := range map[string]string{
		"22Nm":                        "22 N·m",
		"22 N m":                      "22 N·m",
		"22 newton metres":            "22 N·m",
		"16 ft-lb":                    "16 lbf·ft",
		"16ft lbs":                    "16 lbf·ft",
		"89 in-lbs":                   "89 lbf·in",
		"2 kg-m":                      "2 kgf·m",
		"22Nm (16 ft-lb)":             "22 N·m (16 lbf·ft)",
		"22Nm(16ft-lb)":               "22 N·m (16 lbf·ft)",
		"10Nm (89 ft-lb)":             "10 N·m (89 lbf·ft)",
		"20 to 24Nm":                  "20..24 N·m",
		"20-24 Nm":                    "20..24 N·m",
		"20 – 24 Nm":                  "20..24 N·m",
		"22 +/- 2Nm":                  "22 ±2 N·m",
		"22±2 Nm":                     "22 ±2 N·m",
		"30Nm + 90 deg":               "30 N·m + 90°",
		"1.4l":                        "1.4 L",
		"500ml":                       "500 mL",
		"1/2\" socket":                "1/2 in socket",
		"1 1/2 inch socket":           "1 1/2 in socket",
		"13mm socket":                 "13 mm socket",
		"10 minutes":                  "10 min",
		"at least 25mm":               "at least 25 mm",
		"30 %":                        "30%",
		"M8×1.25":                     "M8×1.25",
		"M8x30 8.8 hex":               "M8x30 8.8 hex",
		"SD-114":                      "SD-114",
		"3 C clamps":                  "3 C clamps",
		"2 foot valves":               "2 foot valves",
		"2 turns":                     "2 turns",
		"1,4 L":                       "1,4 L",
		"22 Nm/m":                     "22 Nm/m",
		"900 mm to 1 m":               "900 mm to 1 m",
		"ISO VG 220":                  "ISO VG 220",
		"1/4-20 UNC × 3/4":            "1/4-20 UNC × 3/4",
		"in passes of 8, 15, 22Nm":    "in passes of 8, 15, 22 N·m",
		"-5..2 °C":                    "-5..2 °C",
		"12 cover bolts to 22Nm, 3 t": "12 cover bolts to 22 N·m, 3 t",
	} {
		if got := spelt(typed, ".."); got != want {
			t.Errorf("%q became %q, want %q", typed, got, want)
		}
		if again := spelt(want, ".."); again != want {
			t.Errorf("%q does not stay: %q", want, again)
		}
	}
	if got := spelt("torque wrench, 5..50 Nm", "–"); got != "torque wrench, 5–50 N·m" || strings.Contains(got, "..") {
		t.Errorf("got %q", got)
	}
}
