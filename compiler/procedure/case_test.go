package procedure

import "testing"

func TestFirstLetter(t *testing.T) {
	for _, c := range []struct{ in, capital, small string }{
		{"", "", ""},
		{"cover", "Cover", "cover"},
		{"śruba", "Śruba", "śruba"},
		{"Крышка", "Крышка", "крышка"},
		{"άξων", "Άξων", "άξων"},
		{"4 bolts", "4 bolts", "4 bolts"},
		{"\xc5", "\xc5", "\xc5"},
	} {
		if got := Capital(c.in); got != c.capital {
			t.Errorf("Capital(%q) = %q, want %q", c.in, got, c.capital)
		}
		if got := Small(c.in); got != c.small {
			t.Errorf("Small(%q) = %q, want %q", c.in, got, c.small)
		}
	}
}
