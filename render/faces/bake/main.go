// Command bake makes the fonts of the printed sheets out of published fonts. Run it in render/faces, best by go generate:
//
//	go run ./bake                              makes data/*.z and measures.go
//	go run ./bake -signs DejaVuSans-Bold.ttf   first cuts data/signs.ttf anew out of the whole font
//
// Letters come from the Go fonts, the few signs that those lack from DejaVu Sans Bold. The same input gives the same bytes.
package main

import (
	"bytes"
	"compress/zlib"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"

	"refitcard/compiler/letters"
	"refitcard/render/faces"
)

// signs are what the Go fonts lack, rising.
var signs = []rune{'∠', '⌀', '☐', '☑', '⚠', '✓'}

// signFile holds the signs, cut out of the whole font so that baking needs nothing from outside.
const signFile = "data/signs.ttf"

func main() {
	whole := flag.String("signs", "", "cut the signs anew out of this file, DejaVuSans-Bold.ttf")
	flag.Parse()
	err := cutSigns(*whole)
	if err == nil {
		err = bake(".", ".")
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "bake:", err)
		os.Exit(1)
	}
}

func cutSigns(whole string) error {
	if whole == "" {
		return nil
	}
	file, err := os.ReadFile(whole)
	if err != nil {
		return err
	}
	r, err := newReader(file)
	if err != nil {
		return err
	}
	// Ascent and descent: the line metrics of DejaVu's table hhea. Nothing here uses them.
	t := typeface{name: "RefitcardSigns", ascent: 1901, descent: -483, weight: 700}
	if t.letters, err = pick(r, nil, signs); err != nil {
		return err
	}
	return os.WriteFile(signFile, t.bytes(), 0o644)
}

// pick takes the empty box of a font and the glyphs of the characters, those that r lacks from second.
func pick(r, second *reader, chars []rune) ([]letter, error) {
	none, err := r.glyph(0)
	if err != nil {
		return nil, err
	}
	out := []letter{{glyph: none}}
	for _, c := range chars {
		from := r
		i, err := r.index(drawnAs(c))
		if err == nil && i == 0 && second != nil {
			from = second
			i, err = second.index(c)
		}
		if err != nil {
			return nil, err
		}
		if i == 0 {
			return nil, fmt.Errorf("no font has %q (U+%04X)", c, c)
		}
		g, err := from.glyph(i)
		if err != nil {
			return nil, err
		}
		out = append(out, letter{char: c, glyph: g})
	}
	return out, nil
}

// drawnAs is the character whose glyph another one takes.
func drawnAs(c rune) rune {
	if c == letters.Apostrophe {
		return '’'
	}
	return c
}

// bake reads the signs below the folder from, and writes the packed faces and their figures into the folder to.
func bake(from, to string) error {
	file, err := os.ReadFile(filepath.Join(from, signFile))
	if err != nil {
		return err
	}
	second, err := newReader(file)
	if err != nil {
		return err
	}
	var made []typeface
	var lengths []int
	for _, f := range faces.Fonts() {
		t, err := merge(f, second)
		if err != nil {
			return err
		}
		data := t.bytes()
		made, lengths = append(made, t), append(lengths, len(data))
		if err := os.WriteFile(filepath.Join(to, f.File()), pack(data), 0o644); err != nil {
			return err
		}
	}
	source, err := figures(made, lengths)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(to, "measures.go"), source, 0o644)
}

// merge makes one font. In Mono the signs are drawn smaller, to be as wide as every other letter.
func merge(f faces.Font, second *reader) (typeface, error) {
	source := [][]byte{goregular.TTF, gobold.TTF, gomono.TTF}[f.Face]
	r, err := newReader(source)
	if err != nil {
		return typeface{}, err
	}
	var chars []rune
	var codes []int
	for code := range 256 {
		if c := letters.Rune(f.Set, byte(code)); c != 0 {
			chars, codes = append(chars, c), append(codes, code)
		}
	}
	// Ascent and descent: the line metrics of the Go fonts' table hhea.
	t := typeface{name: f.Name(), ascent: 1935, descent: -432, weight: 400, fixed: f.Face == faces.Mono, coded: true}
	if f.Face == faces.Bold {
		t.weight = 700
	}
	if t.letters, err = pick(r, second, chars); err != nil {
		return t, err
	}
	for i, code := range codes {
		t.letters[i+1].code = code
	}
	if t.fixed {
		wide := t.letters[1].advance // of the space
		for i, l := range t.letters {
			if l.advance != wide && l.advance > 0 {
				t.letters[i].glyph = l.scaled(float64(wide) / float64(l.advance))
			}
		}
	}
	return t, nil
}

// pack deflates without a trace of the machine.
func pack(data []byte) []byte {
	var out bytes.Buffer
	w, _ := zlib.NewWriterLevel(&out, zlib.BestCompression) // the level is a valid one
	_, _ = w.Write(data)
	_ = w.Close() // a buffer takes all that is written
	return out.Bytes()
}

func round(v float64) int { return int(math.Round(v)) }
