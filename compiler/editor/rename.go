package editor

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// mostHosts is how many procedures one renaming may go through.
const mostHosts = 64

// Refusal is a reason why something is not done, in words for the one who asked.
type Refusal string

func (r Refusal) Error() string { return string(r) }

// Named gives the place of the name at an offset and the name as it is declared: what a renaming begins with. The error is a Refusal.
func (v *View) Named(offset int) (source.Span, string, error) {
	u, ok := v.UseAt(offset)
	if !ok {
		return source.Span{}, "", Refusal("no part, tool, supply or label is named here; put the cursor on its name")
	}
	for _, x := range v.Uses(u.Thing) {
		if x.Declares {
			return u.At, oneLine(x.At.Text()), nil
		}
	}
	return source.Span{}, "", Refusal(fmt.Sprintf("%q is declared nowhere", oneLine(u.At.Text())))
}

// Rename gives the edits that call the thing at an offset by another name: in the procedure, in the files that it includes, and in
// the other procedures of the library that include one of those. Plurals, articles and capitals stay as they are. It is proved by
// compiling all of them anew: each name means the same thing as before. The error is a Refusal, or that of a file.
func (s *Shelf) Rename(v *View, offset int, name string) ([]diag.Edit, error) {
	if _, _, err := v.Named(offset); err != nil {
		return nil, err
	}
	u, _ := v.UseAt(offset)
	name = strings.TrimSpace(name)
	if u.Plural {
		name = singularOf(name)
	}
	hosts := []*View{v}
	done := map[string]bool{v.Result.Proc.File.Path: true}
	var edits []diag.Edit
	for i := 0; i < len(hosts); i++ {
		if err := hosts[i].mayBe(u.Thing, name); err != nil {
			return nil, err
		}
		more, err := hosts[i].renamed(u.Thing, name)
		if err != nil {
			return nil, err
		}
		edits = merged(edits, more)
		next, err := s.hostsOf(edits, done)
		if err != nil {
			return nil, err
		}
		hosts = append(hosts, next...)
	}
	return edits, s.prove(hosts, edits, u.Thing, name)
}

// mayBe refuses names that can't be written, or that another thing has.
func (v *View) mayBe(t Thing, name string) error {
	switch {
	case name == "":
		return Refusal("give a name")
	case strings.ContainsFunc(name, func(r rune) bool { return unicode.IsControl(r) || strings.ContainsRune("{}|,:;\\`*[]<>\"", r) }):
		return Refusal(fmt.Sprintf("%q has a character that no name may have: one of { } | , : ; \\ ` * [ ] < >", name))
	case t.Sort == Label && strings.ContainsAny(name, " \t"):
		return Refusal("a label is one word")
	}
	for _, x := range v.names() {
		if !x.Declares || x.Thing == t || (x.Thing.Sort == Label) != (t.Sort == Label) {
			continue
		}
		for _, form := range []string{name, procedure.Plural(name)} {
			if procedure.Fold(form) == x.Thing.Name || procedure.Fold(form) == procedure.Fold(procedure.Plural(x.Thing.Name)) {
				return Refusal(fmt.Sprintf("%q is a %s already, %s line %d", oneLine(x.At.Text()), x.Thing.Sort, x.At.File.Name, x.At.File.Line(x.At.Start)))
			}
		}
	}
	if t.Sort != Tool {
		return nil
	}
	for _, tool := range v.Result.Proc.Tools {
		for _, c := range tool.Choices {
			if procedure.Fold(c.Name) == t.Name && !sameKind(c.Kind, hardware.ParseTool(name, c.Detail)) {
				return Refusal(fmt.Sprintf("%q would be another kind or size of tool than %q: they are read from the name", name, c.Name))
			}
		}
	}
	return nil
}

// sameKind tells whether two names say the same of a tool, however its size is typed.
func sameKind(a, b hardware.Tool) bool {
	for _, t := range []*hardware.Tool{&a, &b} {
		if t.Size != nil {
			size := *t.Size
			size.Typed = ""
			t.Size = &size
		}
		t.Others = slices.Clone(t.Others)
		for i := range t.Others {
			t.Others[i].Typed = ""
		}
	}
	return reflect.DeepEqual(a, b)
}

// renamed gives the edits of one procedure and its includes.
func (v *View) renamed(t Thing, name string) ([]diag.Edit, error) {
	var edits []diag.Edit
	uses, declared := v.Uses(t), ""
	for _, u := range uses {
		if u.Declares && declared == "" {
			declared = u.At.Text()
		}
	}
	for _, u := range uses {
		typed := u.At.Text()
		if !v.spells(typed, t.Name) {
			return nil, Refusal(fmt.Sprintf("the name is written as %q in %s line %d, where it can't be told apart; write it plainly there first", oneLine(typed), u.At.File.Name, u.At.File.Line(u.At.Start)))
		}
		now := name
		if u.Plural {
			now = procedure.Plural(name)
		}
		edits = append(edits, diag.Edit{At: u.At, Text: likeCased(typed, declared, now)})
		if e, ok := articled(u.At, typed, now); ok && t.Sort != Label {
			edits = append(edits, e)
		}
	}
	return edits, nil
}

// spells tells whether what is typed is a name, or its plural, and nothing else.
func (v *View) spells(typed, name string) bool {
	return slices.ContainsFunc([]string{name, procedure.Plural(name)}, func(form string) bool {
		at, ok := wordsIn(source.New("", "", []byte(typed)).At(0, len(typed)), form, 0)
		return ok && at.End-at.Start == len(typed)
	}) || procedure.Fold(typed) == name || procedure.Fold(typed) == looseVes(name)
}

// looseVes is the other plural of a name in f, which some write.
func looseVes(name string) string { return strings.TrimSuffix(name, "f") + "ves" }

// likeCased gives a new name the capital, or the small letter, that the old one has where it is typed and not where it is declared.
func likeCased(typed, declared, now string) string {
	big := func(s string) bool {
		r, _ := utf8.DecodeRuneInString(s)
		return unicode.IsUpper(r)
	}
	r, n := utf8.DecodeRuneInString(now)
	word, _, _ := strings.Cut(now, " ")
	switch {
	case big(typed) == big(declared):
		return now
	case big(typed):
		return string(unicode.ToUpper(r)) + now[n:]
	case strings.ToUpper(word) == word: // "RW40 cover"
		return now
	}
	return string(unicode.ToLower(r)) + now[n:]
}

// articled changes the "a" or "an" right before a name where the new name wants the other.
func articled(at source.Span, was, now string) (diag.Edit, bool) {
	before := at.File.Text[:at.Start]
	end := len(before)
	for end > 0 && gap(before[end-1]) && before[end-1] != '(' && before[end-1] != '{' {
		end--
	}
	start := end
	for start > 0 && isWord(before[start-1]) {
		start--
	}
	word := string(before[start:end])
	old, _, _ := strings.Cut(rules.A(was), " ")
	want, _, _ := strings.Cut(rules.A(now), " ")
	if end == len(before) || !strings.EqualFold(word, old) || old == want {
		return diag.Edit{}, false
	}
	if word[0] == 'A' {
		want = strings.ToUpper(want[:1]) + want[1:]
	}
	return diag.Edit{At: at.File.At(start, end), Text: want}, true
}

// singularOf gives the name whose plural was typed; what is no plural stays.
func singularOf(name string) string {
	for _, x := range []struct{ end, one string }{{"ies", "y"}, {"ves", "f"}, {"ves", "fe"}, {"es", ""}, {"s", ""}} {
		if head, ok := strings.CutSuffix(name, x.end); ok && head != "" && procedure.Plural(head+x.one) == name {
			return head + x.one
		}
	}
	return name
}

// merged adds edits that are not asked for yet; files are told apart by their paths.
func merged(edits, more []diag.Edit) []diag.Edit {
	for _, e := range more {
		if !slices.ContainsFunc(edits, func(o diag.Edit) bool {
			return o.At.File.Path == e.At.File.Path && o.At.Start == e.At.Start && o.At.End == e.At.End
		}) {
			edits = append(edits, e)
		}
	}
	return edits
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
