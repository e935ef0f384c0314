package letters

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/unicode/norm"
)

func TestEncode(t *testing.T) {
	for _, c := range []struct {
		name, in string
		out      string // set and characters of each run
		missing  []Missing
	}{
		{"nothing", "", "", nil},
		{"plain letters", "M8 x 25", "0:M8 x 25", nil},
		{"signs of the workshop", "≤ 5 Ω → ⌀8", "0:≤ 5 Ω → ⌀8", nil},
		{"units", "22 N·m, 90°, ½", "0:22 N·m, 90°, ½", nil},
		{"an accent typed after its letter", "e\u0301tanche", "0:étanche", nil},
		{"ohm sign, empty set and increment", "\u2126\u2205\u2206", "0:Ω⌀Δ", nil},
		{"narrow space", "10\u202f000", "0:10\u00a0000", nil},
		{"warning sign with its emoji mark", "⚠\ufe0f", "0:⚠", nil},
		{"soft hyphen", "gear\u00adbox", "0:gearbox", nil},
		{"nothing to be seen", "\u00ad", "", nil},
		{"a line end", "a\nb", "0:a b", nil},
		{"a letter of another set", "aλb", "0:a|2:λ|0:b", nil},
		{"a space stays with the word before it", "ÿ λ λ a", "0:ÿ |2:λ λ |0:a", nil},
		{"the micro sign and the letter mu", "5 µm μ", "0:5 µm |2:μ", nil},
		{"the other way of writing an accented Greek letter", "\u1f71", "2:ά", nil},
		{"two accents typed after their letter", "u\u0308\u030c", "1:ǚ", nil},
		{"two accents of which one is too many", "e\u0301\u0323", "0:é?", []Missing{{'\u0323', 3}}},
		{"a sign", "№ 4, ⅜ in", "4:№ |0:4, |4:⅜ |0:in", nil},
		{"Chinese that is missing", "a中b", "0:a?b", []Missing{{'中', 1}}},
		{"beyond U+FFFF", "a🔧", "0:a?", []Missing{{'🔧', 1}}},
		{"an accent that no letter takes", "q\u0301x", "0:q?x", []Missing{{'\u0301', 1}}},
		{"bytes that are no text", "a\xffb", "0:a?b", []Missing{{utf8.RuneError, 1}}},
		{"control character", "a\x01", "0:a?", []Missing{{1, 1}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			runs, missing := Encode(c.in)
			var out []string
			for _, r := range runs {
				out = append(out, fmt.Sprintf("%d:%s", r.Set, decoded([]Run{r})))
			}
			if got := strings.Join(out, "|"); got != c.out || !slices.Equal(missing, c.missing) {
				t.Errorf("Encode(%q) = %q, %v; want %q, %v", c.in, got, missing, c.out, c.missing)
			}
		})
	}
}

// decoded turns runs back into characters.
func decoded(runs []Run) string {
	var b strings.Builder
	for _, r := range runs {
		for _, c := range r.Codes {
			b.WriteRune(Rune(r.Set, c))
		}
	}
	return b.String()
}

// Alphabets as they are taught, small letters and capitals (from memory; the letters of each are those of its Unicode
// exemplar set).
func TestAlphabetsOfEuropeComeBackAsTheyWere(t *testing.T) {
	for language, letters := range map[string]string{
		"Polish":     "ąćęłńóśźżĄĆĘŁŃÓŚŹŻ",
		"Czech":      "áčďéěíňóřšťúůýžÁČĎÉĚÍŇÓŘŠŤÚŮÝŽ",
		"Slovak":     "äĺľŕôÄĹĽŔÔ",
		"Hungarian":  "áéíóöőúüűÁÉÍÓÖŐÚÜŰ",
		"Romanian":   "ăâîșțşţĂÂÎȘȚŞŢ",
		"Croatian":   "čćđšžČĆĐŠŽ",
		"Lithuanian": "ąčęėįšųūžĄČĘĖĮŠŲŪŽ",
		"Latvian":    "āčēģīķļņšūžĀČĒĢĪĶĻŅŠŪŽ",
		"Estonian":   "äõöüšžÄÕÖÜŠŽ",
		"Turkish":    "çğıİöşüÇĞÖŞÜ",
		"Maltese":    "ċġħżĊĠĦŻ",
		"Icelandic":  "áðéíóúýþæöÁÐÉÍÓÚÝÞÆÖ",
		"Welsh":      "âêîôûŵŷẁẃẅỳŴŶẀẂẄỲ",
		"Irish":      "áéíóúÁÉÍÓÚ",
		"Sami":       "áčđŋšŧžÁČĐŊŠŦŽ",
		"Esperanto":  "ĉĝĥĵŝŭĈĜĤĴŜŬ",
		"Greek":      "αβγδεζηθικλμνξοπρσςτυφχψωάέήίόύώϊϋΐΰΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩΆΈΉΊΌΎΏΪΫ",
		"Russian":    "абвгдеёжзийклмнопрстуфхцчшщъыьэюяАБВГДЕЁЖЗИЙКЛМНОПРСТУФХЦЧШЩЪЫЬЭЮЯ",
		"Ukrainian":  "ґєіїҐЄІЇʼ",
		"Belarusian": "ўіЎІ",
		"Bulgarian":  "ъьюяѝЪЬЮЯЍ",
		"Serbian":    "ђјљњћџЂЈЉЊЋЏ",
		"Macedonian": "ѓѕќЃЅЌѐѝ",
	} {
		for _, form := range []norm.Form{norm.NFC, norm.NFD} {
			runs, missing := Encode(form.String(letters))
			if got := decoded(runs); got != letters || len(missing) > 0 {
				t.Errorf("%s: %q came back as %q, missing %v", language, letters, got, missing)
			}
		}
	}
}

func TestEachCharacterHasOnePlace(t *testing.T) {
	seen := map[rune]bool{}
	for _, s := range Sets() {
		for code := range 256 {
			r := Rune(s, byte(code))
			if r == 0 || r == ' ' {
				continue
			}
			if seen[r] {
				t.Errorf("%q stands in two places", r)
			}
			seen[r] = true
			if runs, missing := Encode(string(r)); len(missing) > 0 || len(runs) != 1 || runs[0].Set != s || runs[0].Codes[0] != byte(code) {
				t.Errorf("%q of the set %d comes out as %v, %v", r, s, runs, missing)
			}
		}
	}
}

// Outside source: the table of windows-1252 in golang.org/x/text. Where ours differs, the place holds one of the signs.
func TestCodesAreThoseOfWindows1252(t *testing.T) {
	given := []rune("☐☑✓⚠≤≥⌀Ω→∠−≈Δ←↑↓′″≠")
	found := 0
	for code := 0x20; code < 256; code++ {
		ours, theirs := Rune(Common, byte(code)), charmap.Windows1252.DecodeByte(byte(code))
		switch {
		case slices.Contains(given, ours):
			found++
		case code == 0x7f || code == 0xad:
			if ours != 0 {
				t.Errorf("code %#x is %q, want none", code, ours)
			}
		case ours != theirs:
			t.Errorf("code %#x is %q, want %q", code, ours, theirs)
		}
	}
	if found != len(given) {
		t.Errorf("%d of the %d signs have a place", found, len(given))
	}
}
