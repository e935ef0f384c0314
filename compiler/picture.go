package compiler

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"errors"
	"image"
	_ "image/jpeg" // figures are JPEG
	"image/png"    // or PNG
	"io"
	"math"
	"strconv"
	"strings"

	"refitcard/compiler/letters"
)

// The limits on pictures. A card prints a picture 190 mm wide at most, which at 600 dots an inch is 4,500 dots; a picture
// of the most pixels takes 100 to 200 MB while it is read.
const (
	MaxFigure  = 8 << 20     // bytes of one picture
	MaxFigures = 64 << 20    // bytes of all pictures of a procedure
	MaxPixels  = 25_000_000  // of one picture
	MaxAllDots = 100_000_000 // pixels of all pictures of a procedure
	MaxDrawing = 2 << 20     // bytes of a drawing
	maxParts   = 20_000      // elements of a drawing
	maxNested  = 100         // elements of a drawing within one another
	maxCopies  = 50_000      // elements that the copies in a drawing come to
)

// picture is what a file with a picture turned out to be.
type picture struct {
	kind   string // "png", "jpeg" or "svg"
	pixels int
	why    string // a cause that figure/not-an-image words; empty for a good one
	many   string // what there is too much of, for file/too-large
	is, of int
}

// pictureOf tells png, jpeg or svg by what is in the file, and refuses a picture that can't be drawn, or that would take
// too much time or memory: by its size, before any of it is decoded.
func pictureOf(raw []byte) picture {
	config, kind, err := image.DecodeConfig(bytes.NewReader(raw))
	if size, many := uncounted(err, raw); many {
		return picture{kind: "png", many: "pixels in the picture", is: size, of: MaxPixels}
	}
	switch {
	case err != nil && (bytes.HasPrefix(raw, []byte("\x89PNG")) || bytes.HasPrefix(raw, []byte("\xff\xd8"))):
		return picture{why: "damaged"}
	case err != nil:
		return drawingOf(raw)
	}
	p := picture{kind: kind, pixels: product(int64(config.Width), int64(config.Height))}
	if p.pixels > MaxPixels {
		p.many, p.is, p.of = "pixels in the picture", p.pixels, MaxPixels
		return p
	}
	if _, _, err := image.Decode(bytes.NewReader(raw)); err != nil {
		p.why = "damaged"
	}
	return p
}

// uncounted tells of a PNG whose pixels the library can't count with the integers of a 32-bit processor: it refuses it without
// saying how many they are. Width and height stand behind the signature and the name of the first chunk (ISO/IEC 15948, 11.2.2).
func uncounted(err error, raw []byte) (pixels int, many bool) {
	var refused png.UnsupportedError
	if !errors.As(err, &refused) || len(raw) < 24 || string(raw[12:16]) != "IHDR" {
		return 0, false
	}
	pixels = product(int64(binary.BigEndian.Uint32(raw[16:])), int64(binary.BigEndian.Uint32(raw[20:])))
	return pixels, pixels > MaxPixels
}

// product is the product of two sides of a picture, or the largest integer there is.
func product(a, b int64) int { return int(min(a*b, math.MaxInt)) }

// drawingOf looks through an SVG drawing for what would not be printed, what reaches out of the file, and what would make
// the library that reads drawings run for ever.
func drawingOf(raw []byte) picture {
	d := xml.NewDecoder(bytes.NewReader(raw))
	c := drawingCheck{}
	for {
		token, err := d.Token()
		switch {
		case err != nil && !c.begun:
			c.refuse("unknown")
		case err != nil && err != io.EOF:
			c.refuse("damaged")
		}
		if err != nil || c.why != "" || c.many != "" {
			break
		}
		switch t := token.(type) {
		case xml.Directive:
			if bytes.IndexByte(t, '[') >= 0 {
				c.refuse("entities")
			}
		case xml.StartElement:
			c.open(t, len(raw))
		case xml.EndElement:
			c.close()
		case xml.CharData:
			c.chars(string(t))
		}
	}
	if c.why == "" && c.many == "" {
		c.finish()
	}
	return c.picture
}

// drawingCheck holds what is known of a drawing so far.
type drawingCheck struct {
	picture
	begun         bool
	parts, depth  int
	inDefs        int // how many elements deep in definitions, 0: not in any
	defined, uses int // elements in definitions, and copies of some of them
	within        string
}

func (c *drawingCheck) refuse(why string) {
	if why != "" && c.why == "" && c.many == "" {
		c.why = why
	}
}

func (c *drawingCheck) limit(many string, is, of int) {
	if is > of && c.why == "" && c.many == "" {
		c.many, c.is, c.of = many, is, of
	}
}

// lost are elements that the library passes over, and why they matter.
var lost = map[string]string{
	"textPath": "letters", "image": "photograph",
	"script": "script", "foreignObject": "script", "handler": "script", "iframe": "script",
}

func (c *drawingCheck) open(t xml.StartElement, size int) {
	name := t.Name.Local
	if !c.begun {
		if name != "svg" {
			c.refuse("unknown")
			return
		}
		c.begun, c.kind = true, "svg"
		c.limit("bytes in the drawing", size, MaxDrawing)
		c.sized(t.Attr)
	}
	c.parts++
	c.depth++
	c.within = name
	c.limit("parts in the drawing", c.parts, maxParts)
	c.limit("parts of the drawing within one another", c.depth, maxNested)
	c.refuse(lost[name])
	switch {
	case c.inDefs > 0:
		c.inDefs++
		c.defined++
		if name == "use" {
			c.refuse("nested")
		}
	case name == "defs":
		c.inDefs = 1
	case name == "use":
		c.uses++
	}
	for _, a := range t.Attr {
		c.attribute(a)
	}
}

func (c *drawingCheck) close() {
	c.depth--
	c.within = ""
	if c.inDefs > 0 {
		c.inDefs--
	}
}

// chars looks at the words between two marks.
func (c *drawingCheck) chars(words string) {
	switch c.within {
	case "style":
		c.style(words)
	case "text", "tspan":
		if _, _, lacks := letters.Lacks(words); lacks {
			c.refuse("foreign")
		}
	}
}

// finish judges what is known only at the end.
func (c *drawingCheck) finish() {
	c.limit("copied parts in the drawing", c.uses*c.defined, maxCopies)
}

func (c *drawingCheck) attribute(a xml.Attr) {
	name, value := strings.ToLower(a.Name.Local), strings.TrimSpace(a.Value)
	switch {
	case strings.HasPrefix(name, "on"):
		c.refuse("script")
	case (name == "href" || name == "src") && value != "" && value[0] != '#':
		c.refuse("outside")
	case strings.HasPrefix(name, "marker") && strings.Contains(value, "url("):
		c.refuse("line ends")
	default:
		c.style(value)
	}
}

// style looks for addresses in what tells how a part looks: only parts of the drawing itself may be named.
func (c *drawingCheck) style(text string) {
	low := strings.ToLower(text)
	if strings.Contains(low, "@import") {
		c.refuse("outside")
	}
	if i := strings.Index(low, "marker"); i >= 0 && strings.Contains(low[i:], "url(") {
		c.refuse("line ends")
	}
	for {
		_, rest, found := strings.Cut(low, "url(")
		if !found {
			return
		}
		if low = strings.TrimLeft(rest, " \t\n'\""); !strings.HasPrefix(low, "#") {
			c.refuse("outside")
		}
	}
}

// sized asks for a width and a height: without them the drawing has no place on the page.
func (c *drawingCheck) sized(attrs []xml.Attr) {
	var width, height float64
	number := func(s string) float64 {
		v, _ := strconv.ParseFloat(strings.TrimRight(strings.TrimSpace(s), "px%mcint"), 64)
		return v
	}
	for _, a := range attrs {
		switch a.Name.Local {
		case "viewBox":
			f := strings.Fields(strings.ReplaceAll(a.Value, ",", " "))
			if len(f) == 4 {
				width, height = number(f[2]), number(f[3])
			}
		case "width":
			width = max(width, number(a.Value))
		case "height":
			height = max(height, number(a.Value))
		}
	}
	if !(width > 0 && height > 0) {
		c.refuse("no size")
	}
}
