package main

import (
	"refitcard/compiler/library"
	"refitcard/render/document"
)

// aboutSettings says what each key of refitcard.yaml holds.
var aboutSettings = map[string]string{
	"shop": "name of the workshop, as it prints", "units": "metric or us: which unit prints first", "paper": "a4, a5, letter … for the cards",
	"distance": "from which cards are read, in mm: 200 to 3000; 600 when not set", "statement": "what stands at the foot of every card",
	"wrong": "what to do when a card looks wrong", "crib": "name of the tool crib's list, a CSV file", "stock": "name of the stock list, a CSV file",
	"lift": "the most that one person lifts: 25 kg", "verbs": "pairs of your own: - {verb: set up, undone: strike down}",
	"severities": "how strict a check is: wording/long: advice; no error, and none marked with !, can be lowered",
}

// aboutLists says what each column of the two lists holds.
var aboutLists = map[string]string{
	"tool": "its name as in the procedures, details after a comma: \"torque wrench, 5–50 N·m\"", "crib": "where it hangs", "serial": "prints on the pick list",
	"calibrated_to": "a day such as 2027-03-31; pick --on DAY says whose has run out",
	"item":          "a part or a supply by its name", "number": "of a part; goes before the name", "bin": "where it lies: the pick list goes by it",
	"pack": "what it is drawn in: 10, or 1 L", "held": "how many pieces or packs lie there; the pick list says what is short",
}

// settingsText tells of the settings of a library and of their lists.
func settingsText() string {
	part := func(title, help string, names []string, about map[string]string) document.ReferencePart {
		p := document.ReferencePart{Title: title, Help: help}
		for _, n := range names {
			p.Entries = append(p.Entries, document.ReferenceEntry{Term: n, Text: about[n]})
		}
		return p
	}
	return referenceText(&document.Reference{Parts: []document.ReferencePart{
		part(library.File, "at the root of a library of procedures; found upwards from each of them", library.SettingKeys(), aboutSettings),
		part("The tool crib", "a CSV file with these columns, in any order", library.CribColumns(), aboutLists),
		part("The stock list", "likewise", library.StockColumns(), aboutLists),
	}})
}
