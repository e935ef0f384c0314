package draft_test

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"refitcard/compiler/draft"
)

var (
	figure    = regexp.MustCompile(`\d+`)
	listMark  = regexp.MustCompile(`(?m)^\d+\. `)
	qtyOne    = regexp.MustCompile(`(?m)^(\| [^|]+ \|) 1 \|`)
	oneOf     = regexp.MustCompile(`\{([A-Za-z ]+) 1 `)
	codePoint = regexp.MustCompile(`U\+[0-9A-F]{4,6}`)
)

// inWords lists the figures that a word of the notes stands for. It is written apart from the program's own table.
var inWords = map[string][]string{
	"half": {"1", "2"}, "quarter": {"1", "4"}, "quarters": {"3", "4"}, "eighth": {"8"}, "eighths": {"8"}, "sixteenth": {"16"}, "sixteenths": {"16"}, "both": {"2"}, "pair": {"2"}, "couple": {"2"}, "dozen": {"12"},
	"one": {"1"}, "two": {"2"}, "three": {"3"}, "four": {"4"}, "five": {"5"}, "six": {"6"}, "seven": {"7"}, "eight": {"8"}, "nine": {"9"}, "ten": {"10"},
	"eleven": {"11"}, "twelve": {"12"}, "thirteen": {"13"}, "fourteen": {"14"}, "fifteen": {"15"}, "sixteen": {"16"}, "seventeen": {"17"}, "eighteen": {"18"}, "nineteen": {"19"},
}

var tens = map[string]int{"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90}

// allowed gives every figure that the notes hold, in digits or in words.
func allowed(notes string) map[string]bool {
	all := map[string]bool{"": true}
	for _, f := range figure.FindAllString(notes, -1) {
		all[f] = true
	}
	words := strings.FieldsFunc(strings.ToLower(notes), func(r rune) bool { return !unicode.IsLetter(r) })
	for i, w := range words {
		for _, f := range inWords[w] {
			all[f] = true
		}
		if t := tens[w]; t > 0 {
			all[fmt.Sprint(t)] = true
			if i+1 < len(words) {
				if one := inWords[words[i+1]]; len(one) == 1 && len(one[0]) == 1 {
					all[one[0]] = true
					all[fmt.Sprintf("%d%s", t/10, one[0])] = true
				}
			}
		}
		if w == "hundred" {
			hundreds(all, words, i)
		}
	}
	return all
}

// hundreds adds what "two hundred and ten" stands for; at is the place of its "hundred".
func hundreds(all map[string]bool, words []string, at int) {
	head := 1
	if at > 0 && len(inWords[words[at-1]]) == 1 {
		head, _ = strconv.Atoi(inWords[words[at-1]][0])
	}
	all[strconv.Itoa(head*100)] = true
	rest := words[at+1:]
	if len(rest) > 0 && rest[0] == "and" {
		rest = rest[1:]
	}
	if len(rest) == 0 {
		return
	}
	tail := tens[rest[0]]
	if one := inWords[rest[0]]; len(one) == 1 {
		tail, _ = strconv.Atoi(one[0])
	} else if tail > 0 && len(rest) > 1 && len(inWords[rest[1]]) == 1 {
		more, _ := strconv.Atoi(inWords[rest[1]][0])
		all[strconv.Itoa(head*100+tail+more)] = true
	}
	all[strconv.Itoa(head*100+tail)] = true
}

// invented gives the figures of a draft that its notes do not hold. A step's own number is none of them, and neither is
// the one of a thing that is spoken of in the singular.
func invented(notes, text string) (found []string) {
	have := allowed(notes)
	text = listMark.ReplaceAllString(text, "")
	text = qtyOne.ReplaceAllString(text, "$1 |")
	text = oneOf.ReplaceAllString(text, "{$1 ")
	text = codePoint.ReplaceAllString(text, "") // the name of a character that can't be printed
	for _, f := range figure.FindAllString(text, -1) {
		if !have[f] && !slices.Contains(found, f) {
			found = append(found, f)
		}
	}
	return found
}

func TestNoFigureIsInvented(t *testing.T) {
	for name, raw := range notes(t) {
		if f := invented(name+"\n"+string(raw), string(made(name, raw).Text)); len(f) > 0 {
			t.Errorf("%s: %q stand in the draft and not in the notes", name, f)
		}
	}
	if f := invented("two bolts, thirty-two newton metres", "2 and 32, and 31"); len(f) != 1 || f[0] != "31" {
		t.Errorf("the test itself finds %q", f)
	}
}

// letters gives the words of a text, without regard to marks and case.
func letters(s string) string {
	return " " + strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }), " ") + " "
}

// lost gives the lines of notes whose words do not stand in the draft one behind the other.
func lost(notes, text string) (missing []string) {
	text = strings.NewReplacer("{tool ", " ", "{supply ", " ").Replace(text)
	have := letters(text)
	stamp := regexp.MustCompile(`^\s*(?:[-*#]+\s+|\d+[.)]?\s+|[a-z]\)\s+)?(?:[\[(]?\d+:[\d:]+[\])]?)?\s*`)
	signal := regexp.MustCompile(`(?i)^(danger|warning|caution|notice)\W+`)
	for _, line := range strings.Split(notes, "\n") {
		for _, part := range regexp.MustCompile(`[.;!?] `).Split(line, -1) {
			part = signal.ReplaceAllString(stamp.ReplaceAllString(part, ""), "")
			if w := letters(part); w != "  " && !strings.Contains(have, w) {
				missing = append(missing, part)
			}
		}
	}
	return missing
}

func TestNoSentenceIsLost(t *testing.T) {
	for name, raw := range notes(t) {
		for _, s := range lost(string(raw), string(made(name, raw).Text)) {
			t.Errorf("%s: %q stands nowhere in the draft", name, s)
		}
	}
	if s := lost("Take it off. Hang the tag.", "<!-- take it off -->"); len(s) != 1 {
		t.Errorf("the test itself finds %q", s)
	}
}

// A draft has questions, and no finding that no question asks about; and no sheet is made from it.
func TestADraftAsksForAllThatIsFound(t *testing.T) {
	for name, raw := range notes(t) {
		d := made(name, raw)
		result := compile(d.Text)
		open := 0
		for _, f := range result.Findings {
			if f.Rule == "tag/question" {
				open++
				continue
			}
			if !slices.ContainsFunc(d.Questions, func(q draft.Question) bool {
				return q.Explains(f) && strings.Contains(string(d.Text), "> question: "+q.Text)
			}) {
				t.Errorf("%s: no question asks about %s: %s", name, f.Rule, f.Message)
			}
		}
		if open == 0 || !result.Failed() {
			t.Errorf("%s: %d open questions; a card could be made of it", name, open)
		}
	}
}

// wordLost gives a word of the notes that the draft does not hold. Words of one or two letters may be marks of a list, and
// "step" before a number too; words with figures and with letters beyond ASCII are left to the other tests.
func wordLost(notes, text string) string {
	have := map[string]bool{}
	for _, w := range strings.Fields(letters(text)) {
		have[w] = true
	}
	for _, w := range strings.Fields(letters(notes)) {
		plain := strings.IndexFunc(w, func(r rune) bool { return r < 'a' || r > 'z' }) < 0
		if plain && len(w) > 2 && w != "step" && !have[w] {
			return w
		}
	}
	return ""
}

func TestTheSameNotesGiveTheSameDraft(t *testing.T) {
	for name, raw := range notes(t) {
		first, second := made(name, raw), made(name, raw)
		if !bytes.Equal(first.Text, second.Text) {
			t.Errorf("%s: two drafts differ", name)
		}
	}
}

func FuzzDraft(f *testing.F) {
	for _, raw := range notes(f) {
		f.Add(raw)
	}
	for _, s := range []string{"", "#", "- ", "[1:12]", "take it off", "torque them to 22 Nm", "one", "a)", "Bin it.\nOil 0.8 L.\n", "gap at the`floor 8-12 mm", "{remove the bolt}", "<!-- -->", "| a | b |", "1 1/2 1/0 in", "fit\x00the\xffbolt"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		if len(raw) > 4<<10 {
			return
		}
		d := draft.Make(raw, draft.Options{Title: "notes", Number: "NOTES", Check: check})
		if n := invented(string(raw), string(d.Text)); len(n) > 0 {
			t.Fatalf("%q stand in the draft and not in the notes:\n%s", n, d.Text)
		}
		if w := wordLost(string(raw), string(d.Text)); w != "" {
			t.Fatalf("the word %q of the notes stands nowhere in the draft:\n%s", w, d.Text)
		}
		for _, x := range compile(d.Text).Findings {
			if x.Rule != "tag/question" && !slices.ContainsFunc(d.Questions, func(q draft.Question) bool { return q.Explains(x) }) {
				t.Fatalf("no question asks about %s: %s\n%s", x.Rule, x.Message, d.Text)
			}
		}
	})
}
