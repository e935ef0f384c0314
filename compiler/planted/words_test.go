package planted_test

// The words of the workshop: what covers, holds, seals, hangs and runs there. Names are told apart by a word of their own, so
// that one can't be taken for another.

// site is a place of a machine that a cover closes.
type site struct {
	cover string // the part that comes off first
	short string // its word in the names of what holds it
	inner []string
	clean string // a face that is wiped there
}

var sites = []site{
	{"end cover", "cover", []string{"thrust plate", "locating dowel"}, "housing face"},
	{"belt guard", "guard", []string{"idler pulley", "guide rail"}, "pulley rim"},
	{"inspection hatch", "hatch", []string{"strainer basket", "baffle"}, "hatch rim"},
	{"bearing pedestal", "pedestal", []string{"bearing shell", "oil slinger"}, "shaft journal"},
	{"gearbox lid", "lid", []string{"worm wheel", "spacer tube"}, "joint face"},
	{"pump casing", "casing", []string{"wear plate", "diffuser"}, "casing bore"},
	{"motor stool", "stool", []string{"drive sleeve", "fan wheel"}, "motor foot"},
	{"rake arm", "arm", []string{"pivot bush", "tine"}, "arm boss"},
	{"chute panel", "panel", []string{"rubber skirt", "scraper blade"}, "chute floor"},
	{"float bracket", "bracket", []string{"float rod", "cam disc"}, "bracket foot"},
	{"sluice yoke", "yoke", []string{"stem block", "roller"}, "gate lug"},
	{"drum shroud", "shroud", []string{"rope wedge", "pawl"}, "drum edge"},
	{"brake lid", "brake", []string{"lining segment", "lever link"}, "lid seat"},
	{"anode carrier", "carrier", []string{"zinc block", "earth strap"}, "hull plate"},
}

var plurals = map[string]string{
	"pivot bush": "pivot bushes", "strainer basket": "strainer baskets",
}

func pluralOf(name string) string {
	if p, ok := plurals[name]; ok {
		return p
	}
	return name + "s"
}

var machines = []string{"Rake winch RW40", "Drainage pump DP200", "Sluice gear SG12", "Pump trailer PT1500", "Wash pump WP8", "Weed boat engine WE3"}

var isolators = []string{"winch isolator", "pump isolator", "panel switch", "drive breaker", "main isolator"}

var hoses = []string{"suction hose", "return line", "vent pipe", "sensor cable", "feed tube", "earth lead"}

var valves = []string{"suction valve", "discharge valve", "penstock", "bypass cock"}

// spellings lists the ways in which a verb may be typed.
var spellings = map[string][]string{
	"install": {"install", "install", "fit", "refit"}, "loosen": {"loosen", "slacken", "back off"}, "connect": {"connect", "reconnect"},
	"close": {"close", "shut"}, "lock off": {"lock off", "isolate"}, "unlock": {"unlock", "restore"}, "fill": {"fill", "refill"},
	"raise": {"raise", "jack up"}, "check": {"check", "verify"},
}
