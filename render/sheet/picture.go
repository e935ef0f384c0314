package sheet

import (
	"bytes"
	"image"
	_ "image/jpeg" // figures are JPEG
	_ "image/png"  // or PNG
	"regexp"
	"strconv"
	"strings"
)

var viewBox = regexp.MustCompile(`viewBox\s*=\s*["']([^"']+)["']`)

// pictureRatio is height over width; three quarters where the file does not tell.
func pictureRatio(kind string, data []byte) float64 {
	if kind == "svg" {
		if m := viewBox.FindSubmatch(data); m != nil {
			f := strings.Fields(strings.ReplaceAll(string(m[1]), ",", " "))
			if len(f) == 4 {
				w, err1 := strconv.ParseFloat(f[2], 64)
				h, err2 := strconv.ParseFloat(f[3], 64)
				if err1 == nil && err2 == nil && w > 0 && h > 0 {
					return h / w
				}
			}
		}
		return 0.75
	}
	if c, _, err := image.DecodeConfig(bytes.NewReader(data)); err == nil && c.Width > 0 && c.Height > 0 {
		return float64(c.Height) / float64(c.Width)
	}
	return 0.75
}
