package wording

import (
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// piece is running text outside the tags of a step, or a note: all that stands between two tags.
type piece struct {
	procedure.Joined
	text string
}

// at is the place of n bytes of the piece.
func (p piece) at(i, n int) source.Span { return p.Span(i, i+n) }

// sought finds phrases in the plain text of steps and in notes, and makes a finding of the first in each piece.
func sought(j *rules.Job, list []string, phrases *rules.Phrases, say func(words string) (message, do string)) []diag.Finding {
	var all []diag.Finding
	passages := j.Passages()
	for i := range passages {
		p := &passages[i]
		if p.Kind == rules.Cautioning || !phrases.MayBeIn(p) {
			continue
		}
		for _, piece := range pieces(p.Spoken) {
			if i, n := piece.find(list); n > 0 {
				f := diag.Finding{At: piece.at(i, n), Step: p.Within}
				f.Message, f.Do = say(piece.text[i : i+n])
				all = append(all, f)
			}
		}
	}
	return all
}

// pieces cuts a list of runs at its tags.
func pieces(list []procedure.Run) []piece {
	var all []piece
	var p piece
	flush := func() {
		if p.text != "" {
			all = append(all, p)
		}
		p = piece{}
	}
	for i, r := range list {
		if tagged(r) {
			flush()
			continue
		}
		if r.Text == "" {
			continue
		}
		if p.text == "" { // most pieces are one run
			p.Joined, p.text = procedure.NewJoined(list[i:i+1:i+1], startsAtOnce), r.Text
			continue
		}
		p.Join(r, len(p.text))
		p.text += r.Text
	}
	flush()
	return all
}

// tagged tells whether a run is no running text: the words of a tag, code, or what stands nowhere.
func tagged(r procedure.Run) bool { return r.Act != nil || r.Code || r.Step != nil || !r.At.Known() }

// startsAtOnce is where the one run of a piece begins in its text. Nothing is ever put into it.
var startsAtOnce = []int{0}[:1:1]

// find looks for any of some phrases at the start of a word, without regard to case.
func (p piece) find(phrases []string) (at, n int) {
	low := strings.ToLower(p.text)
	if len(low) != len(p.text) {
		return 0, 0
	}
	for _, f := range phrases {
		for from := 0; ; {
			i := strings.Index(low[from:], f)
			if i < 0 {
				break
			}
			i += from
			end := i + len(f)
			if (i == 0 || !letter(low[i-1])) && (end == len(low) || !letter(low[end])) {
				return i, len(f)
			}
			from = end
		}
	}
	return 0, 0
}

func letter(c byte) bool { return 'a' <= c|0x20 && c|0x20 <= 'z' }

// reverses are the spellings of "the reverse of removal", with the words before it that say of what.
var reverses = []string{
	"the reverse of removal", "the reverse of the removal", "reverse of removal", "the reverse of dismantling", "in reverse order of removal",
	"the reverse of stripping", "reverse the removal", "reverse the above", "in the reverse order of removal", "the reverse of the above",
	"reverse of disassembly", "the reverse of disassembly", "reverse order to refit", "reverse order to reassemble", "the reverse procedure",
	"refit in reverse order", "refit in the reverse order", "reassemble in reverse order", "reassemble in the reverse order", "reassemble in reverse",
	"assemble in reverse order", "assemble in the reverse order", "install in reverse order", "install in the reverse order",
	"put it back in reverse", "put back in reverse", "put everything back in reverse", "put it all back in reverse",
	"assembly is in reverse order", "assembly is in the reverse order", "refitting is in reverse order", "refitting is in the reverse order",
	"reverse order of dismantling", "reverse order of disassembly", "reverse of stripping", "reverse of dismantling", "reverse of the above",
	"reverse these steps", "reverse the steps above",
}

// otherSides are the spellings of "repeat for the other side".
var otherSides = []string{
	"repeat for the other side", "repeat on the other side", "repeat at the other side", "same on the other side", "same for the other side", "likewise on the other side",
	"do the other side the same way", "repeat for the opposite side", "repeat on the opposite side", "repeat for the other end", "repeat on the other end",
	"repeat for the remaining sides", "repeat for the other wheel", "repeat on the other wheel", "the same at the other end",
}

func hasDigit(text string) bool {
	for i := range len(text) {
		if '0' <= text[i] && text[i] <= '9' {
			return true
		}
	}
	return false
}

// quantity finds a torque, or a time behind wait, leave or let, in the plain text of a step.
func (p piece) quantity() (at, n int, what string) {
	if !hasDigit(p.text) {
		return 0, 0, ""
	}
	low := strings.ToLower(p.text)
	waiting := false
	for i := 0; i < len(p.text); i++ {
		if i > 0 && p.text[i-1] != ' ' && p.text[i-1] != '(' {
			continue
		}
		for _, w := range []string{"wait ", "leave ", "let "} {
			waiting = waiting || len(low) == len(p.text) && strings.HasPrefix(low[i:], w) && ordersWait(low[:i])
		}
		if strings.ContainsRune(".;!", rune(p.text[i])) || i > 0 && p.text[i-1] == ' ' && i > 1 && strings.ContainsRune(".;!", rune(p.text[i-2])) && !startsWait(low[i:]) {
			waiting = false
		}
		if c := p.text[i]; c < '0' || c > '9' {
			continue
		}
		v, n, bad := quantity.Prefix(p.text[i:])
		if n == 0 || bad != nil {
			continue
		}
		switch {
		case v.Unit.Kind == quantity.Torque:
			return i, n, "a torque"
		case v.Unit.Kind == quantity.Time && waiting:
			return i, n, "a time to wait"
		}
	}
	return 0, 0, ""
}

// ordersWait tells whether wait, leave or let is an order behind some words: not "causes it to wait", not "the wait".
func ordersWait(before string) bool {
	f := strings.Fields(before)
	if len(f) == 0 {
		return true
	}
	switch f[len(f)-1] {
	case "to", "will", "would", "can", "could", "may", "might", "not", "never", "the", "a", "no", "this", "that", "each", "it", "they", "which", "who", "long", "short":
		return false
	}
	return true
}

func startsWait(s string) bool {
	return strings.HasPrefix(s, "wait ") || strings.HasPrefix(s, "leave ") || strings.HasPrefix(s, "let ")
}
