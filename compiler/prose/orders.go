// Package prose tells what a plain sentence does: whether it orders something, or states it.
package prose

import (
	"iter"
	"strings"
)

// vague are orders that order nothing.
var vague = []string{"be careful", "take care", "use caution", "exercise caution", "exercise care", "use care", "beware", "caution", "pay attention", "be aware", "watch out", "mind"}

// statement are words that a sentence begins with when it states and does not order.
var statement = words("the a an it its they this that these there he she we you which its hands fingers oil steam water")

// finite are words that follow the subject of a statement.
var finite = words("is are was were can could will may might must has have cuts burns falls drops crushes kills scalds starts moves turns gets flies sprays runs reaches stays hangs holds swings slips breaks bursts jumps bites catches pulls comes")

// orders are verbs that avoiding a hazard begins with. The list is common practice, no source.
var orders = words("wear keep stay let stand do don't never always use lock isolate land slack lower support release relieve vent drain wait check wipe cover put hold lift move close open remove disconnect switch turn clear work have get ask stop leave tie block chock wash catch ventilate read follow sling secure pull push hang lay set drop tell test shut make take bring carry stow guard fence prop catch clean cool dry give go touch rinse see call")

func words(s string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(s) {
		m[w] = true
	}
	return m
}

// Sentences cuts text at its stops.
func Sentences(s string) iter.Seq[string] {
	return strings.FieldsFuncSeq(s, func(r rune) bool { return r == '.' || r == '!' || r == ';' })
}

// Commands tells whether a sentence orders something. A word that is neither known as an order nor as the start of a
// statement decides as unsure says.
func Commands(s string, unsure bool) bool {
	low := strings.ToLower(strings.TrimSpace(s))
	for _, v := range vague {
		if low == v || strings.HasPrefix(low, v+" ") {
			return false
		}
	}
	for clause := range strings.FieldsFuncSeq(low, func(r rune) bool { return r == ',' || r == ':' }) {
		f := opening(strings.Trim(clause, ` "'`))
		if f[0] == "and" || f[0] == "then" || f[0] == "so" || f[0] == "but" || f[0] == "only" {
			copy(f[:], f[1:])
		}
		if f[0] != "" && orders[strings.Trim(f[0], ".,")] && !finite[f[1]] {
			return true
		}
	}
	f := opening(low)
	return unsure && f[0] != "" && !statement[f[0]] && !finite[f[1]] && !finite[f[2]] && !finite[f[3]]
}

// opening gives the first words of a text, empty where it has no more.
func opening(text string) (first [4]string) {
	n := 0
	for w := range strings.FieldsSeq(text) {
		if first[n] = w; n == len(first)-1 {
			break
		}
		n++
	}
	return first
}
