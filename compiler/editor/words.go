package editor

import "refitcard/compiler/library"

// word is something that may be written, with a few words on it.
type word struct{ key, about string }

func offersOf(list []word, kind OfferKind) []Offer {
	var all []Offer
	for _, w := range list {
		all = append(all, Offer{Text: w.key, Detail: w.about, Kind: kind})
	}
	return all
}

// frontKeys lists the keys of the front matter in the order in which they are written.
var frontKeys = []word{
	{"title", "what the job is"},
	{"number", "the number of the procedure"},
	{"revision", "a letter or a number, raised when the meaning changes"},
	{"date", "2026-11-20"},
	{"machine", "which machines, with their serial numbers"},
	{"people", "a number, or 1 fitter, 1 slinger"},
	{"author", "who wrote it"},
	{"reviewer", "who looked it over"},
	{"approved", "who lets it be used; never the author"},
	{"walked", "who has tried it out, and when"},
	{"time", "the writer's estimate, such as 90 min"},
	{"units", "metric or us: which unit prints first"},
	{"paper", "a4, a5, letter …"},
	{"conditions", "light, weather, temperature"},
	{"references", "the maker's data that it rests on, with issue"},
	{"variants", "machines that differ: [A, B]"},
	{"each", "wheel, 2: once for each of 2 wheels"},
	{"after", "the numbers of the procedures before it"},
	{"then", "the numbers of the procedures behind it"},
	{"starts", "what earlier jobs have done: [remove end cover]"},
	{"leaves", "what this job leaves so on purpose"},
}

// sections lists the sections of declarations, and the stages that most jobs have.
var sections = []word{
	{"Parts", "a table: Part, Qty, Spec, Number, Use, Place, Torque"},
	{"Tools", "bullets: - 6 mm hex key"},
	{"Supplies", "bullets: - gear oil, 1.4 L"},
	{"Make safe", "a stage: lock off, relieve, prove"},
	{"Strip", "a stage"},
	{"Refit", "a stage"},
	{"Give back", "a stage: clear up, tell, unlock, test"},
}

// signals lists the signal words, strongest first (ANSI Z535).
var signals = []word{
	{"DANGER", "it will kill or maim unless avoided"},
	{"WARNING", "it may kill or maim"},
	{"CAUTION", "it may hurt a little"},
	{"NOTICE", "it may spoil the machine, nobody is hurt"},
}

// uses lists the words of the Use column.
var uses = []word{
	{"reuse", "comes off and goes back"},
	{"replace", "the old one is scrapped, a new one fitted"},
	{"add", "not on the machine before"},
	{"omit", "comes off and stays off"},
	{"if worn", "goes back unless it is worn"},
}

// relations lists the words of the Place column.
var relations = []word{
	{"holds ", "a fastener of that part"},
	{"clamps ", "slackening it is enough to free that part"},
	{"behind ", "can't be reached while that part is on"},
	{"under ", "can't be reached while that part is on"},
	{"seals ", "keeps that fluid in"},
	{"fills ", "a filler or level plug of that fluid"},
	{"locks ", "while it is on, that part can't be turned"},
	{"faces ", "the way round, in words"},
}

// frontValues lists the words that a key of the front matter takes.
func frontValues(key string) []Offer {
	var list []word
	switch key {
	case "units":
		list = []word{{"metric", ""}, {"us", ""}}
	case "paper":
		for _, p := range library.Papers {
			list = append(list, word{p, ""})
		}
	}
	return offersOf(list, ValueOffer)
}
