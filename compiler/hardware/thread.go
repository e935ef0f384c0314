package hardware

import (
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"refitcard/compiler/quantity"
	"refitcard/compiler/reference"
)

// Thread is a screw thread by its designation.
type Thread struct {
	Name     string  // "M8", "M14×1.5", "1/4-20 UNC"
	Diameter float64 // mm
	Pitch    float64 // mm; 0 for a metric coarse pitch that is not written
	Inch     bool
	Length   string // of the fastener, as typed: "30", "3/4"
}

// LengthMM is the length of the fastener in mm, 0 when it is not written: metric threads give it in mm, unified ones in inches.
func (t Thread) LengthMM() float64 {
	if t.Length == "" {
		return 0
	}
	f, _ := inchSize(t.Length)
	if t.Inch {
		return f * inch()
	}
	return f
}

// inch is one inch in mm.
var inch = sync.OnceValue(func() float64 {
	u, _ := quantity.UnitNamed("in")
	factor, _ := u.Factor()
	f, _ := factor.Float64()
	return f * 1000
})

// SameAs tells whether two threads screw into each other: equal diameter and pitch, a coarse pitch written or not.
func (t Thread) SameAs(o Thread) bool {
	return t.Inch == o.Inch && near(t.Diameter, o.Diameter) && near(t.PitchMM(), o.PitchMM())
}

// threadPrefix reads M8, M8×1, M8x30, M8×1.25×30, 1/4-20 UNC × 3/4, #10-32 UNF.
func threadPrefix(s string) (*Thread, int) {
	if len(s) > 1 && s[0] == 'M' && isDigit(s[1]) {
		return metric(s)
	}
	return unified(s)
}

func times(s string) int {
	gap := len(s) - len(strings.TrimLeft(s, " "))
	for _, x := range []string{"×", "x", "X"} {
		if strings.HasPrefix(s[gap:], x) {
			after := s[gap+len(x):]
			more := len(after) - len(strings.TrimLeft(after, " "))
			if more < len(after) && isDigit(after[more]) {
				return gap + len(x) + more
			}
		}
	}
	return 0
}

func metric(s string) (*Thread, int) {
	d, n := quantity.NumberPrefix(s[1:])
	if n == 0 {
		return nil, 0
	}
	end := 1 + n
	t := &Thread{Name: s[:end]}
	t.Diameter, _ = d.Rat.Float64()
	if fused(d.Typed, t.Diameter) {
		return nil, 0
	}
	if k := times(s[end:]); k > 0 {
		v, m := quantity.NumberPrefix(s[end+k:])
		if m == 0 { // ×1/0
			return t, end
		}
		f, _ := v.Rat.Float64()
		if f <= 6 && f < t.Diameter*0.45 { // no fastener is shorter than half its thread: it is a pitch
			t.Pitch = f
			t.Name = "M" + d.Typed + "×" + v.Typed
			end += k + m
			k = times(s[end:])
			if k > 0 {
				v, m = quantity.NumberPrefix(s[end+k:])
			}
		}
		if k > 0 {
			t.Length = v.Typed
			end += k + m
		}
	}
	if rest := s[end:]; rest != "" && rest[0] < utf8.RuneSelf && unicode.IsLetter(rune(rest[0])) && !strings.HasPrefix(rest, "mm") {
		return nil, 0 // a name of something: M2B
	}
	return t, end
}

// fused tells whether a diameter is a strength that ran into the M: "M8.8" for "M8 8.8".
func fused(typed string, diameter float64) bool {
	return strings.Contains(typed, ".") && !slices.ContainsFunc(reference.Threads(), func(r reference.Thread) bool { return !r.Inch && near(r.Diameter, diameter) }) &&
		slices.ContainsFunc(reference.Strengths(), func(r reference.Strength) bool { return r.Name == typed })
}

func unified(s string) (*Thread, int) {
	start := 0
	if strings.HasPrefix(s, "#") {
		start = 1
	}
	if !figured(s[start:]) || !strings.HasPrefix(behindFigure(s[start:]), "-") {
		return nil, 0
	}
	size, n := inchSize(s[start:])
	end := start + n
	if n == 0 || end >= len(s) || s[end] != '-' {
		return nil, 0
	}
	pitch, m := quantity.NumberPrefix(s[end+1:])
	if m == 0 || strings.ContainsAny(pitch.Typed, "./") {
		return nil, 0
	}
	mm := size * inch()
	if start == 1 {
		mm = reference.NumberSize(int(size))
	}
	per, _ := pitch.Rat.Float64()
	end += 1 + m
	if per < 4 {
		return nil, 0
	}
	t := &Thread{Diameter: mm, Pitch: inch() / per, Inch: true}
	rest := strings.TrimLeft(s[end:], " ")
	series := ""
	for _, w := range []string{"UNC", "UNF", "UNEF", "UNS", "UN"} {
		if strings.HasPrefix(rest, w) && series == "" {
			series = w
			end = len(s) - len(rest) + len(w)
		}
	}
	t.Name = s[:end]
	if mm > 4*inch() || series == "" && start == 0 && !strings.Contains(s[:n], "/") && !t.published() {
		return nil, 0 // "3-5" is a range, "10-32" a number size without its sign
	}
	if k := times(s[end:]); k > 0 {
		_, m := inchSize(s[end+k:])
		t.Length = s[end+k : end+k+m]
		end += k + m
	}
	return t, end
}

// inchSize reads a figure as inches are written, 1/4 or 1-1/8 or 10, and gives how long it is.
func inchSize(s string) (float64, int) {
	d, n := quantity.NumberPrefix(s)
	if n == 0 {
		return 0, 0
	}
	whole, _ := d.Rat.Float64()
	if n < len(s) && s[n] == '-' && !strings.Contains(d.Typed, "/") {
		if part, m := quantity.NumberPrefix(s[n+1:]); strings.Contains(part.Typed, "/") && !strings.Contains(part.Typed, " ") {
			f, _ := part.Rat.Float64()
			return whole + f, n + 1 + m
		}
	}
	return whole, n
}

// published tells whether the tables have the thread.
func (t Thread) published() bool {
	return slices.ContainsFunc(reference.Threads(), func(r reference.Thread) bool {
		return r.Inch == t.Inch && near(r.Diameter, t.Diameter) && near(r.Pitch, t.PitchMM())
	})
}
