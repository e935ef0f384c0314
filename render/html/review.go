package html

import (
	"io"

	"refitcard/render/document"
)

// Review is a stand-in until the page is there.
func Review(w io.Writer, r *document.Review) error { return nil }
