package html

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"

	"refitcard/compiler/quantity"
	"refitcard/render/document"
)

// reading is a field to type a reading in. Low and High are its limits as plain decimals, empty where that side is open;
// Judged tells whether there are any that a script can hold a reading against.
type reading struct {
	document.MeasureBox
	ID, Act   string
	Line      int    // of the record sheet; 0 for none
	Time      string // "2 of 3" where the step is done several times; else empty
	Low, High string
	Judged    bool
	Figures   bool // figures are wanted, not words
}

// readings gives the fields of an act: one for each box, and for each time that its step is done.
func readings(a document.Act, id string) []reading {
	var all []reading
	times := 1
	for _, b := range a.Boxes {
		times = max(times, len(b.Lines))
	}
	for t := range times {
		for _, b := range a.Boxes {
			r := reading{MeasureBox: b, ID: fmt.Sprintf("%s-m%d", id, len(all)+1), Act: id, Figures: b.Limits != "" || b.Unit != ""}
			if times > 1 {
				r.Time = fmt.Sprintf("%d of %d", t+1, times)
			}
			if t < len(b.Lines) {
				r.Line = b.Lines[t]
			}
			r.Low, r.High, r.Judged = limits(b.Limits, b.Unit)
			all = append(all, r)
		}
	}
	return all
}

// limits gives the limits of a box as figures for the script.
func limits(text, unit string) (low, high string, ok bool) {
	l, h, ok := document.Bounds(text, unit)
	return decimal(l), decimal(h), ok
}

// decimal writes a figure with all its places, at most 20: a script reads it to the nearest number of 53 bits.
func decimal(r *big.Rat) string {
	if r == nil {
		return ""
	}
	places, _ := r.FloatPrec()
	return r.FloatString(min(places, 20))
}

// wait is a time that a step asks for.
type wait struct {
	ID      string
	Words   string // as the card says it: "10 min"
	Seconds int
}

// holdsUp finds the verbs of the language that set a time going, with no end of a sentence after them.
var holdsUp = regexp.MustCompile(`(?i)\b(wait|start)\b[^.!?]*$`)

// waits finds the times to wait in the words of an act: a time set off in bold behind "wait" or "start". Of a range it is the
// shorter end, the least that has to pass.
func waits(a document.Act, id string) []wait {
	if !a.Tick {
		return nil
	}
	var all []wait
	before := ""
	for _, r := range a.Runs {
		if v, problem := quantity.ParseLimit(r.Text); r.Bold && problem == nil && v.Unit != nil && v.Unit.Kind == quantity.Time && holdsUp.MatchString(before) {
			low, high := v.SI()
			if low == nil {
				low = high
			}
			if seconds, _ := low.Float64(); seconds >= 1 && seconds <= 100*24*3600 {
				all = append(all, wait{fmt.Sprintf("%s-w%d", id, len(all)+1), strings.TrimSpace(r.Text), int(seconds + 0.5)})
			}
		}
		before += r.Text
	}
	return all
}
