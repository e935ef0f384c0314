package file

import "testing"

func TestRaised(t *testing.T) {
	for _, c := range []struct {
		was, is string
		want    bool
	}{
		{"A", "B", true},
		{"A", "A", false},
		{"b", "B", false},
		{"B", "A", false},
		{"Z", "AA", true},
		{"9", "10", true},
		{"10", "9", false},
		{"A", "1", true},             // another way of counting: nobody can tell
		{"2026-01", "2026-02", true}, // likewise
		{"2026-02", "2026-02", false},
	} {
		if got := raised(c.was, c.is); got != c.want {
			t.Errorf("from %q to %q: raised %v", c.was, c.is, got)
		}
	}
}
