// Package pdftest helps tests that have other programs look at a PDF file.
package pdftest

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// Need gives the path of a program that a test runs. Without the program the test is skipped, and says what is then not
// checked; where the variable CI is true it fails instead, so that a check can't go missing unseen.
func Need(t testing.TB, program, unchecked string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err == nil {
		return path
	}
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is not installed: %s", program, unchecked)
	}
	t.Skipf("%s is not installed, so not checked: %s", program, unchecked)
	return ""
}

// File writes bytes into a folder of the test and gives the path.
func File(t testing.TB, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Run runs a program and gives what it wrote to its standard output. The test fails if the program does.
func Run(t testing.TB, program string, args ...string) string {
	t.Helper()
	var out, problems bytes.Buffer
	c := exec.Command(program, args...)
	c.Stdout, c.Stderr = &out, &problems
	if err := c.Run(); err != nil {
		t.Fatalf("%s %q: %v\n%s%s", program, args, err, out.Bytes(), problems.Bytes())
	}
	return out.String()
}

// Unassociated gives a PDF file whose attachments no longer say what they are to the pages, its length as before. PDF/A-3
// has a file of version 1.7 say so, and pdfcpu's strict mode allows it in version 2.0 only: so it is given the rest.
func Unassociated(pdf []byte) []byte {
	pdf = bytes.ReplaceAll(pdf, []byte("/AFRelationship "), []byte("/XFRelationship "))
	return bytes.ReplaceAll(pdf, []byte("/AF ["), []byte("/XF ["))
}
