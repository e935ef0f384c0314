package main

import (
	"fmt"
	"strings"

	"refitcard/compiler"
	"refitcard/compiler/quantity"
	"refitcard/compiler/resolve"
	"refitcard/compiler/verb"
	"refitcard/render/document"
)

// The language on two sheets. Verbs, units, keys, columns and checks come from the tables that the compiler itself reads; what
// is said here of a key or a column is held against those tables by the tests.

// sample is the whole of a small procedure; the tests compile it.
var sample = []string{
	"---", "title: Reseal the drain of the sump", "number: PS-31", "revision: A", "---", "",
	"> **WARNING** Hot oil burns. Let it cool.", "",
	"## Parts", "",
	"| Part       | Qty | Use     | Place           | Torque |",
	"|:-----------|----:|:--------|:----------------|:-------|",
	"| drain plug |   1 | reuse   | seals gear oil  | 25 N·m |",
	"| washer     |   1 | replace | seals gear oil  |        |", "",
	"## Tools", "", "- 17 mm socket", "- torque wrench, 5–50 N·m", "- drain pan, 3 L", "",
	"## Supplies", "", "- gear oil, 1.4 L", "",
	"## Change", "",
	"1. {Remove the drain plug and washer} with the",
	"   {tool 17 mm socket}. {Drain the gear oil} into the",
	"   {tool drain pan}.",
	"2. {Install a new washer and the drain plug}.",
	"3. {Torque the drain plug} with the {tool torque wrench}",
	"   and {tool 17 mm socket}.",
	"4. {Fill the gear oil}. {Check the plug is dry}.",
}

// aboutKeys says what each key of the front matter holds.
var aboutKeys = map[string]string{
	"title": "required", "number": "required; the procedure's own", "revision": "required: A, B … or 1, 2 …", "date": "2026-11-20",
	"machine": "which machines, and from which serial number", "people": "2, or 1 fitter, 1 slinger", "author": "who wrote it",
	"reviewer": "who reads it", "approved": "who released it; without this the card says DRAFT", "walked": "who has tried it out, and when",
	"time": "your estimate: 1 h 30 min", "units": "metric or us: which prints first", "paper": "a4, a5, letter …",
	"conditions": "light, weather, temperature", "references": "the maker's data it rests on, with issue", "variants": "DP200, DP300",
	"each": "wheel, 2: played once, the pick list multiplies", "after": "numbers of the procedures before it", "then": "and behind it",
	"starts": "acts that earlier jobs have done", "leaves": "acts that this one leaves so on purpose",
}

// aboutColumns says what each column of the parts table holds.
var aboutColumns = map[string]string{
	"Part": "the name, in the singular", "Qty": "how many the job touches; up to 3 for an add part",
	"Spec":   "M8×30 8.8 hex; 1/4-20 UNC grade 5; 17 mm; T30; oiled; in aluminium; 18 kg; 3.0 ±0.05 mm thick",
	"Number": "that the parts counter knows it by", "Use": "reuse, replace, add, omit, if worn; empty is reuse",
	"Place":  "holds X, clamps X, behind X, under X, seals F, fills F, locks X, faces …",
	"Torque": "22 N·m; 20..24 N·m; 30 N·m + 90°; hand-tight; by setting", "Layout": "the name of a layout block",
	"Variant": "the variants that have it",
}

// languageReference is the language on a paper to hang up.
func languageReference() *document.Reference {
	return &document.Reference{
		Header: document.Header{Number: "refitcard", Revision: version, Kind: "The language", Title: "of procedures, on two sheets", Machine: "refitcard explain NAME tells more of a check or a verb"},
		Foot:   document.Foot{Lead: "Stuck?", Wrong: "refitcard check FILE says what is wrong and what to do.", Statement: "Made from the program's own tables."},
		Parts:  []document.ReferencePart{wholeExample(), fileEntries(), keyEntries(), columnEntries(), tagEntries(), verbEntries(), unitEntries(), checkEntries()},
	}
}

func wholeExample() document.ReferencePart {
	return document.ReferencePart{Title: "A whole procedure", Help: "plain Markdown", Source: sample}
}

func fileEntries() document.ReferencePart {
	return document.ReferencePart{Title: "The file", Entries: []document.ReferenceEntry{
		{Term: "Introduction", Text: "what stands before the first ##: scope, and messages for the whole job"},
		{Term: "## Parts, Tools, Supplies", Text: "declare each thing once, then use its name; “- none” says so on purpose"},
		{Term: "Any other ##", Text: "a stage; its numbered list holds the steps, a nested one sub-steps or notes"},
		{Term: "> **WARNING** …", Text: "DANGER, WARNING, CAUTION, NOTICE: the hazard first, then what to do; prints before the step it stands above or in"},
		{Term: "> …", Text: "a note"},
		{Term: "![caption](file)", Text: "a figure: PNG, JPEG or SVG, inside the library"},
		{Term: "```layout PART", Text: "where the fasteners sit: an o for each; figures instead fix the order"},
		{Term: "```stack NAME 3..4 mm", Text: "a pile of parts, added up against its target"},
		{Term: "Tools", Text: "- torque wrench, 5–50 N·m: name, then size, range or load; a or b is a choice"},
		{Term: "Supplies", Text: "- gear oil, 1.4 L: the total for the job; from the machine, drains 1.2 L"},
	}}
}

func keyEntries() document.ReferencePart {
	p := document.ReferencePart{Title: "Front matter", Help: "between --- lines at the top", Beside: true}
	for _, k := range resolve.FrontKeys() {
		p.Entries = append(p.Entries, document.ReferenceEntry{Term: k, Text: aboutKeys[k]})
	}
	return p
}

func columnEntries() document.ReferencePart {
	p := document.ReferencePart{Title: "Parts", Help: "one table, its columns in any order", Beside: true}
	for _, c := range resolve.PartColumns() {
		p.Entries = append(p.Entries, document.ReferenceEntry{Term: c, Text: aboutColumns[c]})
	}
	return p
}

func tagEntries() document.ReferencePart {
	return document.ReferencePart{Title: "Tags", Help: "{verb words}, in a step", Entries: []document.ReferenceEntry{
		{Term: "Things", Text: "an article or new, old, all, both, each; a count; a declared name; several with commas and “and”. No count: all"},
		{Term: "any", Text: "below: the verb also takes what nobody declares, such as a hose or an isolator"},
		{Term: `\{`, Text: "a plain brace"},
	}}
}

// verbEntries lists the verbs as the table has them, with what undoes them.
func verbEntries() document.ReferencePart {
	p := document.ReferencePart{Title: "Verbs", Help: "with what undoes them", Beside: true}
	for _, v := range verb.Standard().All() {
		if !told(v) {
			p.Entries = append(p.Entries, verbEntry(v))
		}
	}
	return p
}

// told tells whether a verb is told of with the one that it undoes.
func told(v *verb.Verb) bool {
	switch v.Effect {
	case verb.Close, verb.Restore, verb.Align, verb.Await:
		return true
	}
	return false
}

func verbEntry(v *verb.Verb) document.ReferenceEntry {
	does, example := v.About()
	if v.Takes == verb.Anything || v.Takes == verb.OneThing {
		does += "; any"
	}
	if len(v.Also) > 0 {
		does += "; also " + strings.Join(v.Also, ", ")
	}
	var undone []string
	for _, name := range v.UndoneBy {
		if by, ok := verb.Standard().Named(name); ok && told(by) && len(by.Also) > 0 {
			name += " (" + strings.Join(by.Also, ", ") + ")"
		}
		undone = append(undone, name)
	}
	if len(undone) > 0 {
		does += "; undone by " + strings.Join(undone, " or ")
	}
	e := document.ReferenceEntry{Term: v.Name, Text: does}
	if v.Takes == verb.Torque || v.Takes == verb.Measure { // the others look alike
		e.Typed = example
	}
	return e
}

// unitEntries lists the units by what they measure, each in the spelling that prints.
func unitEntries() document.ReferencePart {
	p := document.ReferencePart{Title: "Quantities", Help: "22 N·m, 20..24 N·m, 22 ±2 N·m"}
	at := map[quantity.Kind]int{}
	for _, u := range quantity.Units() {
		i, known := at[u.Kind]
		if !known {
			i = len(p.Entries)
			at[u.Kind] = i
			p.Entries = append(p.Entries, document.ReferenceEntry{Term: u.Kind.Word()})
		}
		if p.Entries[i].Text != "" {
			p.Entries[i].Text += ", "
		}
		p.Entries[i].Text += u.Name
	}
	return p
}

// checkEntries names the checks by family; "refitcard explain" tells the rest.
func checkEntries() document.ReferencePart {
	n := 0
	p := document.ReferencePart{Title: "Checks"}
	for _, f := range compiler.Families() {
		var names []string
		for _, r := range f.Rules {
			names = append(names, strings.TrimPrefix(r.Name, f.Name+"/"))
			n++
		}
		p.Entries = append(p.Entries, document.ReferenceEntry{Term: f.Name + "/", Text: strings.Join(names, ", ")})
	}
	p.Help = fmt.Sprintf("%d of them", n)
	return p
}

// referenceText is the language for the screen.
func referenceText(r *document.Reference) string {
	var b strings.Builder
	for i, part := range r.Parts {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(strings.TrimSpace(part.Title+"   "+part.Help) + "\n\n")
		for _, s := range part.Source {
			b.WriteString(strings.TrimRight("  "+s, " ") + "\n")
		}
		for _, e := range part.Entries {
			fmt.Fprintf(&b, "  %-22s %s\n", e.Term, e.Text)
			if e.Typed != "" {
				fmt.Fprintf(&b, "  %-22s %s\n", "", e.Typed)
			}
		}
	}
	return b.String()
}
