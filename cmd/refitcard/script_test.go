package main

import (
	"context"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "renew what the scripts compare with")

func TestMain(m *testing.M) {
	if os.Getenv("REFITCARD_LONG") == "" {
		_ = flag.Set("rapid.seed", "1") // one seed, so that a run says the same twice
	}
	testscript.Main(thenTidied{m}, map[string]func(){
		"refitcard": func() {
			c := Command{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Env: os.LookupEnv, Width: terminalWidth}
			os.Exit(c.Run(context.Background(), os.Args[1:]))
		},
	})
}

// Each script is one day at the command line; the sample library is at $LIBRARY.
func TestScripts(t *testing.T) {
	library, err := filepath.Abs(filepath.Join("..", "..", "procedures"))
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("..", "..", "testdata", "cli"),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       *update,
		Setup: func(e *testscript.Env) error {
			e.Setenv("LIBRARY", library)
			return os.CopyFS(filepath.Join(e.WorkDir, "library"), os.DirFS(library))
		},
	})
}
