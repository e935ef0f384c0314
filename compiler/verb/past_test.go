package verb_test

import (
	"testing"

	"refitcard/compiler/verb"
)

func TestPastReadsAsAPersonWouldSayIt(t *testing.T) {
	for name, want := range map[string]string{
		"close": "closed", "disconnect": "disconnected", "raise": "raised", "cap": "capped", "insert": "put in", "lock off": "locked off",
		"withdraw": "withdrawn", "set up": "set up", "strike down": "struck down", "engage": "engaged", "support": "supported",
	} {
		if got := verb.Past(name); got != want {
			t.Errorf("%q gives %q, and should give %q", name, got, want)
		}
	}
}
