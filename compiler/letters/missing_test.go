package letters

import (
	"testing"

	"pgregory.net/rapid"
)

func TestLacks(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"", ""},
		{"Remove the śruba, ключ, φλάντζα ⅜ in", ""},
		{"e\u0301tanche", ""},
		{"the 水泵 in the pit", "水泵"},
		{"القوس في", "القوس في"},
		{"a 🔧 🔧 b 水", "🔧 🔧"},
		{"the sign q\u0301 here", "q\u0301"},
		{"\u0301a", "\u0301"},
	} {
		start, end, ok := Lacks(c.in)
		if got := c.in[start:end]; got != c.want || ok != (c.want != "") {
			t.Errorf("%q lacks %q, %v, want %q", c.in, got, ok, c.want)
		}
	}
}

// What is lacking is what encoding reports, and what is shown lacks nothing.
func TestLacksAgreesWithEncode(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := string(rapid.SliceOf(rapid.SampledFrom([]rune("aą 水\u0301\u0323e\u00ad🔧λЖ\n"))).Draw(t, "text"))
		_, missing := Encode(s)
		start, end, ok := Lacks(s)
		if ok != (len(missing) > 0) {
			t.Fatalf("%q: lacks %v, missing %v", s, ok, missing)
		}
		if ok && (missing[0].Offset < start || missing[0].Offset >= end) {
			t.Fatalf("%q: lacks %d to %d, missing %v", s, start, end, missing)
		}
		if Shown([]byte(s)) && ok {
			t.Fatalf("%q is shown and lacks something", s)
		}
	})
}
