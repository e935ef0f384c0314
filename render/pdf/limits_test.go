package pdf

import (
	"bytes"
	"strings"
	"testing"

	"refitcard/render/sheet"
)

// bomb is a small file whose insides unpack to far more than a card ever holds.
func bomb(t *testing.T, files, size int) []byte {
	t.Helper()
	d := &sheet.Document{Width: 10, Height: 10, Pages: make([]sheet.Page, 1)}
	data := make([]byte, size)
	for range files {
		d.Attachments = append(d.Attachments, sheet.Attachment{Name: "a.md", Data: data})
	}
	var b bytes.Buffer
	if err := Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestFilesThatFillMemoryAreRefused(t *testing.T) {
	for _, c := range []struct {
		name        string
		files, size int
		words       string
	}{
		{"one too large", 1, mostBytes + 1, "too large"},
		{"too large together", 2, mostBytes/2 + 1, "too large"},
		{"too many", mostFiles + 1, 0, "too many"},
	} {
		t.Run(c.name, func(t *testing.T) {
			list, err := Attached(bomb(t, c.files, c.size))
			if err == nil || !strings.Contains(err.Error(), c.words) || list != nil {
				t.Errorf("%d files and error %v, want one with %q", len(list), err, c.words)
			}
		})
	}
}

// Strings and names come back as they were, whatever stands in them.
func TestValuesAreReadAsTheyWereWritten(t *testing.T) {
	for _, s := range []string{"", "plain", `a \ (b) )(`, "line\nend\r", "höhe ⌀ 🔧", "\x00\xff", "D:2026"} {
		b := put(nil, dict{"T": textString(s), name("odd #/ name (ü)"): array{words(s), integer(-3), decimal(0.12345), name("")}, "R": ref(7)})
		v, err := (&parser{data: b}).value(0)
		if err != nil {
			t.Errorf("%q: %v", s, err)
			continue
		}
		d := v.(dict)
		if got := readText(d["T"].(words)); got != strings.ToValidUTF8(s, "\ufffd") {
			t.Errorf("%q came back as %q", s, got)
		}
		list := d["odd #/ name (ü)"].(array)
		if string(list[0].(words)) != s || list[1] != word("-3") || list[2] != word("0.123") || list[3] != name("") || d["R"] != ref(7) {
			t.Errorf("%q: came back as %#v", s, d)
		}
	}
}

func TestDecimal(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want word
	}{{0, "0"}, {-0.0001, "0"}, {1, "1"}, {100, "100"}, {-2.5, "-2.5"}, {1e5 + 0.0004, "100000"}, {0.9999, "1"}} {
		if got := decimal(c.v); got != c.want {
			t.Errorf("decimal(%v) = %q, want %q", c.v, got, c.want)
		}
	}
}
