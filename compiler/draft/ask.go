package draft

import (
	"slices"
	"strings"

	"refitcard/compiler/diag"
)

// finish writes the procedure, has it checked, and asks in place what the checks show, until nothing new is shown.
func (d *drafter) finish() Draft {
	var w *writer
	for range 12 {
		w = d.render()
		if d.opt.Check == nil || !d.inquire(w, d.opt.Check([]byte(w.b.String()))) {
			break
		}
	}
	return Draft{Text: []byte(w.b.String()), Questions: d.questions()}
}

func (d *drafter) questions() []Question {
	all := slices.Clone(d.ask)
	for _, x := range slices.Concat(d.intro, d.steps) {
		all = append(all, x.asked...)
	}
	return all
}

// inquire turns findings into questions, or gives a sentence up whose tags were not understood. It tells whether anything
// changed.
func (d *drafter) inquire(w *writer, findings []diag.Finding) bool {
	changed := false
	asked := map[[2]string]bool{}
	for _, q := range d.questions() {
		asked[[2]string{q.Rule, q.Thing}] = true
	}
	for _, f := range findings {
		if f.Rule == "tag/question" || asked[[2]string{f.Rule, f.Thing}] || d.reverse && (Question{Rule: "unwritten/reverse"}).Explains(f) {
			continue
		}
		owner := w.owner[f.At.File.Position(f.At.Start).Line]
		x, _ := owner.(*step)
		text := asks(f)
		switch {
		case x != nil && x.note:
			x.note = false
			return true
		case text == "" && x != nil && !x.lost && !x.remark:
			x.lost, x.signal = true, ""
			return true // what else is found may come from it
		case text == "":
			text = escape(f.Message) + ": which is right?"
		}
		q := Question{Text: text, Rule: f.Rule, Thing: f.Thing}
		changed = true
		asked[[2]string{q.Rule, q.Thing}] = true
		if x != nil && slices.Contains(d.steps, x) {
			x.asked = append(x.asked, q)
		} else {
			d.ask = append(d.ask, q)
		}
	}
	return changed
}

// Explains tells whether a finding comes from what this question asks.
func (q Question) Explains(f diag.Finding) bool {
	switch q.Rule {
	case "unwritten/reverse":
		return strings.HasPrefix(f.Rule, "refit/") || f.Rule == "energy/left-isolated"
	}
	return q.Rule == f.Rule && q.Thing == f.Thing
}

// asks words the question behind a finding: what the notes leave open. "%" stands for what it is about. A finding that is
// not here comes from a sentence that was not understood.
func asks(f diag.Finding) string {
	text := open()[f.Rule]
	if text == "" {
		return ""
	}
	about := f.Thing
	if about == "" && f.At.Known() {
		about = strings.Trim(f.At.Text(), "{}|- ")
	}
	return strings.ReplaceAll(text, "%", "“"+escape(strings.Join(strings.Fields(strings.NewReplacer("{", "", "}", "").Replace(about)), " "))+"”")
}

func open() map[string]string {
	return map[string]string{
		"part/bad-row":                "how many are there in all: %?",
		"part/no-count":               "how many: %?",
		"part/singular":               "one, or all: %?",
		"part/too-many":               "the counts differ: %. How many are there?",
		"part/unused":                 "what is %s for? the steps never use it",
		"part/use-differs":            "does %s go back, or does a new one go on?",
		"part/single-use-kept":        "is a new %s fitted? the notes do not say so",
		"part/by-sample":              "which ones exactly: %?",
		"part/no-way-round":           "which way round does %s go?",
		"part/spec-not-understood":    "which thread is meant: %?",
		"part/mixed-lengths":          "which length goes where: %?",
		"refit/left-off":              "% comes off and the notes do not put it back. Where does it go on?",
		"refit/left-loose":            "% is left slack. Where is it tightened, and to what?",
		"refit/not-torqued":           "% has a torque and is not torqued at the end. Where is it done?",
		"refit/old-part-back":         "does a new one go on: %?",
		"refit/already-off":           "% is off by then, as the notes say. Where does it go on before?",
		"refit/already-on":            "% goes on here, and the notes do not say where it comes off. Where does it?",
		"refit/used-after-scrap":      "% was scrapped. Does a new one go on?",
		"refit/left-open":             "% does not come back to the state that it began in. Where does it?",
		"refit/never-opened":          "% is undone here, and the notes do not say where it was done. Where?",
		"refit/not-filled":            "% is drained and not filled again. Where, and with how much?",
		"refit/branches-differ":       "what is the state of the machine when the condition does not hold: %?",
		"refit/mark-unused":           "what is lined up by the marks: %?",
		"order/behind":                "does this come in the right order: %?",
		"order/held":                  "what holds it, and does that come off first: %?",
		"order/torqued-early":         "is the torque meant for later: %?",
		"order/filled-open":           "does it go in before everything is closed: %?",
		"order/removed-wet":           "is it drained first: %?",
		"order/align-unmarked":        "by which marks: %?",
		"order/measured-early":        "is it measured while things are slack: %?",
		"order/not-bled":              "is it bled afterwards: %?",
		"order/await-unstarted":       "when did the wait begin: %?",
		"energy/left-isolated":        "when is it switched on again: %?",
		"energy/restored-early":       "is work done after it is switched on: %?",
		"energy/isolated-late":        "is it isolated only here, behind work that needs it: %?",
		"energy/not-proved":           "how is it proved that it is dead: %?",
		"energy/raised-unsupported":   "what holds it up while work is done: %?",
		"energy/not-relieved":         "how is what is stored let out: %?",
		"energy/not-cleared":          "who looks that all is clear, and who is told, before: %?",
		"torque/none":                 "to which torque: %?",
		"torque/no-pattern":           "in which order, and in how many passes: %?",
		"torque/differs-from-table":   "which torque is right: %?",
		"torque/over-proof":           "is the torque right? it would be too much for the thread: %",
		"torque/wrong-unit-likely":    "is the unit of the torque right: %?",
		"torque/slack":                "is the torque right? it is little for the thread: %",
		"torque/bad-unit":             "which unit is meant: %?",
		"torque/other-unit":           "the wrench reads in another unit. Which figure is dialled: %?",
		"torque/locking-nut":          "what is its running torque: %?",
		"torque/castle-no-range":      "from which torque to which: %?",
		"torque/condition-unsupplied": "with what are the threads treated: %?",
		"tool/none-fits":              "with which tool: %?",
		"tool/does-not-fit":           "is the size of the tool right: %?",
		"tool/no-torque-wrench":       "with which torque wrench, and of which range?",
		"tool/no-range":               "which range has it: %?",
		"tool/not-used":               "what is it used for: %?",
		"tool/ambiguous":              "which of them: %?",
		"tool/out-of-range":           "which torque wrench reaches this torque: %?",
		"tool/key-cannot-torque":      "with which bit is it torqued: %?",
		"tool/rating":                 "what holds the weight: %?",
		"tool/too-small":              "does it hold all that comes out: %?",
		"supply/no-quantity":          "how much is needed: %?",
		"supply/not-used":             "what is it used for: %?",
		"supply/short":                "how much is needed in all: %?",
		"safety/no-avoidance":         "the message says what is dangerous. What is to be done so that nobody is hurt?",
		"safety/none-for-hazard":      "which danger is there, and what is to be done against it: %?",
		"safety/step-inside":          "is that a step of its own: %?",
		"safety/weak-word":            "which signal word: %?",
		"safety/strong-word":          "which signal word: %?",
		"safety/value-in-note":        "does the value belong into a step: %?",
		"safety/points-elsewhere":     "what does it say there: %?",
		"safety/heavy-lift":           "who lifts it, or with what: %?",
		"safety/after-action":         "to which act does it belong: %?",
		"wording/vague":               "what shows it, in figures or in words that can be seen: %?",
		"wording/long":                "can it be said in two sentences: %?",
		"wording/condition-last":      "does the condition come first: %?",
		"wording/two-names":           "is that one thing or two: %?",
		"wording/other-side":          "which steps are these: %?",
		"wording/not-an-order":        "who does it, and when: %?",
		"record/no-limits":            "within which limits: %?",
		"record/no-tool":              "with which tool: %?",
		"record/no-otherwise":         "what is to be done outside the limits: %?",
		"record/no-test":              "how is it tried at the end: %?",
		"file/no-steps":               "what is to be done? the notes order nothing that was understood",
	}
}
