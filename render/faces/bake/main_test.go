package main

import (
	"bytes"
	"compress/zlib"
	"io"
	"os"
	"path/filepath"
	"testing"
)

func TestBakingAgainGivesWhatIsKept(t *testing.T) {
	fresh := t.TempDir()
	if err := os.Mkdir(filepath.Join(fresh, "data"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := bake("..", fresh); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"data/regular.z", "data/bold.z", "data/mono.z"} {
		// The packer may change with the version of Go: what counts is what is packed.
		if !bytes.Equal(unpack(t, filepath.Join("..", name)), unpack(t, filepath.Join(fresh, name))) {
			t.Errorf("%s is not what bake makes: run go generate", name)
		}
	}
	kept, err := os.ReadFile("../measures.go")
	if err != nil {
		t.Fatal(err)
	}
	made, err := os.ReadFile(filepath.Join(fresh, "measures.go"))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(kept, made) {
		t.Error("measures.go is not what bake makes: run go generate")
	}
}

func unpack(t *testing.T, name string) []byte {
	t.Helper()
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r, err := zlib.NewReader(file)
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return data
}
