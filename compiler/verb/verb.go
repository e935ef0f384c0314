// Package verb is the one table of the verbs of a procedure: how they are spelt, what undoes them,
// what they take and what they do to the machine. Parser, ledger, rules and printed lists read it.
package verb

// Takes says what stands behind a verb; the grammar of each form is that of the tag language.
type Takes int

// The forms of a tag's body.
const (
	Parts    Takes = iota // declared parts only: remove … torque
	Torque                // declared parts, then value, angle, order, passes
	Fluids                // declared supplies, with a quantity before them if wanted: drain, fill
	Anything              // declared things, or free words up to a boundary
	OneThing              // exactly one thing; then a duration for start, "within" a duration for await
	Duration              // wait, takes
	Measure               // words, a limit, "at n places", "else …"
	Limit                 // words, perhaps with a limit: check
	Tool                  // a tool of the list
	Part                  // a part spoken of
	Supply                // a supply, with a quantity or a count if it matters
	Words                 // free words
	Nothing               // otherwise
	Variants              // names of variants
	Repeat                // "3 times" or "until …"
	Waive                 // rule, perhaps a name, ":" and a reason
	Word                  // one word: label, number
	Path                  // a file of the library: include
)

// Effect is what a verb does to the machine, or what else it stands for.
type Effect int

// The effects. Each has its row in the ledger's table.
const (
	None Effect = iota
	Remove
	Install
	Replace
	Discard
	Loosen
	Tighten
	Snug
	DoTorque
	Open  // opens a pair by name: open, disconnect, raise, cap, insert, support and a shop's own
	Close // closes it
	Drain
	Fill
	TopUp
	Isolate
	Restore
	Relieve
	Mark
	Align
	Start
	Await
	Wait
	Measured
	Recorded
	Checked
	Act // an act of its own with a tick and no state: clean, lubricate, bleed, lift, tell
	Wear
	Hold
	Handover
	FollowUp
	Times // repeat
	UseTool
	Speak // part
	Spend // supply
	Message
	HandsOn // takes: hands-on time of the step
	If
	Otherwise
	For
	Label
	Number
	Waived
	Include
)

// Pair tells the kinds of opening apart where the ledger treats them differently.
type Pair int

// The pairs of Open and Close.
const (
	NoPair    Pair = iota
	Either         // disconnect/connect, open/close, a shop's own: either side may be first, the first state must come back
	Lift           // raise/lower: lower first owes nothing
	Support        // support/release: undone by name, remove of that name ends it too
	Counted        // cap/uncap, insert/withdraw: counted by name
	Isolation      // lock off/unlock
)

// Verb is one row of the table.
type Verb struct {
	Name     string
	Also     []string // other spellings, the same in every way
	UndoneBy []string // names of the verbs that undo it
	Takes    Takes
	Effect   Effect
	Pair     Pair
	Ticks    bool // prints a box to tick: it is an act
	Work     bool // counts as work for the energy checks
	Touches  bool // needs the part in reach: what stands in front of it must be off
	Changes  bool // changes the state of the machine: an untagged one is invisible to the ledger
}
