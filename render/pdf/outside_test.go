package pdf_test

import (
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"refitcard/render/faces"
	"refitcard/render/pdf/pdftest"
	"refitcard/render/sheet"
)

// In this file programs that did not make the file look at it.

func TestQpdfFindsNothingWrong(t *testing.T) {
	qpdf := pdftest.Need(t, "qpdf", "that the file's structure is sound")
	file := pdftest.File(t, "card.pdf", written(t, sample(t)))
	if out := pdftest.Run(t, qpdf, "--check", file); !strings.Contains(out, "No syntax or stream encoding errors found") {
		t.Error(out)
	}
}

func TestStrictValidation(t *testing.T) {
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	file := pdftest.File(t, "card.pdf", pdftest.Unassociated(written(t, sample(t))))
	t.Chdir(root)
	goTool := pdftest.Need(t, "go", "that pdfcpu's strict mode accepts the file")
	out := pdftest.Run(t, goTool, "tool", "-modfile=.ci/tools.mod", "pdfcpu", "validate", "-conf", "disable", "-mode", "strict", file)
	if !strings.Contains(out, "validation ok") {
		t.Error(out)
	}
}

func TestFontsAreEmbedded(t *testing.T) {
	pdffonts := pdftest.Need(t, "pdffonts", "that all fonts are in the file")
	out := pdftest.Run(t, pdffonts, pdftest.File(t, "card.pdf", written(t, sample(t))))
	lines := strings.Split(strings.TrimSpace(out), "\n")[2:]
	if len(lines) != 3 {
		t.Errorf("%d fonts, want 3:\n%s", len(lines), out)
	}
	for _, l := range lines { // name, type, encoding, embedded, subset, unicode, object
		if f := strings.Fields(l); len(f) < 7 || f[1] != "TrueType" || f[3] != "yes" || f[5] != "yes" {
			t.Errorf("not embedded, or without characters: %s", l)
		}
	}
}

func TestTextIsCopiedOutInReadingOrder(t *testing.T) {
	pdftotext := pdftest.Need(t, "pdftotext", "that text can be copied out in order")
	out := pdftest.Run(t, pdftotext, "-raw", "-enc", "UTF-8", pdftest.File(t, "card.pdf", written(t, sample(t))), "-")
	at := 0
	for _, want := range []string{
		"SD-114", "Refit the drain pump's cover", "Fit 4 bolts M8 × 25", "through the cover, ⌀ 9 ≤ 9.2 → Ω ∠ ✓ ☐ ☑ ⚠",
		"22 N·m", "16 lbf·ft", "After the job", `(½ turn) \ wait`,
	} {
		i := strings.Index(out[at:], want)
		if i < 0 {
			t.Fatalf("%q is missing, or stands too early:\n%s", want, out)
		}
		at += i + len(want)
	}
}

func TestPropertiesAndTags(t *testing.T) {
	pdfinfo := pdftest.Need(t, "pdfinfo", "that title, page size and tags are in the file")
	file := pdftest.File(t, "card.pdf", written(t, sample(t)))
	out := strings.Join(strings.Fields(pdftest.Run(t, pdfinfo, "-enc", "UTF-8", file)), " ")
	for _, want := range []string{
		"Title: Refit the drain pump's cover (Ω)", "Subject: SD-114 C", "Producer: refitcard", "Tagged: yes", "Pages: 2",
		"PDF version: 1.7", "419.528 x 396.85 pts", "Metadata Stream: yes",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is missing: %s", want, out)
		}
	}
	tree := pdftest.Run(t, pdfinfo, "-struct-text", "-enc", "UTF-8", file)
	flat := strings.Join(strings.Fields(tree), " ")
	for _, want := range []string{
		`Document P (block) "SD-114"`, `H1 (block) "Refit the drain pump's cover"`,
		`P (block) "Fit 4 bolts M8 × 25through the cover, ⌀ 9 ≤ 9.2 → Ω ∠ ✓ ☐ ☑ ⚠"`, `H2 (block) "After the job"`, "Figure",
	} {
		if !strings.Contains(flat, want) {
			t.Errorf("the structure lacks %s:\n%s", want, tree)
		}
	}
	if strings.Contains(flat, "DRAFT") || strings.Contains(flat, "4F7K29QD 0O") {
		t.Errorf("decoration stands in the structure:\n%s", tree)
	}
}

func TestScanCodeIsRead(t *testing.T) {
	pdftoppm := pdftest.Need(t, "pdftoppm", "that the scan code can be read")
	zbarimg := pdftest.Need(t, "zbarimg", "that the scan code can be read")
	file := pdftest.File(t, "card.pdf", written(t, sample(t)))
	picture := strings.TrimSuffix(file, ".pdf")
	pdftest.Run(t, pdftoppm, "-r", "150", "-png", "-singlefile", file, picture)
	if out := pdftest.Run(t, zbarimg, "--quiet", "--raw", picture+".png"); strings.TrimSpace(out) != payload {
		t.Errorf("read %q, want %q", out, payload)
	}
}

func TestWordsAreAsWideAsLayoutThinks(t *testing.T) {
	pdftotext := pdftest.Need(t, "pdftotext", "that words end where layout thinks they end")
	word := "Rücklaufventil-0123456789/½Ω→⌀☐☑⚠✓∠M8×25"
	for _, f := range faces.All() {
		file := pdftest.File(t, "card.pdf", written(t, one(sheet.Text{X: 5, Y: 30, Face: f, Size: 11, String: word})))
		out := pdftest.Run(t, pdftotext, "-bbox", "-enc", "UTF-8", file, "-")
		m := regexp.MustCompile(`<word xMin="([0-9.]+)" yMin="[0-9.]+" xMax="([0-9.]+)"[^>]*>([^<]*)<`).FindStringSubmatch(out)
		if m == nil || m[3] != word {
			t.Fatalf("face %d: the word is missing:\n%s", f, out)
		}
		left, err1 := strconv.ParseFloat(m[1], 64)
		right, err2 := strconv.ParseFloat(m[2], 64)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if got, want := (right-left)*25.4/72, faces.Width(f, word, 11); math.Abs(got-want) > 0.01 {
			t.Errorf("face %d: %.3f mm wide in the file, layout thinks %.3f", f, got, want)
		}
	}
}
