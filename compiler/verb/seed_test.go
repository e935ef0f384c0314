package verb

import (
	"flag"
	"os"
	"testing"
)

// TestMain gives the random tests one seed, so that a run says the same twice. With REFITCARD_LONG set they try new ground.
func TestMain(m *testing.M) {
	flag.Parse()
	if os.Getenv("REFITCARD_LONG") == "" && flag.Lookup("rapid.seed").Value.String() == "0" {
		_ = flag.Set("rapid.seed", "1")
	}
	os.Exit(m.Run())
}
