package compiler

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/jpeg"
	"image/png"
	"math"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler/rules"
)

// header is a PNG file of a size with nothing behind its first chunk, or with a few bytes.
func header(width, height uint32) []byte {
	var b bytes.Buffer
	b.WriteString("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d")
	chunk := append([]byte("IHDR"), binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, width), height)...)
	chunk = append(chunk, 8, 2, 0, 0, 0)
	b.Write(chunk)
	b.Write(binary.BigEndian.AppendUint32(nil, crc32.ChecksumIEEE(chunk)))
	return b.Bytes()
}

// claiming writes another size into the frame header of a JPEG (ITU-T T.81, B.2.2).
func claiming(jpeg []byte, width, height uint16) []byte {
	at := bytes.Index(jpeg, []byte{0xff, 0xc0}) + 5
	binary.BigEndian.PutUint16(jpeg[at:], height)
	binary.BigEndian.PutUint16(jpeg[at+2:], width)
	return jpeg
}

func good(t *testing.T, width, height int, encode func(*bytes.Buffer, image.Image) error) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := encode(&b, image.NewGray(image.Rect(0, 0, width, height))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asPNG(b *bytes.Buffer, m image.Image) error  { return png.Encode(b, m) }
func asJPEG(b *bytes.Buffer, m image.Image) error { return jpeg.Encode(b, m, nil) }

// svg is a drawing of 9 by 9 with something in it.
func svg(inside string) []byte {
	return []byte(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 9 9">` + inside + `</svg>`)
}

func TestPictures(t *testing.T) {
	whole := good(t, 30, 20, asPNG)
	path := `<path d="M0 0L1 1"/>`
	for _, c := range []struct {
		name string
		raw  []byte
		want string // kind, cause, or what there is too much of
	}{
		{"PNG", whole, "png"},
		{"JPEG", good(t, 30, 20, asJPEG), "jpeg"},
		{"JPEG of 65000 by 65000", claiming(good(t, 30, 20, asJPEG), 65000, 65000), "pixels in the picture"},
		{"SVG", svg(path), "svg"},
		{"SVG with its size in millimetres and a document type", []byte(`<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "x.dtd"><svg width="10mm" height="5mm">` + path + `</svg>`), "svg"},
		{"SVG with a gradient and a copy", svg(`<defs><linearGradient id="g"/><path id="a" d="M0 0h1"/></defs><use xlink:href="#a" style="fill:url(#g)"/>`), "svg"},
		{"no picture", []byte("plain words"), "unknown"},
		{"HTML", []byte("<html><svg/></html>"), "unknown"},
		{"PNG cut off", whole[:len(whole)-20], "damaged"},
		{"SVG cut off", svg(path)[:120], "damaged"},
		{"PNG of 60000 by 60000", header(60000, 60000), "pixels in the picture"},
		{"PNG wider than can be counted", header(1<<31-1, 1<<31-1), "pixels in the picture"},
		{"PNG with one pixel too many a row", header(5001, 5000), "pixels in the picture"},
		{"PNG of the greatest size, and nothing in it", header(5000, 5000), "damaged"},
		{"drawing too large", svg(strings.Repeat(" ", MaxDrawing)), "bytes in the drawing"},
		{"drawing of too many parts", svg(strings.Repeat("<g/>", maxParts)), "parts in the drawing"},
		{"drawing nested too deeply", svg(strings.Repeat("<g>", maxNested) + strings.Repeat("</g>", maxNested)), "parts of the drawing within one another"},
		{"copy of itself", svg(`<defs><g id="a"><use href="#a"/></g></defs><use href="#a"/>`), "nested"},
		{"copies of much", svg("<defs><g id='a'>" + strings.Repeat(path, 1000) + "</g></defs>" + strings.Repeat("<use href='#a'/>", 100)), "copied parts in the drawing"},
		{"entities", []byte(`<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><svg viewBox="0 0 9 9"><desc>&b;</desc></svg>`), "entities"},
		{"entity that is not told", svg("<desc>&b;</desc>"), "damaged"},
		{"letters", svg("<text>M8 <tspan>śruba</tspan></text>"), "svg"},
		{"letters along a line", svg(`<text><textPath href="#p">M8</textPath></text>`), "letters"},
		{"letters that no font has", svg("<text>水</text>"), "foreign"},
		{"photograph", svg(`<image href="data:image/png;base64,AA"/>`), "photograph"},
		{"script", svg("<script>alert(1)</script>"), "script"},
		{"script in an attribute", svg(`<path onload="alert(1)" d="M0 0h1"/>`), "script"},
		{"page within", svg("<foreignObject/>"), "script"},
		{"part from elsewhere", svg(`<use xlink:href="other.svg#a"/>`), "outside"},
		{"style sheet from elsewhere", svg(`<style>@import url("x.css");</style>`), "outside"},
		{"colour from elsewhere", svg(`<path style="fill: url( 'x.svg#g')" d="M0 0h1"/>`), "outside"},
		{"arrowheads", svg(`<path marker-end="url(#m)" d="M0 0h1"/>`), "line ends"},
		{"arrowheads in a style", svg(`<path style="marker-start:url(#m)" d="M0 0h1"/>`), "line ends"},
		{"no size", []byte(`<svg>` + path + `</svg>`), "no size"},
		{"no height", []byte(`<svg viewBox="0 0 9 0">` + path + `</svg>`), "no size"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := pictureOf(c.raw)
			got := p.kind
			if p.why != "" || p.many != "" {
				got = p.why + p.many
			}
			if got != c.want || (p.many != "") != (p.is > p.of) {
				t.Errorf("got %+v, want %q", p, c.want)
			}
		})
	}
}

// A picture that claims to be large costs nothing before it is refused.
func TestLargePictureIsRefusedBeforeItIsDecoded(t *testing.T) {
	raw := header(60000, 60000)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for range 10 {
		pictureOf(raw)
	}
	runtime.ReadMemStats(&after)
	if used := after.TotalAlloc - before.TotalAlloc; used > 1<<20 {
		t.Errorf("%d bytes were used to refuse ten pictures", used)
	}
}

const shows = `---
title: Look at the guide
number: DR-40
revision: A
---

## Parts

- none

## Tools

- none

## Supplies

- none

## Look

`

func findings(t *testing.T, files fstest.MapFS) (out []string) {
	t.Helper()
	l := Open(files, func(p string) string { return p })
	r, err := l.Compile("a.md", rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range r.Findings {
		out = append(out, fmt.Sprintf("%s %s %q", f.Rule, f.Message, f.At.Text()))
	}
	return out
}

func TestPictureOverTheLimitIsToldWithTheLimit(t *testing.T) {
	got := findings(t, fstest.MapFS{
		"a.md":  {Data: []byte(shows + "1. {Check the guide is clean}. ![Where it sits](a.png)\n")},
		"a.png": {Data: header(60000, 60000)},
	})
	pixels := min(int64(3_600_000_000), math.MaxInt) // as many as the processor's integers can count
	want := fmt.Sprintf(`file/too-large too many pixels in the picture: %d, and 25000000 is the limit "a.png"`, pixels)
	if len(got) != 1 || got[0] != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// A picture that is shown at many steps is read once, and many pictures have a limit together.
func TestManyPictures(t *testing.T) {
	large := good(t, 5000, 4900, asPNG)
	files := fstest.MapFS{}
	var steps strings.Builder
	for i := range 5 {
		name := fmt.Sprintf("%d.png", i)
		files[name] = &fstest.MapFile{Data: large}
		for range 20 {
			fmt.Fprintf(&steps, "1. {Check the guide is clean}. ![Where it sits](%s)\n", name)
		}
	}
	files["a.md"] = &fstest.MapFile{Data: []byte(shows + steps.String())}
	got := findings(t, files)
	if len(got) != 20 || !strings.HasPrefix(got[0], "file/too-large too many pixels in all pictures: 122500000, and 100000000 is the limit") {
		t.Errorf("%d findings, the first: %q", len(got), got)
	}
}
