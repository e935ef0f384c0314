package editor

import (
	"slices"
	"testing"

	"refitcard/compiler/resolve"
)

// Every key that the front matter may have is on offer, and no other.
func TestKeysOnOfferAreThoseOfTheLanguage(t *testing.T) {
	var keys []string
	for _, k := range frontKeys {
		keys = append(keys, k.key)
	}
	if want := resolve.FrontKeys(); !slices.Equal(keys, want) {
		t.Errorf("on offer are %q, the language has %q", keys, want)
	}
}
