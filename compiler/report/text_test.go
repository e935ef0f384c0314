package report_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"refitcard/compiler/diag"
	"refitcard/compiler/report"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var update = flag.Bool("update", false, "renew the golden files")

// at marks words of a file, from the first occurrence of from to the end of the next of to.
func at(f *source.File, from, to string) source.Span {
	i := strings.Index(string(f.Text), from)
	j := i + strings.Index(string(f.Text[i:]), to) + len(to)
	return f.At(i, j)
}

func mark(f *source.File, words string) source.Span { return at(f, words, words) }

// textCases are small pieces of files, each with one thing that is hard to show.
func textCases() map[string]report.Results {
	job := source.New("winch.md", "winch.md", []byte("## Refit\n\n2. {Install 10 cover bolts} finger-tight.\n"))
	strip := source.New("shared/strip.md", "shared/strip.md", []byte("## Strip\n\n1. {Remove 12 cover bolts} with the {tool 6 mm hex key}.\n"))
	left := diag.Finding{
		Rule: "refit/left-off", Severity: diag.Error, At: mark(job, "{Install 10 cover bolts}"), Step: 7,
		Message: "2 of 12 cover bolts never go back", Do: `put 12 here, or list the other 2 under "leaves"`,
		Related: []source.Related{{At: mark(strip, "{Remove 12 cover bolts}"), Words: "came off", Step: 4}},
	}
	here := left
	here.Related = []source.Related{{At: mark(job, "Refit"), Words: "came off", Step: 4}}
	long := source.New("long.md", "long.md", []byte(strings.Repeat("Clean both faces and look at them. ", 6)+"{Torqe 4 cover bolts}"+strings.Repeat(" Wipe off what is left.", 6)+"\n"))
	tabs := source.New("tabs.md", "tabs.md", []byte("\t-\t{Remoove\tthe guard}\tnow\n"))
	wide := source.New("wide.md", "wide.md", []byte("1. 排水ポンプ {remoove the ガード} é, e\u0301 🔩 now.\n"))
	lines := source.New("lines.md", "lines.md", []byte("1. {Remove the guard\n   over the chain and\n   the rest} now.\n"))
	control := source.New("control\x1b[31m.md", "c.md", []byte("1. {Remove\x1b[2J \u202ethe guard}\n"))
	verbAt := func(f *source.File, words string) diag.Finding {
		return diag.Finding{Rule: "tag/unknown-verb", Severity: diag.Error, At: mark(f, words), Message: rules.Quote(words) + " is not a verb that a tag can begin with", Do: `write "remove"`}
	}
	bad := verbAt(control, "Remove\x1b[2J")
	bad.Message = "a message with \x1b[31m in it"
	warning := diag.Finding{Rule: "part/unused", Severity: diag.Warning, At: mark(strip, "Strip"), Message: `"guard" is in the parts list and no step speaks of it`, Do: "take the row out"}
	advice := diag.Finding{Rule: "section/silent", Severity: diag.Advice, Message: `there is no section "Tools"`, Do: "add the heading, with - none under it if that is so"}
	waived := left
	waived.Waived, waived.Message = "they are left off on purpose", "THIS IS WAIVED"
	offer := diag.Finding{
		Rule: "tag/reversed-range", Severity: diag.Error, At: mark(long, "4 cover"), Message: `the range "4 cover" begins with its larger end`, Do: "write the smaller end first",
		Fixes: []diag.Fix{{Edits: []diag.Edit{{At: mark(long, "4 cover"), Text: "12 cover"}}}, {Edits: []diag.Edit{{At: mark(long, "4 cover"), Text: "1 cover"}}}, {Safe: true, Edits: []diag.Edit{{At: mark(long, "4 cover"), Text: "SAFE"}}}},
	}
	of := func(n int, all ...diag.Finding) report.Results {
		return report.Results{Files: n, Findings: all, Texts: why}
	}
	width := func(r report.Results, n int) report.Results { r.Width = n; return r }
	coloured := of(14, left, warning, advice)
	coloured.Colour = true
	quiet := of(14, left, warning)
	quiet.Quiet = true
	offers := width(of(1, offer), 80)
	offers.Offers = true
	return map[string]report.Results{
		"related-elsewhere": of(2, left), "related-here": of(1, here), "long-line": of(1, verbAt(long, "Torqe")), "long-line-80": width(of(1, verbAt(long, "Torqe")), 80),
		"tabs": of(1, verbAt(tabs, "Remoove\tthe")), "wide": of(1, verbAt(wide, "remoove the ガード"), verbAt(wide, "now")),
		"lines":  of(1, diag.Finding{Rule: "part/unknown", Severity: diag.Error, At: at(lines, "guard", "rest"), Message: `"guard over the chain and the rest" is not in the parts list`, Do: "add a row to it"}),
		"colour": coloured, "no-colour": of(14, left, warning, advice), "width-40": width(of(14, left, warning, advice), 40), "quiet": quiet,
		"control": of(1, bad), "waived": of(3, waived), "why-once": of(2, left, here), "offers": offers,
	}
}

// why gives each rule a text of two lines.
func why(rule string) (rules.Text, bool) {
	return rules.Text{Why: "A card that is wrong about " + rule + " sends somebody\nback to the bench, or leaves something undone there."}, true
}

func TestTextGolden(t *testing.T) {
	for name, r := range textCases() {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			if err := report.Text(&b, r); err != nil {
				t.Fatal(err)
			}
			got := strings.ReplaceAll(b.String(), "\x1b", "␛")
			file := filepath.Join("testdata", "text", name+".txt")
			if *update {
				if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("it reads:\n%s\nit was to read:\n%s", got, want)
			}
		})
	}
}

var escape = regexp.MustCompile("\x1b\\[[0-9;]*m")

func inText(b *bytes.Buffer, r report.Results) error { return report.Text(b, r) }

// Colour adds nothing to the words; carets stand under what is marked; no line is wider than the terminal; nothing steers it.
func TestTextHoldsOnEverything(t *testing.T) {
	carets := 0
	for _, r := range corpus() {
		t.Run(r.name, func(t *testing.T) {
			plain := string(written(t, inText, r.Results))
			for _, width := range []int{0, 40, 80} {
				r.Width, r.Colour = width, false
				folded := string(written(t, inText, r.Results))
				if width > 0 {
					checkWidth(t, folded, width)
				}
				r.Colour = true
				if coloured := escape.ReplaceAllString(string(written(t, inText, r.Results)), ""); coloured != folded {
					t.Errorf("in a width of %d it is another text without its colours", width)
				}
			}
			r.Width, r.Colour = 0, false
			for _, c := range plain {
				if c < 0x20 && c != '\n' || c == utf8.RuneError && !strings.Contains(plain, "�") || 0x7f <= c && c < 0xa0 {
					t.Errorf("the character %U reaches the terminal", c)
				}
			}
			carets += checkCarets(t, r.Results)
		})
	}
	if carets < 100 {
		t.Errorf("only %d marks were looked at", carets)
	}
}

// oneWord is a line with a place or a label and one word, which can't be broken.
var oneWord = regexp.MustCompile(`^(.*:\d+:\d+  )?(ERROR|WARNING|ADVICE)  \S+$|^ +\S+$|^      (\S+( \S+)?)? +\S+$`)

func checkWidth(t *testing.T, text string, width int) {
	t.Helper()
	for _, line := range strings.Split(text, "\n") {
		limit := width
		if strings.Contains(line, " | ") {
			limit = max(width, 20+12+22) // lines of source have 20 columns at least, and words on where the mark ends
		}
		if n := source.Width(line); n > limit && !oneWord.MatchString(line) {
			t.Errorf("%d columns in a width of %d: %q", source.Width(line), width, line)
		}
	}
}

// checkCarets shows each finding alone and reads off its picture what is underlined.
func checkCarets(t *testing.T, r report.Results) (marks int) {
	t.Helper()
	for _, f := range r.Findings {
		if f.Waived != "" || !f.At.Known() {
			continue
		}
		var b bytes.Buffer
		r := r
		r.Findings, r.Quiet = []diag.Finding{f}, true
		if err := report.Text(&b, r); err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(b.String(), "\n")
		i := 1
		for ; !strings.Contains(lines[i], " | ") || !strings.Contains(lines[i+1], "^"); i++ {
		}
		_, shown, _ := strings.Cut(lines[i], " | ")
		_, under, _ := strings.Cut(lines[i+1], " | ")
		from := strings.Index(under, "^")
		n := strings.Count(under, "^")
		got := strings.TrimLeftFunc(columns(shown, from, from+n), func(r rune) bool { return source.Width(string(r)) == 0 }) // accents of the sign before
		want := strings.Map(func(r rune) rune {
			if r < 0x20 {
				return ' '
			}
			return r
		}, f.At.Text())
		marks++
		if cut := strings.TrimRight(got, "…"); f.At.Start < f.At.End && !strings.HasPrefix(tame(want), tame(cut)) {
			t.Errorf("%s: %q is underlined, %q is marked:\n%s", f.Rule, got, want, b.String())
		}
	}
	return marks
}

// columns cuts the columns from and to out of a line, wide characters counted as two.
func columns(line string, from, to int) string {
	var out strings.Builder
	at := 0
	for _, r := range line {
		if at >= from && at < to {
			out.WriteRune(r)
		}
		at += source.Width(string(r))
	}
	return out.String()
}

// tame makes what a terminal may not get equal on both sides.
func tame(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '�' {
			return ' '
		}
		return r
	}, shown(s))
}
