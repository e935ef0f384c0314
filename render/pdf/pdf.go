// Package pdf turns a laid-out sheet into a PDF file, and finds the files that were put inside one.
//
// The pages are drawn in the operators of the format; fpdf packs the pictures. The finisher writes the file: pages, fonts with
// the characters behind their codes, structure tree, attachments, metadata, an ID from the content. The same sheet gives
// the same bytes: no clock, no path, no order of a map reaches them.
//
// The file is made as PDF/A-3 asks (ISO 19005-3): fonts embedded with all characters told, colours told by a profile,
// metadata that agree with the properties, files inside with what they are to the pages, nothing fetched, run or locked,
// tagged throughout. It does not claim so. The one validator at hand, that of PDFBox, knows PDF/A-1, which allows no files
// inside; it accepts a sheet without them but for the missing claim (TestPDFAIsKeptButForTheClaim). What PDF/A-3 adds for
// files inside, no program that did not make the file has confirmed yet. Nor is there a claim of PDF/UA.
package pdf

import (
	"errors"
	"fmt"
	"io"

	"refitcard/render/sheet"
)

// Write writes what File makes of a sheet. Where that fails it writes nothing.
func Write(w io.Writer, d *sheet.Document) error {
	file, err := File(d)
	if err != nil {
		return err
	}
	_, err = w.Write(file)
	return err
}

// File makes a PDF file of version 1.7 of a sheet, tagged and with its fonts embedded. It fails where the sheet can't be
// drawn in full: a character that no face has, a picture that can't be read, a place that is no number.
func File(d *sheet.Document) (file []byte, err error) {
	// A panic of fpdf ends here as an error.
	defer func() {
		if r := recover(); r != nil {
			file, err = nil, fmt.Errorf("the sheet can't be drawn: %v", r)
		}
	}()
	switch {
	case len(d.Pages) == 0:
		return nil, errors.New("a sheet without pages can't be drawn")
	case !(d.Width > 0 && d.Height > 0 && d.Width <= largest && d.Height <= largest):
		return nil, fmt.Errorf("a sheet of %g by %g mm can't be drawn", d.Width, d.Height)
	}
	drawn, err := paint(d)
	if err != nil {
		return nil, err
	}
	return finish(drawn, d)
}

// largest is the longest side of a page in mm: the format's limit of 14,400 points (ISO 32000-1, annex C).
const largest = 14400 * 25.4 / 72
