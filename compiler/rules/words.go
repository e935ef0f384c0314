package rules

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// Quote puts a culprit between quotation marks, cut to a length that a finding can carry.
func Quote(s string) string { return quote(s, 60) }

// QuoteWhole puts a sentence between quotation marks; only one that no screen holds is cut.
func QuoteWhole(s string) string { return quote(s, 300) }

func quote(s string, longest int) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > longest {
		s = string(r[:longest-1]) + "…"
	}
	return `"` + s + `"`
}

// WordAt gives the word of a fault at a place, empty when it has none.
func WordAt(f source.Fault, i int) string {
	if i < len(f.Words) {
		return f.Words[i]
	}
	return ""
}

// CountAt gives the count of a fault at a place, 0 when it has none.
func CountAt(f source.Fault, i int) int {
	if i < len(f.Counts) {
		return f.Counts[i]
	}
	return 0
}

// Some says how many of how many: "2 of 12 cover bolts", "12 cover bolts" for all of them, "the drain plug" for the only one.
func Some(n, of int, name string) string {
	switch {
	case of == 1 || of == 0:
		return "the " + name
	case n == of && n == 2:
		return "both " + procedure.Plural(name)
	case n == of:
		return "all " + strconv.Itoa(n) + " " + procedure.Plural(name)
	}
	return fmt.Sprintf("%d of %d %s", n, of, procedure.Plural(name))
}

// Is gives the verb that goes with a count.
func Is(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// List joins words with commas and a last word between.
func List(words []string, last string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " " + last + " " + words[len(words)-1]
}

// A puts the article before a word: "a cover", "an end cover".
func A(word string) string {
	if word != "" && strings.ContainsRune("aeiouAEIOU", rune(word[0])) {
		return "an " + word
	}
	return "a " + word
}

// Or gives the first when it is not empty, else the second.
func Or(first, second string) string {
	if first != "" {
		return first
	}
	return second
}

// Write offers the nearest name, or something else where none is near.
func Write(nearest, otherwise string) string {
	if nearest == "" {
		return otherwise
	}
	return "write " + Quote(nearest) + ", or " + otherwise
}

// Quoted puts each of some words between quotation marks.
func Quoted(words []string) []string {
	all := make([]string, 0, len(words))
	for _, w := range words {
		all = append(all, Quote(w))
	}
	return all
}

// Once makes one finding of those that say the same with one key: one slip, such as a count that is wrong in the table, shows
// at every act that relies on it. The first place stands, the others are named beside it, and a fix mends all of them.
func Once(all []diag.Finding, key func(diag.Finding) string) []diag.Finding {
	var out []diag.Finding
	first := map[string]int{}
	for _, f := range all {
		k := key(f)
		i, seen := first[k]
		if !seen {
			first[k] = len(out)
			out = append(out, f)
			continue
		}
		if out[i].At == f.At {
			continue
		}
		out[i].Related = append(slices.Clone(out[i].Related), source.Related{At: f.At, Words: "here too", Step: f.Step})
		out[i].Fixes = together(out[i].Fixes, f.Fixes)
	}
	return out
}

// together joins what is offered at two places of a file, where it is the same; it is safe only if it is at both.
func together(a, b []diag.Fix) []diag.Fix {
	alike := func(x, y diag.Fix) bool {
		return x.Title == y.Title && len(x.Edits) > 0 && len(y.Edits) > 0 && x.Edits[0].At.File == y.Edits[0].At.File
	}
	if !slices.EqualFunc(a, b, alike) {
		return a
	}
	var both []diag.Fix
	for i, fix := range a {
		fix.Edits = slices.Concat(fix.Edits, b[i].Edits)
		fix.Safe = fix.Safe && b[i].Safe
		both = append(both, fix)
	}
	return both
}

// Said is the key of Once for findings that are one when they say the same.
func Said(f diag.Finding) string { return f.Message + "\x00" + strings.Join(f.Variants, ",") }

// Many tells whether more than one of a part is declared.
func (j *Job) Many(name string) bool {
	folded := procedure.Fold(name)
	return slices.ContainsFunc(j.Proc.Parts, func(p *procedure.Part) bool { return procedure.Fold(p.Name.Value) == folded && p.Qty > 1 })
}

// The gives a declared part with its article, in the plural where more than one is declared.
func (j *Job) The(name string) string {
	if j.Many(name) {
		return "the " + procedure.Plural(name)
	}
	return "the " + name
}

// By picks the word that goes with The: "is" or "are".
func (j *Job) By(name, one, many string) string {
	if j.Many(name) {
		return many
	}
	return one
}

// Undeclared gives the faults of names that a section of declarations should list, where the procedure lacks that section.
func Undeclared(j *Job, kind string) []source.Fault {
	var all []source.Fault
	for _, f := range j.Named("section/silent") {
		if !slices.Contains(f.Words, kind) || verb.Near(f.At.Text(), []string{kind}) != "" {
			continue // another section, or a misspelt heading, which is read as what it was meant to be
		}
		for _, m := range j.Faults {
			if missing(m) == kind {
				all = append(all, m)
			}
		}
	}
	return all
}

// missing tells in which section of declarations a fault misses a name.
func missing(f source.Fault) string {
	switch {
	case f.Name == "tool/not-listed":
		return "Tools"
	case f.Name == "supply/not-listed", f.Name == "part/unknown" && WordAt(f, 2) == "supply":
		return "Supplies"
	case f.Name == "part/unknown" && WordAt(f, 3) == "", f.Name == "torque/layout-count" && WordAt(f, 1) == "":
		return "Parts"
	}
	return ""
}
