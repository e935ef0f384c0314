package preview

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"

	"refitcard/compiler/letters"
	"refitcard/render/faces"
	"refitcard/render/sheet"
)

// drawnPage is one side of paper as the page's script draws it: each operation is its name and its figures in order, in mm
// and points as in the sheet.
type drawnPage struct {
	Ops   [][]any `json:"ops"`
	Parts []part  `json:"parts"`
}

// picture is a figure of a card, fetched by what is in it.
type picture struct {
	kind string
	data []byte
}

// pictureTypes are the kinds of figures with their types on the web.
var pictureTypes = map[string]string{"png": "image/png", "jpeg": "image/jpeg", "svg": "image/svg+xml"}

// draw turns operations into data; keep takes in a figure and gives the name that it is fetched by.
func draw(ops []sheet.Op, keep func(picture) string) ([][]any, error) {
	out := make([][]any, 0, len(ops))
	for _, op := range ops {
		one, err := drawOne(op, keep)
		if err != nil {
			return nil, err
		}
		out = append(out, one)
	}
	return out, nil
}

func drawOne(op sheet.Op, keep func(picture) string) ([]any, error) {
	switch o := op.(type) {
	case sheet.Text:
		return []any{"text", mm(o.X), mm(o.Y), int(o.Face), mm(o.Size), printed(o.String), mm(faces.Width(o.Face, o.String, o.Size)), ink(o.Colour), mm(o.Angle), mm(o.Hollow)}, nil
	case sheet.Line:
		dash := make([]float64, 0, len(o.Dash))
		for _, d := range o.Dash {
			dash = append(dash, mm(d))
		}
		return []any{"line", mm(o.X1), mm(o.Y1), mm(o.X2), mm(o.Y2), mm(o.Width), ink(o.Colour), dash}, nil
	case sheet.Rect:
		return []any{"rect", mm(o.X), mm(o.Y), mm(o.W), mm(o.H), mm(o.Stroke), ink(o.Colour), filled(o.Filled, o.Fill)}, nil
	case sheet.Polygon:
		points := make([]float64, 0, 2*len(o.Points))
		for _, p := range o.Points {
			points = append(points, mm(p.X), mm(p.Y))
		}
		return []any{"polygon", points, mm(o.Stroke), ink(o.Colour), filled(o.Filled, o.Fill), o.Round > 0}, nil
	case sheet.Circle:
		return []any{"circle", mm(o.X), mm(o.Y), mm(o.R), mm(o.Stroke), ink(o.Colour), filled(o.Filled, o.Fill)}, nil
	case sheet.Image:
		kind, known := pictureTypes[o.Type]
		if !known {
			return nil, fmt.Errorf("%q is no kind of picture that can be drawn", o.Type)
		}
		return []any{"image", mm(o.X), mm(o.Y), mm(o.W), mm(o.H), keep(picture{kind, o.Data})}, nil
	case sheet.Modules:
		rows := make([]string, 0, len(o.Dark))
		for _, row := range o.Dark {
			line := make([]byte, len(row))
			for i, dark := range row {
				line[i] = '0'
				if dark {
					line[i] = '1'
				}
			}
			rows = append(rows, string(line))
		}
		return []any{"modules", mm(o.X), mm(o.Y), mm(o.Size), rows}, nil
	}
	return nil, fmt.Errorf("no way to draw a %T", op)
}

// mm rounds to a thousandth, which is finer than any printer; what is no number stands at 0.
func mm(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return math.Round(v*1000) / 1000
}

// printed gives a text in the characters that the faces have, as it prints.
func printed(s string) string {
	runs, _ := letters.Encode(s)
	out := make([]rune, 0, len(s))
	for _, run := range runs {
		for _, c := range run.Codes {
			if r := letters.Rune(run.Set, c); r != 0 {
				out = append(out, r)
			}
		}
	}
	return string(out)
}

func ink(c sheet.Colour) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

func filled(is bool, c sheet.Colour) string {
	if !is {
		return "none"
	}
	return ink(c)
}

// nameOf names a picture by what is in it.
func nameOf(p picture) string {
	sum := sha256.Sum256(append([]byte(p.kind), p.data...))
	return hex.EncodeToString(sum[:16])
}
