package safety

import (
	"math"
	"strings"

	"refitcard/compiler/quantity"
	"refitcard/compiler/reference"
)

// lift is one lift by one person as the words of a tag give it, in centimetres and degrees.
type lift struct {
	reach    float64 // from the middle between the ankles to the hands
	from, to float64 // heights of the hands
	turn     float64 // away from straight ahead
	grip     string  // good, fair or poor
	minutely float64 // lifts a minute
	hours    float64 // that they go on for
}

// limit gives the load that nearly all healthy people can lift so, by the revised equation of NIOSH (DHHS (NIOSH)
// Publication 94-110): the lesser of both ends of the lift, since a part is set down where it belongs. It is in the unit of the
// equation's own system.
func limit(l reference.Lifting, x lift) float64 {
	return math.Min(atHeight(l, x, x.from), atHeight(l, x, x.to))
}

// atHeight is the equation for one end of a lift: LC × HM × VM × DM × AM × FM × CM.
func atHeight(l reference.Lifting, x lift, height float64) float64 {
	return l.LC * reachShare(l, x.reach) * heightShare(l, height) * wayShare(l, math.Abs(x.to-x.from)) * turnShare(l, x.turn) *
		l.Frequency(x.minutely, x.hours, height) * l.Coupling(x.grip, height)
}

func reachShare(l reference.Lifting, h float64) float64 {
	switch {
	case h > l.HMost:
		return 0
	case h < l.HLeast:
		return 1
	}
	return l.HLeast / h
}

func heightShare(l reference.Lifting, v float64) float64 {
	if v > l.VMost {
		return 0
	}
	return 1 - l.VSlope*math.Abs(v-l.VBest)
}

func wayShare(l reference.Lifting, d float64) float64 {
	if d > l.DMost {
		return 0
	}
	return math.Min(1, l.DFloor+l.DShare/math.Max(d, l.DLeast))
}

func turnShare(l reference.Lifting, a float64) float64 {
	if a > l.AMost {
		return 0
	}
	return 1 - l.ASlope*a
}

// described reads the words behind the part of a lift: "from 20 cm to 90 cm, reach 40 cm, turning 45°, poor grip". Reach and
// the height it begins at must be there; the lift is done now and then, with a good grip, unless they say otherwise.
func described(words string) (x lift, ok bool) {
	x = lift{grip: "good", hours: 1}
	low := strings.ToLower(words)
	var reach, from, to bool
	if len(low) != len(words) {
		return x, false
	}
	if x.reach, reach = lengthBehind(low, "reach "); !reach {
		return x, false
	}
	if x.from, from = lengthBehind(low, "from "); !from {
		return x, false
	}
	if x.to, to = lengthBehind(low, " to "); !to {
		x.to = x.from
	}
	if i := strings.Index(low, "turning "); i >= 0 {
		v, n, bad := quantity.Prefix(words[i+len("turning "):])
		if n == 0 || bad != nil {
			return x, false
		}
		degrees, isAngle := quantity.Degrees(v)
		if !isAngle {
			return x, false
		}
		x.turn, _ = degrees.Float64()
	}
	for _, g := range []string{"poor", "fair"} {
		if strings.Contains(low, g+" grip") {
			x.grip = g
		}
	}
	return x, true
}

// lengthBehind reads the length behind a word, in centimetres.
func lengthBehind(words, word string) (cm float64, ok bool) {
	for from := 0; ; {
		i := strings.Index(words[from:], word)
		if i < 0 {
			return 0, false
		}
		from += i + len(word)
		one, _, _ := strings.Cut(words[from:], " to ") // "20 cm to 90 cm" would read as one range
		v, n, bad := quantity.Prefix(one)
		if n > 0 && bad == nil && v.Unit != nil && v.Unit.Kind == quantity.Length {
			return v.Float() * 100, true
		}
	}
}
