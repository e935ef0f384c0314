package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"refitcard/compiler/source"
	"refitcard/render/document"
	"refitcard/render/pdf"
	"refitcard/render/sheet"
)

// Whatever the library prints can be opened and corrected years later.
func TestEveryCardGivesBackItsSources(t *testing.T) {
	cards, included := 0, 0
	for _, p := range pressed(t, "a4").cards {
		dir := t.TempDir()
		_, said := run(t, done, "source", p.file, "-o", dir+"/")
		if !strings.Contains(said, "the source has the digest printed on the card") {
			t.Errorf("%s: %s", p.name, said)
		}
		for _, f := range p.job.Proc.Sources {
			want, err := os.ReadFile(filepath.Join(samples, f.Path))
			if err != nil {
				t.Fatal(err)
			}
			at := f.Path
			if len(p.job.Proc.Sources) == 1 {
				at = filepath.Base(at)
			}
			if got, err := os.ReadFile(filepath.Join(dir, at)); err != nil || !bytes.Equal(got, want) {
				t.Errorf("%s: %s came out otherwise, or not at all: %v", p.name, f.Path, err)
			}
		}
		cards++
		included += len(p.job.Proc.Sources) - 1
	}
	if cards < 20 || included < 2 {
		t.Errorf("only %d cards with %d includes were opened", cards, included)
	}
}

// cardWith is a file that prints a digest and holds files.
func cardWith(t *testing.T, printed string, files ...sheet.Attachment) string {
	t.Helper()
	ops := []sheet.Op{sheet.Text{X: 12, Y: 20, Size: 11, String: "Page 1 of 1"}}
	if printed != "" {
		ops = append(ops, sheet.Text{X: 50, Y: 20, Face: sheet.Mono, Size: 9, String: printed})
	}
	var b bytes.Buffer
	err := pdf.Write(&b, &sheet.Document{Title: "Ease the flap", Width: 148, Height: 105, Pages: []sheet.Page{{Ops: ops}}, Attachments: files})
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "flap-card.pdf")
	if err := os.WriteFile(name, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

func heldAs(what, text string) sheet.Attachment {
	return sheet.Attachment{Name: "flap.md", Description: what, Type: "text/markdown", Data: []byte(text)}
}

func TestADigestThatIsNotThePrintedOneIsSaid(t *testing.T) {
	text := "---\ntitle: Ease the flap\n---\n"
	d := source.Digest(source.New("", "", []byte(text)))
	d = d[:4] + "-" + d[4:]
	content := sheet.Attachment{Name: "card.json", Description: theContent, Data: []byte(`{"header":{"number":"FV-3","revision":"B"}}`)}
	for _, c := range []struct {
		name, printed, text string
		code                int
		words               string
	}{
		{"the same", d, text, done, "FV-3 B: the source has the digest printed on the card, " + d},
		{"changed by one letter", d, strings.Replace(text, "flap", "flaq", 1), found, "and the card prints " + d},
		{"another one printed", "AAAA-2345", text, found, "the source has the digest " + d + ", and the card prints AAAA-2345"},
		{"none printed", "", text, found, "and the card prints none"},
	} {
		t.Run(c.name, func(t *testing.T) {
			name := cardWith(t, c.printed, heldAs(theSource+"flap.md", c.text), content)
			out, said := run(t, c.code, "source", name, "-o", "-")
			if out != c.text || !strings.Contains(said, c.words) {
				t.Errorf("gives %q and says %q, want %q", out, said, c.words)
			}
		})
	}
}

// A byte order mark is part of the file, and of the digest.
func TestASourceKeepsItsByteOrderMark(t *testing.T) {
	dir := t.TempDir()
	text := "\ufeff---\ntitle: Rinse the screen\nnumber: SR-7\nrevision: A\n---\n\n## Parts\n\n- none\n\n## Tools\n\n- hose brush\n\n## Supplies\n\n- none\n\n## Rinse\r\n\r\n1. {Clean the screen bars} with the {tool hose brush}.\r\n"
	file := filepath.Join(dir, "screen.md")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	card := filepath.Join(dir, "card.pdf")
	run(t, done, "card", file, "-o", card, "--quiet")
	if out, _ := run(t, done, "source", card, "-o", "-"); out != text {
		t.Errorf("came back as %q", out)
	}
}

// A card may come from anywhere: nothing that it says leads out of the folder, or hides in it.
func TestNamesThatLeadElsewhereAreRefused(t *testing.T) {
	for _, place := range []string{
		"../flap.md", "/etc/flap.md", "a/../../flap.md", "", ".md", ".flap.md", "a/.b/flap.md", "flap", "flap.sh", `a\flap.md`,
		"c:flap.md", "flap\n.md", "a//flap.md", "flap.md/",
	} {
		t.Run(place, func(t *testing.T) {
			name := cardWith(t, "", heldAs(theSource+place, "x"))
			dir := filepath.Dir(name)
			_, said := run(t, unusable, "source", name)
			if !strings.Contains(said, "nothing is written under such a name") {
				t.Error(said)
			}
			entries, err := os.ReadDir(dir)
			if err != nil || len(entries) != 1 {
				t.Errorf("%v, %v", entries, err)
			}
			run(t, found, "source", name, "-o", filepath.Join(dir, "mine.txt")) // no digest is printed
		})
	}
}

func TestTwoFilesOfOneNameInACard(t *testing.T) {
	same := cardWith(t, "", heldAs(theSource+"flap.md", "x"), heldAs(theIncluded+"lock.md", "y"), heldAs(theIncluded+"lock.md", "y"))
	if _, said := run(t, found, "source", same); strings.Contains(said, "would both be") {
		t.Error(said)
	}
	other := cardWith(t, "", heldAs(theSource+"flap.md", "x"), heldAs(theIncluded+"lock.md", "y"), heldAs(theIncluded+"lock.md", "z"))
	if _, said := run(t, unusable, "source", other); !strings.Contains(said, "two files in this card would both be") {
		t.Error(said)
	}
	if _, err := os.Stat(filepath.Join(filepath.Dir(other), "flap.md")); err == nil {
		t.Error("half of the files were written")
	}
}

// However much of a card is left, it is read in full or refused with words.
func TestADamagedCardIsRefused(t *testing.T) {
	raw, err := os.ReadFile(pressed(t, "a4").cards[0].file)
	if err != nil {
		t.Fatal(err)
	}
	damaged := filepath.Join(t.TempDir(), "damaged.pdf")
	refused := func(what string, data []byte) {
		t.Helper()
		if err := os.WriteFile(damaged, data, 0o600); err != nil {
			t.Fatal(err)
		}
		out, said := run(t, unusable, "source", damaged, "-o", "-")
		if out != "" || !strings.Contains(said, "cut off or damaged") && !strings.Contains(said, "this is no PDF file") {
			t.Errorf("%s: gives %d bytes and says %s", what, len(out), said)
		}
	}
	for part := range 20 {
		refused("cut off", raw[:len(raw)*part/20])
	}
	at := bytes.Index(raw, []byte("/Type /EmbeddedFile"))
	at += bytes.Index(raw[at:], []byte("stream\n")) + 20
	soiled := bytes.Clone(raw)
	soiled[at] ^= 1
	refused("a bit turned over", soiled)
}

// What a card says of its files is put there by the card's own compile.
func TestAttachmentsTellWhereTheyStood(t *testing.T) {
	for _, p := range pressed(t, "a4").cards {
		list, err := attachments(p.job, &document.JobCard{})
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range p.job.Proc.Sources {
			if place, ok := placeOf(list[i]); !ok || place != f.Path {
				t.Errorf("%s: %q, want %q", p.name, list[i].Description, f.Path)
			}
		}
	}
}
