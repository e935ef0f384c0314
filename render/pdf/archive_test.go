package pdf_test

import (
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"refitcard/render/faces"
	"refitcard/render/pdf/pdftest"
	"refitcard/render/sheet"
)

// In this file other programs look at what a file needs to be read in years to come: PDF/A.

// jars are what PDFBox's validator of PDF/A-1 needs, as Debian installs it (libpdfbox2-java, libjaxb-api-java,
// libactivation-java).
var jars = []string{"preflight", "pdfbox2", "fontbox2", "xmpbox", "commons-logging", "javax.activation", "jaxb-api"}

// faults gives what the validator finds in a sheet, each fault once.
func faults(t *testing.T, d *sheet.Document) []string {
	t.Helper()
	java := pdftest.Need(t, "java", "that the rules of PDF/A are kept")
	var path []string
	for _, j := range jars {
		file := filepath.Join("/usr/share/java", j+".jar")
		if _, err := os.Stat(file); err != nil {
			if os.Getenv("CI") == "true" {
				t.Fatalf("%s is not installed", j)
			}
			t.Skipf("%s is not installed, so not checked: that the rules of PDF/A are kept", j)
		}
		path = append(path, file)
	}
	file := pdftest.File(t, "card.pdf", written(t, d))
	// The program fails where the file has a fault, which it always has: see below.
	out, _ := exec.Command(java, "-XX:TieredStopAtLevel=1", "-cp", strings.Join(path, string(os.PathListSeparator)), "org.apache.pdfbox.preflight.Validator_A1b", file).CombinedOutput()
	if !strings.Contains(string(out), "not a valid PDF/A-1b file") {
		t.Fatalf("the validator says: %s", out)
	}
	seen := map[string]bool{}
	var all []string
	for _, line := range regexp.MustCompile(`(?m)^\d+(\.\d+)* : .*$`).FindAllString(string(out), -1) {
		if !seen[line] {
			seen[line] = true
			all = append(all, line)
		}
	}
	return all
}

// The validator knows the first part of the standard, which allows no files inside and nothing see-through; a card with
// figures that are not see-through keeps the rest but for the claim, which the file does not make.
func TestPDFAIsKeptButForTheClaim(t *testing.T) {
	d := sample(t)
	d.Attachments = nil
	var ops []sheet.Op
	for _, op := range d.Pages[0].Ops {
		if i, ok := op.(sheet.Image); !ok || i.Type != "png" {
			ops = append(ops, op)
		}
	}
	for i, o := range orders {
		for _, f := range faces.All() {
			ops = append(ops, sheet.Text{X: 5, Y: 20 + 8*float64(i), Face: f, Size: 6, String: o.words + " № ⅜", Block: 100 + i})
		}
	}
	d.Pages[0].Ops = ops
	got := faults(t, d)
	if len(got) != 1 || !strings.Contains(got[0], "PDF/A identification schema") {
		t.Errorf("faults: %q, want the missing claim alone", got)
	}
	whole := faults(t, sample(t)) // to see that the validator looks at all
	for _, want := range []string{"EmbeddedFile entry is present in the Names", "EmbeddedFile entry is present in a FileSpec", "PDF/A identification schema", "Soft Mask"} {
		if !strings.Contains(strings.Join(whole, "\n"), want) {
			t.Errorf("the validator does not find %q in a sheet with files and a see-through picture: %q", want, whole)
		}
	}
	if len(whole) > 5 {
		t.Errorf("faults of a sheet with files and a see-through picture: %q", whole)
	}
}

// Ghostscript turns the page into pixels twice: for a screen that is as it thinks sRGB is, and for one that is as the profile
// in the file says. Where both are the same, so are the pixels.
func TestColourProfileIsSRGB(t *testing.T) {
	gs := pdftest.Need(t, "gs", "that the colour profile is that of sRGB")
	d := one()
	for i := range 60 {
		c := sheet.Colour{R: uint8(i * 4), G: uint8(255 - i*i), B: uint8(i * 67)}
		d.Pages[0].Ops = append(d.Pages[0].Ops, sheet.Rect{X: float64(i % 10 * 10), Y: float64(i / 10 * 10), W: 10, H: 10, Filled: true, Fill: c})
	}
	file := pdftest.File(t, "card.pdf", written(t, d))
	mutool := pdftest.Need(t, "mutool", "that the colour profile is that of sRGB")
	catalog := pdftest.Run(t, mutool, "show", file, "trailer/Root/OutputIntents/1/DestOutputProfile")
	if !strings.Contains(catalog, "/N 3") {
		t.Fatalf("no profile: %s", catalog)
	}
	profile := pdftest.File(t, "srgb.icc", []byte(pdftest.Run(t, mutool, "show", "-b", file, "trailer/Root/OutputIntents/1/DestOutputProfile")))
	pixels := func(name string, args ...string) image.Image {
		out := filepath.Join(filepath.Dir(file), name)
		pdftest.Run(t, gs, append(append([]string{"-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=png16m", "-r50", "-sOutputFile=" + out}, args...), file)...)
		f, err := os.Open(out)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		m, err := png.Decode(f)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	theirs := pixels("theirs.png")
	ours := pixels("ours.png", "--permit-file-read="+profile, "-sOutputICCProfile="+profile)
	colours, most := map[[3]uint32]bool{}, 0
	for y := range theirs.Bounds().Dy() {
		for x := range theirs.Bounds().Dx() {
			r, g, b, _ := theirs.At(x, y).RGBA()
			r2, g2, b2, _ := ours.At(x, y).RGBA()
			colours[[3]uint32{r, g, b}] = true
			for _, d := range []int{int(r) - int(r2), int(g) - int(g2), int(b) - int(b2)} {
				most = max(most, d>>8, -d>>8)
			}
		}
	}
	if most > 1 || len(colours) < 60 {
		t.Errorf("%d colours, the largest difference is %d of 255", len(colours), most)
	}
}

func TestFilesInsideAreAssociated(t *testing.T) {
	qpdf := pdftest.Need(t, "qpdf", "that files inside say what they are to the pages")
	out := pdftest.Run(t, qpdf, "--qdf", "--object-streams=disable", pdftest.File(t, "card.pdf", written(t, sample(t))), "-")
	for word, n := range map[string]int{"/AFRelationship /Source": 1, "/AFRelationship /Data": 1, "/Subtype /text#2fmarkdown": 1, "/Subtype /application#2fjson": 1, "/Type /Filespec": 2} {
		if got := strings.Count(out, word); got != n {
			t.Errorf("%q is found %d times, want %d", word, got, n)
		}
	}
	if !regexp.MustCompile(`/AF \[\s+\d+ 0 R\s+\d+ 0 R\s+\]`).MatchString(out) {
		t.Error("the catalogue does not list the two files")
	}
}
