package draft

import (
	"strconv"
	"strings"
	"unicode"

	"refitcard/compiler/prose"
)

// said is one sentence of the notes, in one line, as it was written.
type said struct {
	text  string
	stamp string // the time stamp of the line that it begins on, with its brackets
	head  bool   // a heading: it names what follows, and orders nothing
	item  bool   // begins an item of a list, or a line of its own
	level int    // of a heading in Markdown; 0 for a line that only looks like one
	para  int    // which paragraph or item it stands in
}

var (
	stamped  = pattern(`^\s*([\[(]?\d{1,2}:\d{2}(?::\d{2})?(?:[.,]\d{1,3})?[\])]?)(?:\s+[-–]\s+|[:\s]\s*|$)`)
	bulleted = pattern(`^\s*(?:[-*+•–]\s+|(?:\d{1,3}|[a-zA-Z])[.)]\s+|[Ss]tep\s+\d{1,3}[.:)]?\s+)(?:\[[ xX]\]\s+)?`)
	bold     = pattern(`^\s*\*\*([^*.]{2,60}?):?\*\*:?\s*$`)
	headed   = pattern(`^\s*(#{1,6})\s+`)
)

// line is one line of the notes without its marks.
type line struct {
	text, stamp string
	item, blank bool
	level       int
}

func lines(notes string) []line {
	var all []line
	rows := strings.Split(notes, "\n")
	counted := countsUp(rows)
	for _, raw := range rows {
		l := line{}
		if counted && barely().MatchString(raw) {
			l.item, raw = true, strings.TrimLeft(raw, " 0123456789")
		}
		if strings.Trim(raw, "=-_* ") == "" {
			raw = "" // a rule, or the line under a heading
		}
		if m := headed().FindStringSubmatch(raw); m != nil {
			l.level, raw = len(m[1]), raw[len(m[0]):]
		}
		if m := bold().FindStringSubmatch(raw); m != nil && l.level == 0 {
			l.level, raw = 2, m[1]
		}
		if m := bulleted().FindString(raw); m != "" && l.level == 0 {
			l.item, raw = true, raw[len(m):]
		}
		if m := stamped().FindStringSubmatch(raw); m != nil {
			l.stamp, raw = m[1], raw[len(m[0]):]
		}
		raw = strings.TrimLeft(strings.TrimSpace(raw), ">")
		l.text = strings.Join(strings.Fields(unmarked(raw)), " ")
		l.blank = l.text == "" && l.stamp == ""
		all = append(all, l)
	}
	return all
}

// barely matches a numbered line without a point: "4 Fill the box".
var barely = pattern(`^\s*(\d{1,2})\s+\p{Lu}`)

// countsUp tells whether lines are numbered without a point: three or more, each one up from the one before.
func countsUp(rows []string) bool {
	next := 1
	for _, r := range rows {
		if m := barely().FindStringSubmatch(r); m != nil && m[1] == strconv.Itoa(next) {
			next++
		}
	}
	return next > 3
}

// unmarked takes the marks of Markdown off; between two words a space stays.
func unmarked(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		n := 0
		switch {
		case strings.HasPrefix(s[i:], "**"), strings.HasPrefix(s[i:], "__"):
			n = 2
		case s[i] == '`':
			n = 1
		}
		if n == 0 {
			b.WriteByte(s[i])
			continue
		}
		if out := b.String(); out != "" && wordy(out[len(out)-1]) && i+n < len(s) && wordy(s[i+n]) {
			b.WriteByte(' ')
		}
		i += n - 1
	}
	return b.String()
}

func wordy(c byte) bool { return c >= '0' && c <= '9' || c|0x20 >= 'a' && c|0x20 <= 'z' || c >= 0x80 }

// clean takes out what no text holds: bytes that are no UTF-8, and control characters.
func clean(notes []byte) string {
	s := strings.ToValidUTF8(strings.TrimPrefix(string(notes), "\ufeff"), "?")
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n").Replace(s)
	return strings.Map(func(r rune) rune {
		if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) {
			return ' '
		}
		return r
	}, s)
}

// dangling are words that no line ends a sentence with.
var dangling = set("a an the with and to of for from or your its their using is are be until between")

// read cuts notes into sentences. A line without a stop goes on in the next one where most lines end with a stop; in notes
// that know no stops a line is a sentence, unless its last word can't end one.
func read(notes []byte) []said {
	all := lines(clean(notes))
	stops, full := 0, 0
	for _, l := range all {
		if !l.blank && l.level == 0 {
			full++
			if strings.ContainsAny(l.text[max(0, len(l.text)-1):], ".!?:;") {
				stops++
			}
		}
	}
	joins := stops*2 >= full
	var out []said
	text, stamp, item, para := "", "", false, 0
	flush := func() {
		para++
		for i, s := range sentences(text) {
			out = append(out, said{text: s, stamp: stamp, item: item && i == 0, para: para})
		}
		text, stamp, item = "", "", false
	}
	for i, l := range all {
		switch {
		case l.blank:
			flush()
			continue
		case l.level > 0:
			flush()
			out = append(out, said{text: l.text, head: true, level: l.level})
			continue
		case text != "" && (l.item || !goesOn(text, l, joins)):
			flush()
		}
		if text == "" {
			stamp, item = l.stamp, l.item || !joins
			alone := (i == 0 || all[i-1].blank) && (i+1 == len(all) || all[i+1].blank || i == firstLine(all))
			if alone && !l.item && title(l.text) {
				out = append(out, said{text: l.text, stamp: l.stamp, head: true})
				continue
			}
			text = l.text
			continue
		}
		text += " " + l.text
		if joins && l.stamp != "" && strings.ContainsAny(text[len(text)-1:], ".!?") {
			flush()
		}
	}
	flush()
	return out
}

func firstLine(all []line) int {
	for i, l := range all {
		if !l.blank {
			return i
		}
	}
	return -1
}

// title tells whether a line that stands alone names something instead of saying it: no stop, and nothing ordered.
func title(s string) bool {
	w := tokens(s)
	if s == "" || len(w) == 0 || len(w) > 14 || strings.ContainsAny(s[len(s)-1:], ".!?,;") {
		return false
	}
	for _, t := range w {
		if t.q {
			return false
		}
	}
	if skipFillers(w, 0) > 0 || strings.Contains(s, "'re ") || strings.Contains(s, "'m ") {
		return false // talk
	}
	_, ok := headAt(skipFillers(w, 0), w)
	return !ok || w[0].low == "change" || len(w) > 1 && plain.has(w[0].low) && !starters.has(w[0].low) && !marks.has(w[1].low) && !pronouns.has(w[1].low) && !preps.has(w[1].low) || len(w) > 1 && papers.has(w[1].low)
}

// papers are what notes call themselves: "work description: …".
var papers = set("description instruction instructions procedure order sheet card job task plan method notes")

func goesOn(text string, l line, joins bool) bool {
	last := text[len(text)-1:]
	if strings.ContainsAny(last, ".!?:") {
		return joins && l.stamp == ""
	}
	if len(text) > 4<<10 {
		return false // no sentence of anybody's
	}
	word := text[strings.LastIndexByte(text, ' ')+1:]
	if dangling.has(strings.ToLower(strings.Trim(word, ","))) || last == "," {
		return true
	}
	return joins
}

var footCut = pattern(`(?i)\d ?(?:ft|in)\.$`)

// sentences cuts a paragraph.
func sentences(text string) []string {
	var all []string
	for _, c := range prose.Cut(text) {
		s := strings.TrimSpace(text[c.From:c.To])
		if n := len(all); n > 0 && footCut().MatchString(all[n-1]) && strings.HasPrefix(strings.ToLower(s), "lb") {
			all[n-1] += " " + s // "7 ft. lbs."
			continue
		}
		if n := len(all); n > 0 && s != "" && strings.ContainsRune("),;", rune(s[0])) {
			all[n-1] += s // "(two long ones on top!), then …"
			continue
		}
		if strings.IndexFunc(s, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) < 0 && len(all) > 0 {
			all[len(all)-1] += " " + s
			continue
		}
		if s != "" {
			all = append(all, s)
		}
	}
	return all
}

// quiet writes a sentence that is all in capitals in small letters; a word without a vowel is an abbreviation, and stays.
func quiet(s string) string {
	if s != strings.ToUpper(s) || len(strings.Fields(s)) < 2 || s == strings.ToLower(s) {
		return s
	}
	f := strings.Fields(s)
	for i, w := range f {
		if strings.ContainsAny(w, "AEIOUY") && !strings.ContainsAny(w, "0123456789") {
			f[i] = strings.ToLower(w)
		}
	}
	return strings.Join(f, " ")
}
