package compiler_test

import (
	"bytes"
	"image"
	"image/png"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/library"
	"refitcard/compiler/rules"
)

// A library that stays open looks at a picture again when another one stands in its place.
func TestAPictureIsLookedAtAgainWhenItChanges(t *testing.T) {
	var good bytes.Buffer
	if err := png.Encode(&good, image.NewGray(image.Rect(0, 0, 40, 40))); err != nil {
		t.Fatal(err)
	}
	cut := good.Bytes()[:good.Len()-20]
	fsys := fstest.MapFS{"hub.png": {Data: good.Bytes()}}
	lib := compiler.Open(fsys, func(path string) string { return path })
	text := []byte("---\ntitle: Look at the hub\nnumber: DR-2\nrevision: A\n---\n\n## Look\n\n1. {Check the hub}.\n   ![The hub](hub.png)\n")
	for i, c := range []struct {
		data    []byte
		damaged bool
	}{{good.Bytes(), false}, {good.Bytes(), false}, {cut, true}, {cut, true}, {good.Bytes(), false}} {
		fsys["hub.png"] = &fstest.MapFile{Data: c.data}
		told := told(lib.CompileText("job.md", text, rules.Options{}).Findings)
		if got := strings.Contains(told, "figure/not-an-image"); got != c.damaged {
			t.Errorf("time %d: told of a damaged picture is %v, it was to be %v%s", i+1, got, c.damaged, told)
		}
	}
}

// The same library over other files, as an editor asks for it, looks at pictures too.
func TestPicturesOfALibraryOverOtherFiles(t *testing.T) {
	fsys := fstest.MapFS{"hub.png": {Data: []byte("no picture")}}
	lib := compiler.Open(fsys, func(path string) string { return path }).Over(fsys, func() *library.Register { return nil })
	text := []byte("---\ntitle: Look at the hub\nnumber: DR-2\nrevision: A\n---\n\n## Look\n\n1. {Check the hub}.\n   ![The hub](hub.png)\n")
	if told := told(lib.CompileText("job.md", text, rules.Options{}).Findings); !strings.Contains(told, "figure/not-an-image") {
		t.Errorf("nothing is told of the picture:%s", told)
	}
}
