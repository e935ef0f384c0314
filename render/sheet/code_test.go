package sheet

import (
	"strings"
	"testing"
)

// Source of the sizes: ISO/IEC 18004, table 7: version 1 at level M holds 20 alphanumeric characters in 21 squares a
// side, version 2 holds 38 in 25. That a reader reads the code is tested in render/pdf.
func TestScanCodeTakesTheSmallestVersion(t *testing.T) {
	for _, c := range []struct {
		payload string
		side    int
	}{
		{"SD-114 C 4F7K29QD", 21},
		{"sd-114 c 4f7k29qd", 21},
		{strings.Repeat("A", 20), 21},
		{strings.Repeat("A", 21), 25},
		{strings.Repeat("A", 38), 25},
		{strings.Repeat("A", 39), 29},
	} {
		code, err := ScanCode(c.payload)
		if err != nil {
			t.Errorf("%q: %v", c.payload, err)
			continue
		}
		if len(code) != c.side || len(code[0]) != c.side {
			t.Errorf("%q: %d by %d squares, want %d", c.payload, len(code), len(code[0]), c.side)
		}
		// Three corners bear the finder pattern, whose edge is dark; no quiet zone stands before it.
		last := len(code) - 1
		if !code[0][0] || !code[0][last] || !code[last][0] || code[1][1] {
			t.Errorf("%q: the finder patterns do not touch the corners", c.payload)
		}
	}
}

func TestScanCodeIsTheSameForSmallLetters(t *testing.T) {
	small, err := ScanCode("pu-7 a 0k")
	if err != nil {
		t.Fatal(err)
	}
	capital, err := ScanCode("PU-7 A 0K")
	if err != nil {
		t.Fatal(err)
	}
	for y := range small {
		for x := range small[y] {
			if small[y][x] != capital[y][x] {
				t.Fatalf("square %d, %d differs", x, y)
			}
		}
	}
}

func TestScanCodeRefusesWhatReadersGarble(t *testing.T) {
	for _, c := range []struct{ payload, words string }{
		{"", "needs something"},
		{"PÜ-7", "'Ü'"},
		{"A_1", "'_'"},
		{strings.Repeat("A", 5000), "too many"},
	} {
		if _, err := ScanCode(c.payload); err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%.20q: error %v, want one with %q", c.payload, err, c.words)
		}
	}
}
