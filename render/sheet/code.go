package sheet

import (
	"errors"
	"fmt"
	"strings"

	"rsc.io/qr"
)

// codeLetters are the 45 characters that a scan code holds most tightly (ISO/IEC 18004, alphanumeric mode).
const codeLetters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"

// ScanCode turns a payload into the squares of a scan code, dark where true, row by row from the top, without the quiet
// zone of 4 squares that has to be left around it. It is made in the smallest version that holds the payload at level M,
// which can still be read when 15 % of it is soiled. Small letters become capitals; a character other than the 45 of the
// code's tight mode is an error, because readers garble the rest.
func ScanCode(payload string) ([][]bool, error) {
	text := strings.ToUpper(payload)
	if text == "" {
		return nil, errors.New("a scan code needs something to say")
	}
	for _, r := range text {
		if !strings.ContainsRune(codeLetters, r) {
			return nil, fmt.Errorf("%q can't stand in a scan code: use A to Z, digits, blanks and any of $%%*+-./: instead", r)
		}
	}
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return nil, fmt.Errorf("%d characters are too many for a scan code: shorten %q", len(text), text[:20]+"…")
	}
	rows := make([][]bool, code.Size)
	for y := range rows {
		rows[y] = make([]bool, code.Size)
		for x := range rows[y] {
			rows[y][x] = code.Black(x, y)
		}
	}
	return rows, nil
}
