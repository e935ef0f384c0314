// Package sheet decides what stands where: blocks become pages of boxes and draw operations. It is pure.
package sheet

import (
	"refitcard/compiler/source"
	"refitcard/render/faces"
)

// Everything on a page is in millimetres from the top left corner of the paper, type sizes in points
// (1 pt = 0.3528 mm). Draw operations are plain data: render/pdf turns them into bytes, the dump prints them.

// Document is a finished sheet: pages of boxes and draw operations, and what goes into the file beside them.
type Document struct {
	Title, Language  string // Language is a BCP 47 tag such as "en"
	Number, Revision string
	Width, Height    float64 // mm
	Pages            []Page
	Bookmarks        []Bookmark
	Attachments      []Attachment
}

// Page is one side of paper. Boxes are its parts by name, for the dump and the tests; Ops draw it, in reading order.
// Origins tell where its parts come from; they draw nothing and go into no file.
type Page struct {
	Boxes   []Box
	Ops     []Op
	Origins []Origin
}

// Origin is a place on the page, in mm, and the piece of the source that it says.
type Origin struct {
	X, Y, W, H float64
	At         source.Span
	Step       string // name of the step that it belongs to, empty for none
}

// Box is a named place on the page: what a block occupies. It draws nothing.
type Box struct {
	Name       string // such as "tick", "torque", "panel WARNING", "step 3"
	X, Y, W, H float64
	Text       string
}

// Bookmark is an entry of the outline that readers of the file can jump by.
type Bookmark struct {
	Title string
	Page  int     // from 0
	Y     float64 // mm from the top
}

// Attachment is a file kept inside the PDF, such as the source of the card.
type Attachment struct {
	Name, Description, Type string // Type is a MIME type
	Data                    []byte
}

// Face names one of the embedded fonts.
type Face = faces.Face

// The faces on a card.
const (
	Regular = faces.Regular
	Bold    = faces.Bold
	Mono    = faces.Mono
)

// Colour is red, green, blue, each 0 to 255. The zero value is black.
type Colour struct{ R, G, B uint8 }

// Grey is a grey of the given whiteness, 0 black to 1 white.
func Grey(white float64) Colour {
	v := uint8(white*255 + 0.5)
	return Colour{v, v, v}
}

// Role is what a text means in the structure tree of a tagged file.
type Role string

// The roles used: standard structure types of PDF (ISO 32000-1, 14.8.4).
const (
	Paragraph Role = "P"
	Heading1  Role = "H1"
	Heading2  Role = "H2"
	Figure    Role = "Figure"
	Artifact  Role = "Artifact" // decoration, repeated headers and feet: not read out
)

// Op is one draw operation: Text, Line, Rect, Polygon, Circle, Image or Modules.
type Op interface{ op() }

// Text puts a string with its baseline at Y and its left edge at X.
type Text struct {
	X, Y   float64
	Face   Face
	Size   float64 // pt
	String string
	Colour Colour
	Role   Role    // empty is Paragraph
	Block  int     // texts with the same non-zero Block are one paragraph of the structure tree
	Angle  float64 // degrees, anticlockwise, about (X, Y)
	Hollow float64 // when above 0, draw only the outline of the letters with this stroke in pt
}

// Line is a straight stroke of Width points, its middle from (X1, Y1) to (X2, Y2).
type Line struct {
	X1, Y1, X2, Y2 float64
	Width          float64
	Colour         Colour
	Dash           []float64 // mm on, mm off; nil is solid
}

// Rect is a rectangle; Stroke points wide, wholly inside the box (0: none); Fill when Filled.
type Rect struct {
	X, Y, W, H float64
	Stroke     float64
	Colour     Colour // of the stroke
	Filled     bool
	Fill       Colour
}

// Point is a place on the page in mm.
type Point struct{ X, Y float64 }

// Polygon is a closed outline, its stroke centred on the edge.
type Polygon struct {
	Points []Point
	Stroke float64 // pt, 0: none
	Colour Colour
	Filled bool
	Fill   Colour
	Round  float64 // mm, stroke joins are round when above 0
}

// Circle has its stroke centred on radius R.
type Circle struct {
	X, Y, R float64
	Stroke  float64
	Colour  Colour
	Filled  bool
	Fill    Colour
}

// Image is a picture scaled into its box; Data is PNG, JPEG or SVG as in the library, Key names it once per file.
type Image struct {
	X, Y, W, H float64
	Key        string
	Type       string // "png", "jpeg" or "svg"
	Data       []byte
	Alt        string
}

// Modules is a scan code drawn as squares: Dark[row][column], each Size mm wide.
type Modules struct {
	X, Y, Size float64
	Dark       [][]bool
	Alt        string
}

func (Text) op()    {}
func (Line) op()    {}
func (Rect) op()    {}
func (Polygon) op() {}
func (Circle) op()  {}
func (Image) op()   {}
func (Modules) op() {}
