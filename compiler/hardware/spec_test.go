package hardware

import (
	"strings"
	"testing"
)

func TestSpecSizes(t *testing.T) {
	for cell, want := range map[string]string{
		"M14×1.5 hex 17 mm":               "17 mm",
		"M12 socket 6 mm":                 "6 mm key",
		"17 mm hex":                       "17 mm",
		"M12×1.5 class 8 hex 19 mm, zinc": "19 mm",
		"3/8-24 UNF hex 9/16 in":          "9/16 in",
		"3/4-10 UNC hex 1-1/8 in":         "1-1/8 in",
		"brass, 22 mm across flats":       "22 mm",
		"union, 22 mm AF":                 "22 mm",
		"M8 button T30":                   "T30",
		"M5 PZ2":                          "PZ2",
		"M10 8.8 hex, 30 mm":              "unsure",
		"40 mm":                           "unsure",
		"M10 8.8 hex 30 mm long":          "none",
		"steel, 40 mm bore":               "none",
		"M8×30 8.8 hex":                   "none",
		"40 mm hex bar":                   "none",
		"3.0 ±0.05 mm thick":              "none",
		"hose clip, 20–32 mm":             "none",
	} {
		s := ParseSpec(cell)
		got := "none"
		if s.Size != nil {
			got = s.Size.Typed
			if s.Size.System == HexKey {
				got += " key"
			}
		} else if s.Bare {
			got = "unsure"
		}
		if got != want {
			t.Errorf("%q: %s, want %s", cell, got, want)
		}
	}
}

func TestTheMostTellingHead(t *testing.T) {
	for cell, want := range map[string]string{
		"M8 hex socket": "socket", "M8 socket hexalobular": "hexalobular", "M8 hex flange": "flange", "M5 countersunk cross recess": "countersunk",
		"M6 hexagon": "hex", "M6 button": "button", "M6": "", "M6 hexane proof": "",
	} {
		if got := ParseSpec(cell).Head; got != want {
			t.Errorf("%q: %q, want %q", cell, got, want)
		}
	}
}

func TestThreads(t *testing.T) {
	for cell, want := range map[string]string{
		"M8":                         "M8 pitch 1.250 length ",
		"M8x1":                       "M8×1 pitch 1.000 length ",
		"M8×1.25×30 8.8":             "M8×1.25 pitch 1.250 length 30",
		"M8 x 30":                    "M8 pitch 1.250 length 30",
		"1/4-20 UNC × 3/4 grade 5":   "1/4-20 UNC pitch 1.270 length 3/4",
		"1/2-13 UNC × 1-1/2 grade 5": "1/2-13 UNC pitch 1.954 length 1-1/2",
		"#10-32 UNF":                 "#10-32 UNF pitch 0.794 length ",
		"1-8 UNC":                    "1-8 UNC pitch 3.175 length ",
		"1-1/8-7 UNC":                "1-1/8-7 UNC pitch 3.629 length ",
	} {
		s := ParseSpec(cell)
		if s.Thread == nil {
			t.Errorf("%q: no thread", cell)
			continue
		}
		x := s.Thread
		got := x.Name + " pitch " + trimmed(x.PitchMM()) + " length " + x.Length
		if got != want {
			t.Errorf("%q: %s, want %s", cell, got, want)
		}
		if len(s.Odd) > 0 {
			t.Errorf("%q is called odd: %+v", cell, s.Odd)
		}
	}
}

func trimmed(f float64) string {
	thousandths := int(f*1000 + 0.5)
	digits := "000" + itoa(thousandths%1000)
	return itoa(thousandths/1000) + "." + digits[len(digits)-3:]
}

func itoa(n int) string {
	if n < 10 {
		return string(rune('0' + n))
	}
	return itoa(n/10) + string(rune('0'+n%10))
}

func TestLengths(t *testing.T) {
	for cell, want := range map[string]float64{"M8×30": 30, "M8": 0, "1/4-20 UNC × 3/4": 19.05, "1/2-13 UNC × 1-1/2": 38.1} {
		if got := ParseSpec(cell).Thread.LengthMM(); !near(got, want) {
			t.Errorf("%q: %v mm, want %v", cell, got, want)
		}
	}
}

func TestSameThread(t *testing.T) {
	same := func(a, b string) bool { return ParseSpec(a).Thread.SameAs(*ParseSpec(b).Thread) }
	if !same("M8", "M8×1.25×30") || same("M8", "M8×1") || same("M10", "3/8-16 UNC") {
		t.Error("equal threads are told apart, or different ones are not")
	}
}

func TestWhatStartsLikeAThreadAndIsNone(t *testing.T) {
	for cell, want := range map[string]string{
		"M8.8 hex":    "strength M8 8.8",
		"M10.9":       "strength M10 10.9",
		"m8×30 8.8":   "shape M8×30",
		"M 8 hex":     "shape M8",
		"1/4 UNC hex": "shape ",
		"10-32 UNF":   "shape #10-32 UNF",
		"M8-1.25 hex": "tail M8×1.25",
		"M8×1,25×30":  "tail M8×1.25×30",
		"M12-50":      "tail M12×50",
		"M8×1.5 8.8":  "pitch ",
		"1/4-28 UNC":  "threads ",
		"M8*1.25":     "tail M8×1.25",
	} {
		odd := ParseSpec(cell).Odd
		if len(odd) != 1 {
			t.Errorf("%q: %+v", cell, odd)
			continue
		}
		if got := odd[0].Kind + " " + odd[0].Write; got != want {
			t.Errorf("%q: %q, want %q", cell, got, want)
		}
		if o := odd[0]; o.Typed != cell[o.Start:o.End] || strings.HasSuffix(o.Typed, " ") {
			t.Errorf("%q: %q is not what stands at %d to %d", cell, o.Typed, o.Start, o.End)
		}
	}
	for _, cell := range []string{
		"M8", "M8 x 30 mm", "M8×30mm", "M42 hex", "M9 hex", "M13 hex", "MD-B35", "3-5 mm", "1/2 in", "m3 pump", "1/4-turn", "ISO VG 220", "M8, zinc",
		"motor M2B", "6205-2RS", "5/16-18 UNC", "1/4-32 UNEF", "M14×1.25 hex", "1/2 in NPT", "18 kg", "DN450", "4 × M8", "A2-70",
	} {
		if odd := ParseSpec(cell).Odd; len(odd) > 0 {
			t.Errorf("%q: %+v", cell, odd)
		}
	}
}

// A cell as long as a file is read in no time: only its start can be a spec.
func TestALongCell(t *testing.T) {
	s := ParseSpec(strings.Repeat("1 mm hex M8 ", 80000))
	if s.Thread == nil || len(s.Items) > longest {
		t.Errorf("%d items", len(s.Items))
	}
	if tool := ParseTool(strings.Repeat("13 mm socket ", 80000), strings.Repeat("1 mm, ", 80000)); tool.Size == nil {
		t.Error("the start of a long name is not read")
	}
}
