package verb

// About says what a verb of the language does, in one line, and shows a tag with it. A shop's own verb has only its pair to
// tell of, and no example.
func (v *Verb) About() (does, example string) {
	if a, ok := about[v.Name]; ok {
		return a[0], a[1]
	}
	if len(v.UndoneBy) > 0 {
		return "a pair of this shop", ""
	}
	return "", ""
}

// about has a line for each row of the table; the tests hold each example to the grammar.
var about = map[string][2]string{
	"remove":     {"the part comes off", "{remove 4 cover bolts}"},
	"install":    {"the part goes on; a fastener goes in, and is not tight yet", "{install a new gasket}"},
	"replace":    {"old one off, new one on, in one", "{replace the filter}"},
	"discard":    {"a part that is off is scrapped", "{discard the gasket}"},
	"loosen":     {"the fastener goes slack, and stays in", "{loosen 2 of 4 cover bolts}"},
	"tighten":    {"the fastener goes tight, with no value", "{tighten the hose clip}"},
	"snug":       {"the fastener is in and hand-tight", "{snug 4 cover bolts}"},
	"torque":     {"tightened to a value; it may be left out where the table has it", "{torque 4 cover bolts to 22 N·m crosswise in 2 passes}"},
	"disconnect": {"a line, hose or cable comes apart; either may be first", "{disconnect the supply hose}"},
	"connect":    {"and together again", "{connect the supply hose}"},
	"open":       {"a valve, door or cock; either may be first", "{open the drain cock}"},
	"close":      {"and shut again", "{close the drain cock}"},
	"raise":      {"up, on a jack or hoist", "{raise the axle}"},
	"lower":      {"and down again", "{lower the axle}"},
	"drain":      {"a declared fluid comes out", "{drain the gear oil}"},
	"fill":       {"and goes in", "{fill 1.4 L gear oil}"},
	"top up":     {"adds, without having drained", "{top up the gear oil}"},
	"lock off":   {"energy is isolated; a check that it is dead must follow", "{lock off the winch isolator}"},
	"unlock":     {"and given back, when all is whole", "{unlock the winch isolator}"},
	"relieve":    {"stored energy let out or blocked: pressure, a spring, a hung load", "{relieve the accumulator pressure}"},
	"support":    {"a load is held", "{support the axle} on the stands"},
	"release":    {"and let go", "{release the axle}"},
	"cap":        {"openings kept clean; counted", "{cap 2 hose ends}"},
	"uncap":      {"and open again", "{uncap 2 hose ends}"},
	"insert":     {"a thing put in for a while: a pin, a wedge, a rag; counted", "{insert the locking pin}"},
	"withdraw":   {"and taken out again", "{withdraw the locking pin}"},
	"mark":       {"marked, to be lined up again", "{mark the coupling halves}"},
	"align":      {"lined up by the marks", "{align the coupling halves}"},
	"start":      {"a wait that runs while other steps go on", "{start sealant cure, 20 min}"},
	"await":      {"and its end", "{await sealant cure}"},
	"wait":       {"a wait that holds the job", "{wait 10 min}"},
	"lubricate":  {"an act with a box to tick", "{lubricate the seal lip}"},
	"clean":      {"an act with a box to tick", "{clean both faces}"},
	"bleed":      {"an act with a box to tick", "{bleed the brake line}"},
	"lift":       {"no change; the mass comes from Spec", "{lift the end cover}"},
	"measure":    {"a box to write in, with limits: a..b, a ±t, at least a, at most b; at n places; else …", "{measure stack height 41.2..41.8 mm at 4 places, else tell the foreman}"},
	"record":     {"a box to write in, with no limits", "{record the running hours}"},
	"check":      {"a tick and a line on the record sheet; it may carry a limit", "{check the cover is dry}"},
	"tell":       {"a person is told", "{tell the control room}"},
	"wear":       {"protective equipment, gathered on the first page", "{wear goggles and gloves}"},
	"hold":       {"a signature of another person before going on", "{hold for the supervisor}"},
	"handover":   {"alone in a step: the job may be left here; prints what stands open", "{handover}"},
	"follow up":  {"what is due after the job, at the end of the card", "{follow up re-torque 5 wheel nuts after 50 km}"},
	"repeat":     {"first in a step: so many times, or until", "{repeat 3 times}"},
	"tool":       {"the tool that this step uses", "{tool 13 mm socket}"},
	"part":       {"a part spoken of, with no effect", "{part cover bolt}"},
	"supply":     {"a supply used, with its amount if that matters", "{supply 5 mL grease}"},
	"danger":     {"a short message inside a step: kills", "{danger: Falling gate. Pin it first}"},
	"warning":    {"can kill", "{warning: Hot oil burns. Let it cool}"},
	"caution":    {"can hurt", "{caution: Sharp edges cut. Wear gloves}"},
	"notice":     {"can damage things", "{notice: Dirt ruins the seal. Cap the port}"},
	"takes":      {"hands-on time of the step", "{takes 4 min}"},
	"if":         {"first in a step: only if the words hold", "{if the seal is cracked}"},
	"otherwise":  {"first in the next step: the other way", "{otherwise}"},
	"for":        {"first in a step: only for these variants", "{for DP300}"},
	"label":      {"names a step", "{label cover-off}"},
	"number":     {"prints the number of that step", "{number cover-off}"},
	"waive":      {"lets one finding pass, with a reason", "{waive refit/left-loose: set on the road test}"},
	"include":    {"alone in a paragraph: takes in another file of the library", "{include shared/make-safe.md}"},
}
