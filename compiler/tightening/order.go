// Package tightening works out in which order and in which passes fasteners are tightened.
package tightening

import (
	"math"
	"slices"
)

// Place is one fastener of a drawing: X in characters, Y in lines, Order the fixed number that the drawing gives it, else 0.
type Place struct{ X, Y, Order int }

// Ways are the orders that a procedure can ask for.
const (
	Crosswise  = "crosswise"
	FromCentre = "from the centre"
	InOrder    = "in order"
)

// lineHeight is how many characters wide a line of a drawing is high, in the fonts that drawings are typed in.
const lineHeight = 2.0

// Order numbers the places of a drawing in the order of tightening, from 1. Numbers that the drawing fixes go first; with
// none, the way decides; an empty way is crosswise.
func Order(places []Place, way string) []int {
	numbers := make([]int, len(places))
	fixed := 0
	for i, p := range places {
		numbers[i] = p.Order
		if p.Order > 0 {
			fixed++
		}
	}
	if fixed == len(places) {
		return numbers
	}
	var sequence []int // places in the order of tightening
	switch way {
	case InOrder:
		sequence = reading(places)
	case FromCentre:
		sequence = outward(places)
	default:
		around := clockwise(places)
		for _, k := range Circle(len(places)) {
			sequence = append(sequence, around[k-1])
		}
	}
	next := 1
	for _, i := range sequence {
		if numbers[i] > 0 {
			continue
		}
		for slices.Contains(numbers, next) {
			next++
		}
		numbers[i] = next
	}
	return numbers
}

// Circle gives the crosswise order of n fasteners on a ring, numbered clockwise from 1: opposite ones follow each other, and
// pairs are spread (ASME PCC-1, legacy cross-pattern; its row for 28 spreads the pairs in another way).
func Circle(n int) []int {
	var out []int
	switch {
	case n%4 == 0:
		for _, k := range spread(n / 4) {
			out = append(out, k, k+n/2, k+n/4, k+3*n/4)
		}
	case n%2 == 0:
		for _, k := range spread(n / 2) {
			out = append(out, k, (k+n/2-1)%n+1)
		}
	default:
		out = spread(n)
	}
	return out
}

// spread puts 1 to n in an order in which neighbours do not follow each other: halves in turn, an odd number by steps of two.
func spread(n int) []int {
	switch {
	case n <= 3:
		return count(n)
	case n%2 == 0:
		var out []int
		for _, k := range spread(n / 2) {
			out = append(out, k, k+n/2)
		}
		return out
	}
	var out []int
	for k := 1; k <= n; k += 2 {
		out = append(out, k)
	}
	for k := 2; k <= n; k += 2 {
		out = append(out, k)
	}
	return out
}

func count(n int) []int {
	var out []int
	for k := 1; k <= n; k++ {
		out = append(out, k)
	}
	return out
}

// Row gives the order of n fasteners in a straight row, from the centre outward, sides in turn (US Army TM 5-3805-298-23-2 WP 0176).
func Row(n int) []int {
	centre := (n + 1) / 2
	out := []int{}
	if n > 0 {
		out = append(out, centre)
	}
	for d := 1; len(out) < n; d++ {
		if centre+d <= n {
			out = append(out, centre+d)
		}
		if centre-d >= 1 {
			out = append(out, centre-d)
		}
	}
	return out
}

func middle(places []Place) (x, y float64) {
	minX, maxX, minY, maxY := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, p := range places {
		px, py := float64(p.X), float64(p.Y)*lineHeight
		minX, maxX, minY, maxY = min(minX, px), max(maxX, px), min(minY, py), max(maxY, py)
	}
	return (minX + maxX) / 2, (minY + maxY) / 2
}

// clockwise lists the places round their middle, beginning with the one nearest to the top centre.
func clockwise(places []Place) []int {
	cx, cy := middle(places)
	angle := func(p Place) float64 { // from straight up, clockwise
		a := math.Atan2(float64(p.X)-cx, cy-float64(p.Y)*lineHeight)
		if a < 0 {
			a += 2 * math.Pi
		}
		return a
	}
	all := indices(len(places))
	slices.SortStableFunc(all, func(i, j int) int { return compare(angle(places[i]), angle(places[j])) })
	if len(all) == 0 {
		return all
	}
	// The last one may be nearer to the top than the first.
	if last := all[len(all)-1]; 2*math.Pi-angle(places[last]) < angle(places[all[0]])-1e-9 {
		all = append([]int{last}, all[:len(all)-1]...)
	}
	return all
}

// outward lists the places by their distance from the middle; a straight row by the rule for rows.
func outward(places []Place) []int {
	all := indices(len(places))
	oneRow, oneColumn := true, true
	for _, p := range places {
		oneRow = oneRow && p.Y == places[0].Y
		oneColumn = oneColumn && p.X == places[0].X
	}
	if oneRow || oneColumn {
		slices.SortStableFunc(all, func(i, j int) int {
			return compare(float64(places[i].X+places[i].Y), float64(places[j].X+places[j].Y))
		})
		var out []int
		for _, k := range Row(len(all)) {
			out = append(out, all[k-1])
		}
		return out
	}
	cx, cy := middle(places)
	far := func(p Place) float64 {
		return math.Round(math.Hypot(float64(p.X)-cx, float64(p.Y)*lineHeight-cy)*4) / 4
	}
	round := clockwise(places)
	slices.SortStableFunc(round, func(i, j int) int { return compare(far(places[i]), far(places[j])) })
	return round
}

// reading lists the places line by line, from the left.
func reading(places []Place) []int {
	all := indices(len(places))
	slices.SortStableFunc(all, func(i, j int) int {
		if places[i].Y != places[j].Y {
			return places[i].Y - places[j].Y
		}
		return places[i].X - places[j].X
	})
	return all
}

func indices(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

func compare(a, b float64) int {
	switch {
	case a < b-1e-9:
		return -1
	case a > b+1e-9:
		return 1
	}
	return 0
}
