package pdf_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"refitcard/render/pdf"
	"refitcard/render/sheet"
)

func TestPrintedGivesWhatIsDrawn(t *testing.T) {
	got, err := pdf.Printed(written(t, one(
		sheet.Text{X: 5, Y: 9, Size: 10, String: `4F7K-29QD (a) \ b`},
		sheet.Rect{X: 5, Y: 12, W: 9, H: 9, Stroke: 1},
		sheet.Text{X: 5, Y: 30, Face: sheet.Mono, Size: 9, String: "⌀ 9 ≤ 22 N·m"},
	)))
	if want := []string{`4F7K-29QD (a) \ b`, "⌀ 9 ≤ 22 N·m"}; err != nil || !slices.Equal(got, want) {
		t.Errorf("%q, %v, want %q", got, err, want)
	}
	whole := sample(t)
	got, err = pdf.Printed(written(t, whole))
	if err != nil || !slices.Contains(got, "SD-114") || strings.Contains(strings.Join(got, " "), "After the job") {
		t.Errorf("of a sheet of two pages: %q, %v", got, err)
	}
	if got, err := pdf.Printed([]byte("# Refit the pump\n")); err == nil || got != nil {
		t.Errorf("of no PDF file: %q, %v", got, err)
	}
}

// What other programs write behind a file, such as a remark of a reader, leaves its source where it was.
func TestAttachedReadsAFileWithSomethingBehindIt(t *testing.T) {
	d := one(sheet.Text{X: 1, Y: 9, Size: 10, String: "a"})
	d.Attachments = []sheet.Attachment{{Name: "a.md", Data: []byte("# A\n")}}
	file := written(t, d)
	start := bytes.LastIndex(file, []byte("startxref\n")) + len("startxref\n")
	earlier := string(file[start : start+bytes.IndexByte(file[start:], '\n')])
	behind := func(prev string) []byte {
		b := bytes.NewBuffer(bytes.Clone(file))
		object := b.Len()
		b.WriteString("900 0 obj\n<</Type /Annot>>\nendobj\n")
		table := b.Len()
		fmt.Fprintf(b, "xref\n900 1\n%010d 00000 n \ntrailer\n<</Root 1 0 R /Size 901%s>>\nstartxref\n%d\n%%%%EOF\n", object, prev, table)
		return b.Bytes()
	}
	list, err := pdf.Attached(behind(" /Prev " + earlier))
	if err != nil || len(list) != 1 || string(list[0].Data) != "# A\n" {
		t.Errorf("%v, %v", list, err)
	}
	own := len(file) + len("900 0 obj\n<</Type /Annot>>\nendobj\n")
	for _, prev := range []string{" /Prev 0", " /Prev 99999999", " /Prev -1", " /Prev x"} {
		if list, err := pdf.Attached(behind(prev)); err == nil {
			t.Errorf("%s gives %v", prev, list)
		}
	}
	ring := behind(fmt.Sprintf(" /Prev %d", own)) // a table that comes before itself: read a number of times, then left
	if list, err := pdf.Attached(ring); err == nil || !strings.Contains(err.Error(), "cut off or damaged") {
		t.Errorf("a ring gives %v, %v", list, err)
	}
}

func TestALockedFileIsRefused(t *testing.T) {
	file := bytes.Replace(written(t, sample(t)), []byte("trailer\n<<"), []byte("trailer\n<</Encrypt 4 0 R "), 1)
	if list, err := pdf.Attached(file); err == nil || !strings.Contains(err.Error(), "locked with a password") {
		t.Errorf("%v, %v", list, err)
	}
}
