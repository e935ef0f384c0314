package tidy_test

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"refitcard/compiler/diag"
	"refitcard/compiler/quantity"
	"refitcard/compiler/tidy"
)

var (
	tagText  = regexp.MustCompile(`\{[^{}\n\\]*\}`)
	numbered = regexp.MustCompile(`^( *)(\d+)\. (.*)$`)
	bulleted = regexp.MustCompile(`^- (.*)$`)
	blankRun = regexp.MustCompile(`  +`)
)

// roughen writes a tidy procedure as somebody in a hurry types it: bars out of line, surplus blanks, steps miscounted, other
// spellings of a unit. What it means stays.
func roughen(r *rapid.T, text string) string {
	lines := strings.Split(text, "\n")
	front, fence := len(lines) > 0 && lines[0] == "---", false
	for i, line := range lines {
		if i > 0 && front {
			front = line != "---"
			continue
		}
		if strings.Contains(line, "```") {
			fence = !fence
		}
		if fence || front || !rapid.Bool().Draw(r, "rough") {
			continue
		}
		switch m := numbered.FindStringSubmatch(line); {
		case strings.HasPrefix(line, "|:"):
			lines[i] = strings.ReplaceAll(line, "----", "---")
		case strings.HasPrefix(line, "|"):
			lines[i] = blankRun.ReplaceAllString(line, " ")
		case m != nil && m[1] == "" && len(m[2]) == 1:
			lines[i] = fmt.Sprintf("%d. %s", rapid.IntRange(1, 9).Draw(r, "number"), loose(r, m[3]))
		case bulleted.MatchString(line) && (i+1 == len(lines) || !strings.HasPrefix(lines[i+1], " ")):
			lines[i] = "-" + strings.Repeat(" ", rapid.IntRange(1, 3).Draw(r, "blanks")) + line[2:]
		case line == "" && (i+1 == len(lines) || !strings.HasPrefix(lines[i+1], " ")):
			lines[i] = rapid.SampledFrom([]string{"", "\n", " ", "\t\n"}).Draw(r, "gap")
		case strings.HasPrefix(line, "## "):
			lines[i] = line + rapid.SampledFrom([]string{"", " ", " ##"}).Draw(r, "marks")
		}
	}
	return strings.Join(lines, "\n")
}

// loose puts blanks into the tags of a line, and spells newton metres otherwise.
func loose(r *rapid.T, line string) string {
	return tagText.ReplaceAllStringFunc(line, func(tag string) string {
		if strings.Contains(tag, "torque ") || strings.Contains(tag, "Torque ") {
			unit := rapid.SampledFrom([]string{" N·m", "Nm", " Nm", " N m"}).Draw(r, "unit")
			if at := strings.Index(tag, " to "); at >= 0 {
				tag = tag[:at] + strings.ReplaceAll(tag[at:], " N·m", unit)
			}
		}
		pad := strings.Repeat(" ", rapid.IntRange(0, 2).Draw(r, "pad"))
		return "{" + pad + strings.Replace(tag[1:len(tag)-1], " ", " "+pad, 1) + pad + "}"
	})
}

// unread tells whether a tag stands there that is none to the compiler, or whose verb nobody knows: that stays as typed.
func (s sample) unread() bool {
	return slices.ContainsFunc(s.read(s.text).Findings, func(f diag.Finding) bool {
		return slices.Contains([]string{"tag/unknown-verb", "tag/empty", "tag/hidden"}, f.Rule)
	})
}

// However roughly a procedure was typed, it comes out as the one layout, to the byte.
func TestRoughTypingComesOutAlike(t *testing.T) {
	var ready []sample
	for _, s := range corpus(t) {
		if !s.broken(s.text) && !s.unread() && !bytes.ContainsAny(s.text, "\r\t") && !strings.Contains(string(s.text), "<!--") {
			s.text, _ = s.tidied(s.text)
			ready = append(ready, s)
		}
	}
	changed := 0
	rapid.Check(t, func(r *rapid.T) {
		s := rapid.SampledFrom(ready).Draw(r, "procedure")
		rough := roughen(r, string(s.text))
		if rough != string(s.text) {
			changed++
		}
		now := tidy.Text(s.path, []byte(rough), s.lib.Settings().Verbs, func([]byte) bool { return true })
		if !bytes.Equal(now, s.text) {
			r.Fatalf("%s: it was, and is now\n%s\n%s", s.name, firstDifference(s.text, now), rough)
		}
	})
	if changed < 50 && !testing.Short() {
		t.Errorf("only %d were roughened", changed)
	}
}

// The proof sees what it has to: each figure and each word of a tag or of a row that is changed in the sample procedure, one at a
// time, is a difference. So is a step that changes places.
func TestTheProofSeesEveryFigure(t *testing.T) {
	for _, s := range corpus(t) {
		if s.name != "procedures/rake-winch-end-cover.md" {
			continue
		}
		old := s.read(s.text)
		tried := 0
		for _, at := range regexp.MustCompile(`\{[^{}]*\}|\|[^\n]*\|`).FindAllIndex(s.text, -1) {
			for _, f := range regexp.MustCompile(`[1-9]`).FindAllIndex(s.text[at[0]:at[1]], -1) {
				text := bytes.Clone(s.text)
				text[at[0]+f[0]] ^= 1 // 2 for 3, 4 for 5
				tried++
				if tidy.Differ(old, s.read(text)) == "" {
					t.Errorf("not seen: %s", text[at[0]:at[1]])
				}
			}
		}
		if tried < 30 {
			t.Errorf("only %d figures were tried", tried)
		}
		return
	}
	t.Error("the sample procedure is not there")
}

// Every unit of the table keeps its value in the one spelling, in all forms of a quantity; and the one spelling stays.
func TestEveryUnitKeepsItsValue(t *testing.T) {
	for _, u := range quantity.Units() {
		for _, form := range []string{"5%s", "5 %s", "5-6 %s", "5 to 6%s", "5..6 %s", "5 ±1%s"} {
			typed := strings.ReplaceAll(form, "%s", u.Name)
			before, p := quantity.Parse(typed)
			if p != nil {
				continue // not every unit may touch its figure
			}
			text := "---\ntitle: A\nnumber: B\nrevision: C\n---\n\n## Parts\n\n- none\n\n## Tools\n\n- none\n\n## Supplies\n\n- none\n\n## Work\n\n1. {Measure gap " + typed + "}.\n"
			s := alone("unit", []byte(text))
			now, refused := s.tidied(s.text)
			_, rest, _ := strings.Cut(string(now), "{Measure gap ")
			words, _, _ := strings.Cut(rest, "}")
			after, p := quantity.Parse(words)
			if p != nil || refused > 0 || after.Form != before.Form || after.Unit != before.Unit || after.Low.Rat.Cmp(before.Low.Rat) != 0 || after.High.Rat.Cmp(before.High.Rat) != 0 {
				t.Errorf("%q became %q (%d refused)", typed, words, refused)
			}
		}
	}
}

// Whatever is typed: no panic, the same meaning, and a second time the same text.
func FuzzTidy(f *testing.F) {
	for _, s := range corpus(f) {
		f.Add(s.text)
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		s := alone("fuzzed", raw)
		if s.broken(raw) {
			return
		}
		now, _ := s.tidied(raw)
		if why := tidy.Differ(s.read(raw), s.read(now)); why != "" && !bytes.Equal(now, raw) {
			t.Fatalf("%s\n%q\n%q", why, raw, now)
		}
		if again, _ := s.tidied(now); !bytes.Equal(again, now) {
			t.Fatalf("a second time it changes again\n%q\n%q\n%q", raw, now, again)
		}
	})
}
