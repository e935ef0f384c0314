package draft

import (
	"strings"
	"sync"
)

// spoken is one way in which people say an act: "take ~ off", with the things at "~" or behind the words. need is a class
// of things that the first of them must belong to, empty for any. Common practice, no source.
type spoken struct {
	verb, phrase, need string
	words              []string // of phrase
}

// ways lists what people say for each verb of the language. "-" is no act: its words stay as they are said.
func ways() []spoken {
	var all []spoken
	for _, row := range []struct{ verb, need, phrases string }{
		{"-", "lock", "put ~ on|take ~ off|remove|fit|place|hang|hang ~ on|clip ~ on|snap ~ on"},
		{"wear", "protection", "wear|put on|put ~ on|use"},
		{"-", "cord", "pull"},
		{"-", "", "pull ~ back|slide ~ back|draw ~ back|push ~ back|push ~ down|pull ~ down|pull ~ towards|push ~ aside|swing ~ aside|fold ~ back"},
		{"disconnect", "tether", "unhook|unshackle|unclip|take ~ off"},
		{"connect", "tether", "hook ~ on|hook ~ back on|hook ~ up|shackle ~ on|clip ~ on|put ~ back on"},
		{"remove", "fastener", "pop"},
		{"-", "ignition", "take ~ out|pull ~ out|pull|remove|withdraw"},
		{"relieve", "pressure", "relieve|release|let ~ off|let ~ down|let ~ out|bleed ~ off|bleed ~ down|bleed off|bleed|vent|dump"},
		{"insert", "peg", "insert|put ~ under|put ~ between|drive ~ under|knock ~ under|put ~ in|push ~ in|slide ~ in|fit|drop ~ in"},
		{"withdraw", "peg", "withdraw|pull ~ out|take ~ out|remove|pull|draw ~ out"},
		{"support", "stand", "put ~ under|set ~ under|place ~ under"},
		{"release", "stand", "take ~ out|take ~ away|remove|pull ~ out|pull ~ away"},
		{"disconnect", "line", "disconnect|undo|unplug|uncouple|unhook|pull ~ off|unscrew"},
		{"remove", "line", "remove|take ~ off|take ~ out"},
		{"lock off", "power", "secure ~ against switching on|secure ~ against restart|knock ~ off|flick ~ off|lock ~ off|lock ~ out|lock off|lock out|isolate|kill|turn ~ off|turn off|switch ~ off|switch off|cut|lock"},
		{"unlock", "power", "turn ~ back on|turn back on|turn ~ on|switch ~ on|switch ~ back on|switch ~ on again|switch on ~ again|put ~ back on|bring ~ back on|restore|unlock"},
		{"lock off", "", "lock ~ off|lock ~ out|lock off|lock out|isolate"},
		{"unlock", "", "unlock|restore|give ~ back|hand ~ back"},
		{"drain", "fluid", "drain ~ off|drain ~ out|drain|let ~ drain out|let ~ drain|let ~ out|dump|run ~ off|empty"},
		{"top up", "", "top up|top ~ up|top off|top ~ off"},
		{"fill", "fluid", "fill with|fill up with|fill ~ up with|fill ~ with|refill with|refill ~ with|pour ~ in|put ~ in|put ~ back in|put in|pour in|refill|fill|add"},
		{"-", "finger", "watch|mind"},
		{"remove", "", `remove|rem|unscrew|undo|unbolt|dismount|take off|take out|pull off|pull out|take ~ off|take ~ out|pull ~ off|pull ~ out|pull ~ up
			|pull|whip ~ off|whip ~ out|get ~ off|get ~ out|knock ~ out|drive ~ out|drift ~ out|tap ~ out|slide ~ off|slide ~ out|slip ~ off|slip ~ out
			|lift ~ off|lift ~ out|lift off|lift out|peel ~ off|draw ~ off|draw ~ out|prise ~ off|prise ~ out|pry ~ off|pry ~ out|press ~ out|strip ~ off
			|draw ~ up|ease ~ off|ease ~ out|wind ~ out|spin ~ off|pick ~ out|pop ~ off|pop ~ out|run ~ out|unhook|tease ~ out|work ~ off|work ~ out`},
		{"install", "", `install|reinstall|fit|refit|put ~ back on|put ~ back in|put ~ back|put back on|put back in|put back|put ~ on|put ~ in|put on|put in
			|slide ~ on|slide ~ onto|slide ~ in|slide ~ into|slide ~ over|slip ~ on|slip ~ in|slip ~ over|press ~ in|press in|tap in|slide on|slide in|press ~ into|drop ~ in|drop ~ into
			|screw ~ in|screw ~ on|screw ~ back|pop ~ in|pop ~ on|knock ~ in|tap ~ in|drive ~ in|lay ~ over|lay ~ on|wind ~ in|thread ~ in|thread ~ on
			|slot ~ in|stick ~ in|stick ~ on|hang ~ on|bolt ~ on|bolt ~ back|hook ~ in|hook ~ on|tap ~ on|set ~ back on|set ~ back in|set ~ back|set ~ on`},
		{"install", "fastener", "wind ~ on|spin ~ on|run ~ up|start|lock ~ with|secure ~ with|fix ~ with|fasten ~ with"},
		{"-", "", "shut ~ down|close ~ down"},
		{"install", "", "insert|run ~ back in|run ~ in|turn ~ in|set ~ again on|put ~ again on"},
		{"remove", "", "withdraw|take ~ from|draw ~ from|pull ~ from|lift ~ from|put ~ away|lay ~ aside|put ~ aside|set ~ aside|yank ~ off|yank ~ out|yank"},
		{"replace", "", "replace|renew|swap|change"},
		{"loosen", "fastener", "loosen|screw ~ loose|make ~ loose|turn ~ loose|undo ~ a turn|slacken ~ off|slacken|slack ~ off|slack off|slack|back ~ off|back off|crack ~ loose|crack ~ off|crack|ease ~ back|ease ~ off|ease"},
		{"snug", "fastener", "snug ~ down|snug ~ up|snug"},
		{"tighten", "fastener", "make ~ fast|screw ~ fast|screw ~ tight|turn ~ tight|tighten ~ up|tighten ~ down|tighten up|tighten down|tighten|retighten|nip ~ up|nip up|do ~ up|do up|pull ~ up|run ~ down|cinch ~ down|bring ~ up"},
		{"torque", "", "torque ~ down|torque ~ up|torque"},
		{"disconnect", "", "disconnect|unplug|uncouple"},
		{"connect", "", "join ~ up|join|connect|reconnect ~ up|reconnect|plug ~ in|plug ~ back in|hook ~ up|hook ~ back up|couple ~ up"},
		{"open", "", "open ~ up|open up|open|swing ~ open"},
		{"close", "", "close ~ up|close|shut"},
		{"raise", "", "raise|jack up|jack ~ up|jack|hoist ~ up|hoist"},
		{"lower", "", "lower ~ down|lower|let ~ down"},
		{"support", "", "support|block ~ up|block up|prop ~ up|prop"},
		{"release", "", "release"},
		{"cap", "opening", "cap ~ off|cap|plug|blank ~ off|blank"},
		{"uncap", "", "uncap|unplug"},
		{"cap", "", "cap ~ off|cap"},
		{"mark", "", "mark|scribe|paint-mark"},
		{"align", "", "align|line ~ up|line up"},
		{"lubricate", "", "lubricate|lube|grease|oil|smear"},
		{"clean", "", "clean ~ off|clean ~ up|clean ~ out|clean|wipe ~ off|wipe ~ out|wipe ~ down|wipe ~ clean|blow ~ clean|brush ~ clean|rub ~ clean|flush ~ out|vacuum ~ out|hose ~ down|hose ~ off|jet ~ off|wipe round|wipe around|wipe|scrape ~ off|scrape ~ clean|scrape|wash ~ out|wash|degrease|wire brush|brush ~ off|rinse|blow ~ out"},
		{"bleed", "", "bleed"},
		{"measure", "", "measure"},
		{"record", "", "record|write ~ down|write down|note ~ down|note|make a note of|log|note down|jot ~ down"},
		{"check", "", "examine|look if|look whether|see if|see whether|control|check|double check|double-check|verify|make sure|ensure|confirm|inspect|look for|look at|see that|prove|test"},
		{"tell", "", "ask|let ~ know|tell|inform|ring|radio|notify"},
		{"discard", "", "discard|bin|scrap|chuck ~ away|chuck ~ out|chuck|throw ~ away|throw ~ out|throw away|dispose of|dispose ~ of|throw ~ in|throw out"},
	} {
		for _, p := range strings.Split(row.phrases, "|") {
			words := strings.Fields(p)
			all = append(all, spoken{row.verb, strings.Join(words, " "), row.need, words})
		}
	}
	return append(all, moving()...)
}

// classes tell things apart that one saying means different acts for, by the last word of their name.
var classes = map[string]wordSet{
	"lock":       set("lock padlock tag hasp"),
	"protection": set("glove gloves goggles mask visor helmet hat harness apron overalls boots protectors ppe glasses respirator"),
	"pressure":   set("pressure air steam charge vacuum tension"),
	"stand":      set("stand stands prop props block blocks chock trestle trestles"),
	"line":       set("hose hoses pipe pipes cable cables wire wires lead leads connector connectors end ends line lines battery plug-in"),
	"power":      set("power mains electricity current isolator breaker supply starter motor winch mixer pump drive mcb"),
	"fluid":      set("oil coolant fluid water fuel diesel petrol grease antifreeze electrolyte"),
	"cord":       set("cord rope trigger switch handle lever chain-pull"),
	"finger":     set("finger fingers hand hands toes feet head back step"),
	"fastener":   set("bolt bolts nut nuts screw screws stud studs plug plugs union unions gland glands clip clips clamp clamps fastener fasteners setscrew setscrews capscrew capscrews grubscrew grubscrews them it those these lot filter button buttons buttonhead buttonheads capscrews"),
	"tether":     set("chain chains rope ropes lanyard lanyards shackle shackles safety-chain"),
	"opening":    set("port ports opening openings end ends pipe pipes hose hoses line lines fitting fittings hole holes"),
}

// pegs are things that are put in for a while and taken out again.
var (
	pegs     = set("locking safety holding lock") // before "pin"; and by themselves:
	pegNames = set("wedge rag peg bung")
)

func inClass(class string, o object) bool {
	last := lastWord(o.name)
	if o.pron != "" {
		last = o.pron
	}
	switch class {
	case "":
		return true
	case "fastener":
		if strings.HasSuffix(last, "nut") || strings.HasSuffix(last, "nuts") || strings.HasSuffix(last, "bolt") || strings.HasSuffix(last, "screw") {
			return true
		}
	case "ignition":
		return last == "key" && (o.name == "key" || strings.Contains(o.name, "ignition"))
	case "peg":
		f := strings.Fields(o.name)
		return pegNames.has(last) || last == "pin" && len(f) > 1 && pegs.has(f[len(f)-2])
	case "power":
		return classes["power"].has(last) || isNumberedMachine(o.name)
	}
	return classes[class].has(last)
}

func isNumberedMachine(name string) bool {
	f := strings.Fields(name)
	return len(f) > 1 && classes["power"].has(f[0]) && f[1][0] >= '0' && f[1][0] <= '9'
}

func lastWord(s string) string {
	head, _, _ := strings.Cut(s, " of ")
	return head[strings.LastIndexAny(head, " -")+1:]
}

// starters are the first words of all that is said for acts.
var starters = wordSet(sync.OnceValue(func() map[string]bool {
	m := map[string]bool{}
	for _, w := range sayings() {
		m[w.words[0]] = true
	}
	return m
}))

// plain are orders that are no act of the language; a clause may begin with them.
var plain = set(`put place hang run turn push press swing spin slide sling chock start stop shut switch keep leave let wait give stand stay go move
	work wrap tie hold lay set catch use pull draw drive knock tap get bring fetch repeat wire don't do never always kill listen rotate adjust apply
	lift reset crank warm flush rock shake wiggle feel see take look watch mind unload sweep feed pack pour route position drop return
	throw slip ease grab grind rig fire cycle keep coat polish straighten hose bend cut hammer trim centre weigh try have sort seat engage tuck stretch guide squeeze tow unload collect gather mask tape sand heat cool spray drill balance degas pump count vacuum park curl stuff yank unwind wind screw nip call file go find dab smear empty knead tension work draw tease whip pop pick lever prise pry rest level square centre center zero`)

// nouny are words that stand behind a verb that is a noun as well: "drain plug", "lock nut", "clamp screw".
var nouny = set(`plug plugs cock cocks pan pans nut nuts bolt bolts screw screws washer washers gauge valve valves cover covers key line lines
	tap taps hose hoses pin pins ring rings hole holes wire tab tabs plate plates seal seals mark marks point points filter filters level cap caps handle eye eyes
	change changes renewal removal pump box wrench strap straps is are was gets takes goes should must will can has off back on in`)

// modifies are orders that stand before such a noun as a part of its name.
var modifies = set(`drain fill lock cover clamp cap seal oil grease vent bleed press lift pull jack mark set support drive plug brush clean torque start stop
	run release feed pump pack switch test position level hand line hook top cut record strip wash`)

// headAt tells whether a clause may begin at i with an order, and where the order stands.
func headAt(i int, w []tok) (int, bool) {
	if i >= len(w) {
		return i, false
	}
	t := w[i]
	if t.q || t.num > 0 || !starters.has(t.low) && !plain.has(t.low) {
		return i, false
	}
	if t.stop != "" && t.low != "rem" && !strings.HasPrefix(t.stop, ")") {
		return i, false
	}
	if i+1 < len(w) && (w[i+1].low == "and" && !starters.has(w[min(i+2, len(w)-1)].low) || w[i+1].low == "of" && t.low != "dispose") {
		return i, false
	}
	if (t.low == "lower" || t.low == "upper") && lowerOne(w, i) {
		return i, false
	}
	if t.low == "hand" && i+1 < len(w) && w[i+1].low == "tight" {
		return i, false
	}
	if t.low == "check" && i+1 < len(w) && w[i+1].low != "valve" && w[i+1].low != "valves" && w[i+1].low != "nut" && w[i+1].low != "is" {
		return i, true
	}
	if i+1 < len(w) && modifies.has(t.low) && nouny.has(w[i+1].low) && !(w[i+1].low == "off" || w[i+1].low == "back" || w[i+1].low == "on" || w[i+1].low == "in") {
		return i, t.low == "remove" || t.low == "fit" || t.low == "install" || t.low == "rem"
	}
	if i+1 < len(w) && (w[i+1].low == "back" || w[i+1].low == "on" || w[i+1].low == "in") && !particled(t.low, w[i+1].low) {
		return i, false
	}
	return i, true
}

// lowerOne tells whether "lower" at i begins a name: "lower hose: …", "lower pipe comes away", "lower guard off".
func lowerOne(w []tok, i int) bool {
	if i+1 >= len(w) || marks.has(w[i+1].low) || pronouns.has(w[i+1].low) || w[i+1].num > 0 {
		return false
	}
	for j := i + 1; j < len(w); j++ {
		t := w[j]
		end := t.stop != "" || j+1 == len(w)
		switch {
		case strings.Contains(t.stop, ":"), j > i+1 && (t.low == "off" || t.low == "out" || t.low == "is" || t.low == "are"), j > i+1 && leaves.has(t.low) && strings.HasSuffix(t.low, "s"):
			return true
		case j > i+1 && end && (t.low == "on" || t.low == "in" || t.low == "back"):
			return true
		case end:
			return false
		}
	}
	return false
}

// particled tells whether a particle may stand right behind a word.
func particled(head, particle string) bool {
	for _, w := range sayings() {
		if w.words[0] == head && (len(w.words) > 1 && w.words[1] == particle || len(w.words) > 2 && w.words[1] == "~" && w.words[2] == particle) {
			return true
		}
	}
	return head == "put" || head == "back" || head == "plug"
}

// talks gives the phrases that people talk with, and that order nothing. The longest is tried first.

func talks() [][]string {
	var all [][]string
	for _, p := range strings.Split(`the first thing is to|the next thing is to|i want you to|and then you want to|go ahead and|go on and|first thing to do is|be sure to|remember to|you're going to want to|you are going to|you're going to
		|you want to|you'll want to|you will want to|you need to|you'll need to|you will need to|you have to|you've got to|you got to|you should|you must|you can|you may
		|we want to|we need to|we have to|we can|i usually|i always|first of all|first thing|first off|after that|once that's done|when that's done|when that's right|that done
		|next up|and then|okay|ok|so|right|well|now|next|first|then|finally|lastly|just|simply|please|also|and|but|again|alright|uh|um|to`, "|") {
		all = append(all, strings.Fields(p))
	}
	return all
}

func skipFillers(w []tok, i int) int {
	for i < len(w) {
		n := fillerAt(w, i)
		if n == 0 && adverb(w[i].low) && i+1 < len(w) {
			n = 1
		}
		if _, ok := headAt(i+1, w); n == 0 && (w[i].low == "you" || w[i].low == "i" && i+2 < len(w) && opening.has(w[i+2].low)) && w[i].stop == "" && ok {
			n = 1 // "you go over to the board", "I take those out"
		}
		if n == 0 {
			return i
		}
		i += n
	}
	return i
}

func fillerAt(w []tok, i int) int {
	for _, f := range talk() {
		if i+len(f) > len(w) {
			continue
		}
		same := true
		for k, word := range f {
			same = same && w[i+k].low == word && (k == 0 || w[i+k-1].stop == "")
		}
		if same {
			return len(f)
		}
	}
	return 0
}

var talk = sync.OnceValue(talks)

func adverb(w string) bool {
	return len(w) > 4 && strings.HasSuffix(w, "ly") && w != "apply" && w != "supply" && w != "assembly" && w != "only"
}

// sayings is the table, made once, when it is first asked for.
var sayings = sync.OnceValue(ways)
