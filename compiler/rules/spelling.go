package rules

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// Spell offers to write meant for what stands at a place of a sentence; a capital stays one. The fix is safe when it can only be
// a slip of the pen: see Slip. names are all that may stand there.
func Spell(at source.Span, written, meant string, names []string) []diag.Fix {
	return SpellAs(at, written, cased(at, meant), names)
}

// cased gives a word as it would stand at a place: with a capital where one is.
func cased(at source.Span, meant string) string {
	if first, _ := utf8.DecodeRuneInString(at.Text()); unicode.IsUpper(first) && meant != "" {
		r, n := utf8.DecodeRuneInString(meant)
		return string(unicode.ToUpper(r)) + meant[n:]
	}
	return meant
}

// SpellAs is Spell for words whose case counts: keys, headings, labels.
func SpellAs(at source.Span, written, meant string, names []string) []diag.Fix {
	fixes := spelled(at, written, meant)
	for i := range fixes {
		fixes[i].Safe = Slip(written, meant, names)
	}
	return fixes
}

// spelled offers to write meant, and leaves open whether that is safe.
func spelled(at source.Span, written, meant string) []diag.Fix {
	if meant == "" || !at.Known() || at.Start == at.End || procedure.Fold(at.Text()) != procedure.Fold(written) {
		return nil // the mark covers more than the word, or less
	}
	return []diag.Fix{{Title: "write " + Quote(meant), Edits: []diag.Edit{{At: at, Text: meant}}}}
}

// Offer gives a fix that somebody has to look at: the words in the place of others.
func Offer(at source.Span, written string, words ...string) []diag.Fix {
	var all []diag.Fix
	for _, w := range words {
		if w != "" && at.Known() && at.Start < at.End && at.Text() == written && w != written {
			all = append(all, diag.Fix{Title: "write " + Quote(w), Edits: []diag.Edit{{At: at, Text: w}}})
		}
	}
	return all
}

// Slip tells whether written can only be meant, misspelt: they differ in one word, by one letter that is missing, too many,
// wrong or changed places with its neighbour (two in a word of eight letters or more), no figure among them; what was written
// is no word that a workshop knows; and of all the names, meant alone is so near. Short words are left to a person: one wrong
// letter makes a seat out of a seal.
func Slip(written, meant string, names []string) bool {
	folded := make([]string, len(names))
	for i, n := range names {
		folded[i] = procedure.Fold(n)
	}
	return slip(procedure.Fold(written), procedure.Fold(meant), folded)
}

// slip is Slip for words that are folded.
func slip(written, meant string, names []string) bool {
	if !oneSlip(written, meant) {
		return false
	}
	word := differing(written, meant)
	if workshopWord(word) {
		return false
	}
	for _, n := range names {
		if n == meant {
			continue
		}
		if oneSlip(written, n) || word != "" && wholeWords(n, word, 1) > 0 { // a word of another name is a word
			return false
		}
	}
	return true
}

// differing gives the word of a that differs from the one of b at its place, empty when their spaces differ.
func differing(a, b string) string {
	x, y := strings.Fields(a), strings.Fields(b)
	if len(x) != len(y) {
		return ""
	}
	for i := range x {
		if x[i] != y[i] {
			return x[i]
		}
	}
	return ""
}

func oneSlip(a, b string) bool {
	if d := len(a) - len(b); a == b || d > 8 || d < -8 { // two letters, of four bytes at most
		return false
	}
	if a == "" || b == "" || a[0] != b[0] { // the first letter of a word is right: see slipOfWord
		return false
	}
	if strings.ReplaceAll(a, " ", "") == strings.ReplaceAll(b, " ", "") {
		return !strings.ContainsAny(a, "0123456789")
	}
	x, y := strings.Fields(a), strings.Fields(b)
	if len(x) != len(y) {
		return false
	}
	found := false
	for i := range x {
		if x[i] == y[i] {
			continue
		}
		if found || !slipOfWord(x[i], y[i]) {
			return false
		}
		found = true
	}
	return found
}

// slipOfWord judges one word. The first letter is right in nearly all slips, and tells cap from tap.
func slipOfWord(written, meant string) bool {
	a, b := []rune(written), []rune(meant)
	if len(b) < 4 || a[0] != b[0] || len(a)-len(b) > 2 || len(b)-len(a) > 2 || strings.ContainsFunc(written+meant, func(r rune) bool { return !unicode.IsLetter(r) }) {
		return false
	}
	switch d := verb.Distance(written, meant); {
	case d == 1 && len(a) == len(b) && len(b) < 6:
		return swapped(a, b)
	case d == 1:
		return true
	case d == 2:
		return len(b) >= 8 && len(a) >= 8
	}
	return false
}

// swapped tells whether two words of one length differ by two neighbours that changed places.
func swapped(a, b []rune) bool {
	for i := range a {
		if a[i] != b[i] {
			return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i]
		}
	}
	return false
}

// workshopWord knows words of the workshop that are a letter or two from another: who writes one of them may mean it.
// The list is our own, from the names of parts, tools and supplies that such jobs have.
func workshopWord(w string) bool {
	for _, one := range []string{w, strings.TrimSuffix(w, "s"), strings.TrimSuffix(w, "es")} {
		if slices.Contains(neighbours, one) {
			return true
		}
	}
	return false
}

var neighbours = strings.Fields(`
	anchor arbor beam bearer bearing blade bleed block body boiler bolster bolt bonnet boot bore bottom brace bracket braid
	brake bridge brush bucket buffer bush button cable cage cam cap carrier case casing caster cellar centre chain chair chamber
	channel charge check cheek choke chuck clamp claw clear cleat clevis clip close clutch coil collar collet column cone cord
	core corner cotter counter coupler coupling cover cowl cradle crank crown cup cut cutter cylinder damper dial diode disc
	dish door dowel drain draw drift drive driven driver drum duct elbow element end engine face fan fasten fastener feather
	feed felt fence ferrule filler filter fitter fitting fix flange flap flat float floor flow fluid flush fork frame front fuel
	funnel fuse gaiter gate gauge gear gland glass grate grating grease grid grille grind grip grommet groove guard guide gusset
	hammer handle hang hanger hatch head heat heater heel hinge hoist hold holder hole hood hook hoop horn hose housing hub hull
	impeller inlet inner input insert intake jack jacket joint journal keel keep keeper key knife knob knuckle ladder lamp latch
	lay leave left lend lens let level lever lid lift lifter line liner lining link lip load lock locker look loop loose lower
	lug magnet make manifold mark marker mask mast meter middle motor mount mouth move muffler nail neck needle nipple nose
	nozzle nut oiler orifice outer outlet output pack packer packing pad paddle paint pan panel pawl pedal peg pick pile pilot
	pin pinion pipe piston pivot place plan plank plate platen plug plunger pocket point pointer pole polish port post pot press
	prise probe prop pull pulley pump punch push quill race rack radiator rail rake ratchet reed reel relay release rest
	retainer rib right ring rinse riser rivet rod roll roller roof rope rotor rubber rung runner saddle scale scraper screen
	screw seal sealer seat sector segment send sensor set shackle shade shaft share sheave shell shield shift shifter shim shoe
	shore shoulder shroud shut shutter side sieve silencer sill sink skid skirt slat sleeve slide slider sling slip slot sluice
	smooth soak socket sole spacer spade spider spigot spin spindle spiral splash spline split spoke spool spout spray spread
	spring sprocket stack staff stage stand starter stator stay steam stem step stick stirrup stock stop stopper store strainer
	strand strap string strip stripper strut stub stud sump support swing switch swivel table tail take tank tap tape tapered
	tappet tapping tee tensioner terminal test thimble thread throat throttle thrower thrust tie tile timer tine tip toe tooth
	top torch trace track trap tray tread trigger trim trip trolley trough truck trunk try tube tubing turn twist tyre union
	upper use valve vane vent vessel wall warm wash washer waste watch water wear wedge weigh weight weld well wheel whip wick
	winch wind wing wipe wiper wire work worm wrench yoke`)
