package prose

import "strings"

// helpers are words behind which a verb orders nothing: "it will print a warning and remove the lock".
var helpers = words("will would can could may might must should shall does did to cannot can't won't helps lets has have had is are was were be been")

// Joined tells whether a verb behind these words is joined to one that orders nothing: an "and" or "then" in a statement, or
// behind "to", or words inside brackets. before is the text of the sentence or paragraph up to the verb.
func Joined(before string) bool {
	if strings.Count(before, "(") > strings.Count(before, ")") {
		return true
	}
	sentences := Cut(before)
	if len(sentences) == 0 {
		return false
	}
	last := before[sentences[len(sentences)-1].From:]
	if strings.TrimRight(last, " ") != "" && strings.ContainsRune(".!?;", rune(strings.TrimRight(last, " ")[len(strings.TrimRight(last, " "))-1])) {
		return false // a new sentence
	}
	w := tokens(last)
	if len(w) == 0 {
		return false
	}
	end := len(w)
	if w[end-1].text == "and" || w[end-1].text == "then" || w[end-1].text == "or" || w[end-1].text == "now" {
		end--
	} else {
		return false // behind a comma alone
	}
	from := end
	for from > 0 && !strings.ContainsAny(w[from-1].after, ",:") {
		from--
	}
	if from == end { // ", and remove": what stands before the comma decides
		if end < 2 {
			return false
		}
		for from--; from > 0 && !strings.ContainsAny(w[from-1].after, ",:"); from-- {
		}
	}
	clause := w[from:end]
	if at, _ := order(clause); at >= 0 {
		return end >= 2 && w[end-2].text == "to"
	}
	return len(clause) > 0 && (statement[clause[0].text] || people[clause[0].text] || subjects[clause[0].text] || anyOf(clause, helpers))
}
