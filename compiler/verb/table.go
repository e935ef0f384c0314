package verb

import (
	"slices"
	"strings"
)

// Table is the set of verbs that a library of procedures knows. It is never changed once made.
type Table struct {
	verbs  []*Verb
	bySpel map[string]*Verb
	spell  []string // all spellings, longest first

	byLetter [256][]spelt     // the same by their first letter, small; longest first
	opens    map[string]*Verb // by the name of a verb: the one that it undoes
}

// spelt is a verb in one of its spellings.
type spelt struct {
	as   string
	verb *Verb
}

// Standard is the table of the language.
func Standard() *Table { return newTable(standard()) }

func newTable(rows []Verb) *Table {
	t := &Table{bySpel: map[string]*Verb{}, opens: map[string]*Verb{}}
	for i := range rows {
		v := &rows[i]
		t.verbs = append(t.verbs, v)
		for _, s := range append([]string{v.Name}, v.Also...) {
			t.bySpel[s] = v
			t.spell = append(t.spell, s)
		}
		for _, name := range v.UndoneBy {
			if t.opens[name] == nil {
				t.opens[name] = v
			}
		}
	}
	slices.SortFunc(t.spell, func(a, b string) int {
		if len(a) != len(b) {
			return len(b) - len(a)
		}
		return strings.Compare(a, b)
	})
	for _, s := range t.spell {
		t.byLetter[s[0]] = append(t.byLetter[s[0]], spelt{s, t.bySpel[s]})
	}
	return t
}

func standard() []Verb {
	part := func(v Verb) Verb { v.Ticks, v.Work, v.Touches, v.Changes = true, true, true, true; return v }
	state := func(v Verb) Verb { v.Ticks, v.Changes = true, true; return v }
	act := func(v Verb) Verb { v.Ticks = true; return v }
	return []Verb{
		part(Verb{Name: "remove", UndoneBy: []string{"install"}, Takes: Parts, Effect: Remove}),
		part(Verb{Name: "install", Also: []string{"fit", "refit"}, Takes: Parts, Effect: Install}),
		part(Verb{Name: "replace", Takes: Parts, Effect: Replace}),
		state(Verb{Name: "discard", Takes: Parts, Effect: Discard}),
		part(Verb{Name: "loosen", Also: []string{"slacken", "back off"}, UndoneBy: []string{"tighten", "torque"}, Takes: Parts, Effect: Loosen}),
		part(Verb{Name: "tighten", Takes: Parts, Effect: Tighten}),
		part(Verb{Name: "snug", UndoneBy: []string{"tighten", "torque"}, Takes: Parts, Effect: Snug}),
		part(Verb{Name: "torque", Takes: Torque, Effect: DoTorque}),
		state(Verb{Name: "disconnect", UndoneBy: []string{"connect"}, Takes: Anything, Effect: Open, Pair: Either}),
		state(Verb{Name: "connect", Also: []string{"reconnect"}, UndoneBy: []string{"disconnect"}, Takes: Anything, Effect: Close, Pair: Either}),
		state(Verb{Name: "open", UndoneBy: []string{"close"}, Takes: Anything, Effect: Open, Pair: Either}),
		state(Verb{Name: "close", Also: []string{"shut"}, UndoneBy: []string{"open"}, Takes: Anything, Effect: Close, Pair: Either}),
		state(Verb{Name: "raise", Also: []string{"jack up"}, UndoneBy: []string{"lower"}, Takes: Anything, Effect: Open, Pair: Lift}),
		state(Verb{Name: "lower", UndoneBy: []string{"raise"}, Takes: Anything, Effect: Close, Pair: Lift}),
		func() Verb {
			v := state(Verb{Name: "drain", UndoneBy: []string{"fill"}, Takes: Fluids, Effect: Drain})
			v.Work = true
			return v
		}(),
		state(Verb{Name: "fill", Also: []string{"refill"}, Takes: Fluids, Effect: Fill}),
		state(Verb{Name: "top up", Takes: Fluids, Effect: TopUp}),
		state(Verb{Name: "lock off", Also: []string{"isolate"}, UndoneBy: []string{"unlock"}, Takes: Anything, Effect: Isolate, Pair: Isolation}),
		state(Verb{Name: "unlock", Also: []string{"restore"}, Takes: Anything, Effect: Restore, Pair: Isolation}),
		state(Verb{Name: "relieve", Takes: Anything, Effect: Relieve}),
		state(Verb{Name: "support", UndoneBy: []string{"release"}, Takes: Anything, Effect: Open, Pair: Support}),
		state(Verb{Name: "release", Takes: Anything, Effect: Close, Pair: Support}),
		state(Verb{Name: "cap", UndoneBy: []string{"uncap"}, Takes: Anything, Effect: Open, Pair: Counted}),
		state(Verb{Name: "uncap", Takes: Anything, Effect: Close, Pair: Counted}),
		state(Verb{Name: "insert", UndoneBy: []string{"withdraw"}, Takes: Anything, Effect: Open, Pair: Counted}),
		state(Verb{Name: "withdraw", Takes: Anything, Effect: Close, Pair: Counted}),
		act(Verb{Name: "mark", UndoneBy: []string{"align"}, Takes: Anything, Effect: Mark}),
		act(Verb{Name: "align", Takes: Anything, Effect: Align}),
		act(Verb{Name: "start", UndoneBy: []string{"await"}, Takes: OneThing, Effect: Start}),
		act(Verb{Name: "await", Takes: OneThing, Effect: Await}),
		act(Verb{Name: "wait", Takes: Duration, Effect: Wait}),
		act(Verb{Name: "lubricate", Takes: Anything, Effect: Act}),
		act(Verb{Name: "clean", Takes: Anything, Effect: Act}),
		act(Verb{Name: "bleed", Takes: Anything, Effect: Act}),
		act(Verb{Name: "lift", Takes: Parts, Effect: Act}),
		act(Verb{Name: "measure", Takes: Measure, Effect: Measured}),
		act(Verb{Name: "record", Takes: Words, Effect: Recorded}),
		act(Verb{Name: "check", Also: []string{"verify"}, Takes: Limit, Effect: Checked}),
		act(Verb{Name: "tell", Takes: Words, Effect: Act}),
		{Name: "wear", Takes: Words, Effect: Wear},
		{Name: "hold", Takes: Words, Effect: Hold},
		{Name: "handover", Takes: Words, Effect: Handover},
		{Name: "follow up", Takes: Words, Effect: FollowUp},
		{Name: "repeat", Takes: Repeat, Effect: Times},
		{Name: "tool", Takes: Tool, Effect: UseTool},
		{Name: "part", Takes: Part, Effect: Speak},
		{Name: "supply", Takes: Supply, Effect: Spend},
		{Name: "danger", Takes: Words, Effect: Message},
		{Name: "warning", Takes: Words, Effect: Message},
		{Name: "caution", Takes: Words, Effect: Message},
		{Name: "notice", Takes: Words, Effect: Message},
		{Name: "takes", Takes: Duration, Effect: HandsOn},
		{Name: "if", Takes: Words, Effect: If},
		{Name: "otherwise", Takes: Nothing, Effect: Otherwise},
		{Name: "for", Takes: Variants, Effect: For},
		{Name: "label", Takes: Word, Effect: Label},
		{Name: "number", Takes: Word, Effect: Number},
		{Name: "waive", Takes: Waive, Effect: Waived},
		{Name: "include", Takes: Path, Effect: Include},
	}
}

// All lists the verbs in the order of the table.
func (t *Table) All() []*Verb { return t.verbs }

// Named finds a verb by one of its spellings, in lower case.
func (t *Table) Named(spelling string) (*Verb, bool) {
	v, ok := t.bySpel[spelling]
	return v, ok
}

// Longest finds the longest spelling, in any case, that s begins with, followed by white space, a colon or the end.
// It gives the verb and the length of the spelling in bytes; a verb of two words may have any white space between them.
func (t *Table) Longest(s string) (*Verb, int) {
	if s == "" {
		return nil, 0
	}
	for _, x := range t.byLetter[lower(s[0])] {
		if n := matchWords(s, x.as); n > 0 {
			return x.verb, n
		}
	}
	return nil, 0
}

// matchWords gives how many bytes of s spell the words, 0 when they do not stand there whole.
func matchWords(s, words string) int {
	i := 0
	for j := 0; j < len(words); j++ {
		if words[j] == ' ' {
			start := i
			for i < len(s) && isSpace(s[i]) {
				i++
			}
			if i == start {
				return 0
			}
			continue
		}
		if i >= len(s) || lower(s[i]) != words[j] {
			return 0
		}
		i++
	}
	if i < len(s) && !isSpace(s[i]) && s[i] != ':' {
		return 0
	}
	return i
}

func isSpace(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

func lower(c byte) byte {
	if 'A' <= c && c <= 'Z' {
		return c + 'a' - 'A'
	}
	return c
}

// With makes a new table with a shop's own pairs of verbs added: the first opens by name, the second closes.
// A spelling that the table has already is left out; the caller reports it.
func (t *Table) With(pairs [][2]string) (made *Table, refused []string) {
	rows := make([]Verb, 0, len(t.verbs)+2*len(pairs))
	for _, v := range t.verbs {
		rows = append(rows, *v)
	}
	seen := map[string]bool{}
	for _, p := range pairs {
		open, shut := strings.ToLower(strings.TrimSpace(p[0])), strings.ToLower(strings.TrimSpace(p[1]))
		clash := ""
		for _, s := range []string{open, shut} {
			if _, ok := t.bySpel[s]; ok || s == "" || seen[s] {
				clash = s
			}
		}
		if clash != "" || open == shut {
			refused = append(refused, open+" / "+shut)
			continue
		}
		seen[open], seen[shut] = true, true
		rows = append(rows,
			Verb{Name: open, UndoneBy: []string{shut}, Takes: Anything, Effect: Open, Pair: Either, Ticks: true, Changes: true},
			Verb{Name: shut, UndoneBy: []string{open}, Takes: Anything, Effect: Close, Pair: Either, Ticks: true, Changes: true})
	}
	return newTable(rows), refused
}

// Opens gives the verb that v undoes, or nil.
func (t *Table) Opens(v *Verb) *Verb { return t.opens[v.Name] }

// Spellings lists every spelling, longest first.
func (t *Table) Spellings() []string { return t.spell }
