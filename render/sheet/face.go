package sheet

import "refitcard/render/faces"

// width is how wide words are in mm at one point of type.
func width(f Face, words string) float64 { return faces.Width(f, words, 1) }

// capHeight is the height of capitals in mm at a size in points.
func capHeight(size float64) float64 { return faces.CapHeight(Regular) * size * millimetre }
