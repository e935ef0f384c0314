package refit

import (
	"bytes"
	"strings"
)

// Add puts a stage behind the text of a procedure, in the line ends of that.
func Add(text []byte, stage Stage) []byte {
	if stage.Text == "" {
		return text
	}
	eol := "\n"
	if bytes.Contains(text, []byte("\r\n")) {
		eol = "\r\n"
	}
	body := bytes.TrimRight(text, " \t\r\n")
	out := append(bytes.Clone(body), []byte(eol+eol)...)
	return append(out, []byte(strings.ReplaceAll(stage.Text, "\n", eol))...)
}
