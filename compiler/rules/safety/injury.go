package safety

import (
	"strings"

	"refitcard/compiler/rules"
)

// persons are words that speak of a person, of a hurt, or of something that hurts. Common practice, no source.
var persons = set(`injury injure injures injured hurt hurts burn burns burnt cut cuts crush crushes kill kills killed fatal death deadly blind blinds
	trap traps shock shocks shocked poison poisons poisonous fall falls drop drops hand hands finger fingers eye eyes skin face head foot feet
	toe toes arm arms leg legs back lung lungs breath breathe breathing person persons people man men woman worker anyone anybody nobody
	someone somebody you your hot scald scalds fire flame flames explode explodes explosion gas gases fume fumes vapour vapor toxic pressure
	pressurised spray sprays fly flies load heavy live electric electrical electricity voltage spring springs stored sharp acid caustic rotating
	moving drown drowns noise hearing slip slips trip trips stun stuns choke chokes suffocate asbestos dust needle bite bites sting roll rolls
	swing swings tip tips start starts steam water rope belt blade blades jet dropped falling
	tipping weighs kg`)

// harms are words of damage to things alone, and harmPhrases their stems.
var (
	harms = set(`damage damages damaged spoil spoils spoiled ruin ruins ruined scratch scratches dent dents warp warps corrode corrodes corrosion
	rust rusts leak leaks seize seizes strip strips wear wears`)
	harmPhrases = rules.NewPhrases("damage", "spoil", "ruin", "scratch", "dent", "warp", "corro", "rust", "leak", "seize", "strip", "wear")
)

// mortal finds words of death that are surely meant of a person: bytes from up to to, to 0 when there are none. "kills the
// engine", "dead weight" and "not fatal" are none.
func mortal(text string) (from, to int) {
	low := strings.ToLower(text)
	if len(low) != len(text) {
		return 0, 0
	}
	for i := 0; i < len(low); i++ {
		if i > 0 && letter(low[i-1]) || !letter(low[i]) {
			continue
		}
		end := i
		for end < len(low) && letter(low[end]) {
			end++
		}
		if deadly(low[i:end], wordList(low[:i]), wordList(low[end:]), low[end:]) {
			return i, end
		}
		i = end - 1
	}
	return 0, 0
}

func letter(c byte) bool { return 'a' <= c|0x20 && c|0x20 <= 'z' }

func deadly(word string, before, after []string, rest string) bool {
	if denied(before) {
		return false
	}
	last := ""
	if len(before) > 0 {
		last = before[len(before)-1]
	}
	next := ""
	if len(after) > 0 {
		next = after[0]
	}
	ended := rest == "" || strings.ContainsRune(".,;:!", rune(rest[0]))
	switch word {
	case "kills", "kill":
		if word == "kill" && !(last == "can" || last == "may" || last == "will" || last == "could" || last == "and" || last == "or" || last == "might") {
			return false
		}
		if next == "the" && len(after) > 1 {
			next = after[1]
		}
		if next == "a" && len(after) > 1 {
			next = after[1]
		}
		return ended || whom[next]
	case "fatal", "lethal", "deadly":
		return ended || next == "injury" || next == "injuries" || next == "shock" || next == "shocks" || next == "burns" || next == "fall" || next == "to" || next == "within" || next == "gas"
	case "death":
		return ended && (last == "and" || last == "or" || last == "cause" || last == "causes" || last == "to" || last == "means")
	case "die", "dies":
		return last == "you" || last == "people" || last == "can" || last == "will" || last == "may" || last == "man" || last == "entrant"
	case "electrocute", "electrocutes", "electrocuted":
		return true
	}
	return false
}

// whom are words that may follow "kills" when a person is meant.
var whom = set("and or you people anyone someone anybody whoever man men person persons operator entrant driver fitter worker workers by within in at instantly outright before without")

var denials = set("not no never non without nor neither isn't doesn't can't cannot won't rarely hardly")

// denied tells whether one of the last four words takes back what follows.
func denied(before []string) bool {
	last := before[max(0, len(before)-4):]
	for i, w := range last {
		if w == "without" && i+1 < len(last) && (last[i+1] == "notice" || last[i+1] == "warning") {
			continue // "it drops without notice, and kills"
		}
		if denials[w] {
			return true
		}
	}
	return false
}
