package resolve

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"refitcard/compiler/keys"
	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// frontKeys lists the keys of the front matter.
var frontKeys = []string{
	"title", "number", "revision", "date", "machine", "people", "author", "reviewer", "approved", "walked", "time", "units",
	"paper", "conditions", "references", "variants", "each", "after", "then", "starts", "leaves",
}

// FrontKeys lists the keys of the front matter, in the order in which they are told of.
func FrontKeys() []string { return slices.Clone(frontKeys) }

// front reads the front matter of the main file.
func (r *resolver) front(t *syntax.Tree) {
	if t.Front == nil {
		r.fault("file/missing-key", t.File.LineSpan(1), "title", "number", "revision")
		return
	}
	for _, e := range t.Front.Repeated {
		first, _ := t.Front.Get(e.Key)
		r.fault("file/repeated-key", e.KeyAt, e.Key).Related = related(first.KeyAt, "first here")
	}
	broken := len(t.Faults) > 0 && t.Faults[0].Name == "file/bad-value" && len(t.Front.Entries) == 0
	var missing []string
	for _, key := range []string{"title", "number", "revision"} {
		if e, ok := t.Front.Get(key); !ok || e.Value.Kind == keys.Scalar && strings.TrimSpace(e.Value.Text) == "" {
			missing = append(missing, key)
		}
	}
	if len(missing) > 0 && !broken {
		at := t.File.LineSpan(1)
		if e, ok := t.Front.Get(missing[0]); ok {
			at = e.KeyAt
		}
		// A slip in a required key is one finding: the unknown key offers the right one.
		if near := r.misspelt(t.Front, missing); !near {
			r.fault("file/missing-key", at, missing...)
		}
	}
	for _, e := range t.Front.Entries {
		r.key(e)
	}
	if a, b := r.p.Author.Value, r.p.Approved.Value; a != "" && strings.EqualFold(a, b) {
		r.fault("file/approved-by-author", r.p.Approved.At, b).Related = related(r.p.Author.At, "author")
	}
}

// misspelt tells whether every missing key stands there under a name that is nearly it.
func (r *resolver) misspelt(m *keys.Map, missing []string) bool {
	found := 0
	for _, e := range m.Entries {
		near := verb.Near(e.Key, missing)
		if near == "" || knownKey(e.Key) {
			continue
		}
		found++
	}
	return found >= len(missing)
}

func knownKey(key string) bool {
	for _, k := range frontKeys {
		if k == key {
			return true
		}
	}
	return false
}

func textOf(v keys.Value) procedure.Text {
	if oneLine(v.Text) {
		return procedure.Text{Value: v.Text, At: v.At}
	}
	return procedure.Text{Value: strings.Join(strings.Fields(v.Text), " "), At: v.At}
}

// oneLine tells whether a text has only letters, signs and single spaces between them, of ASCII.
func oneLine(s string) bool {
	space := true
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf || s[i] < ' ' || space && s[i] == ' ' {
			return false
		}
		space = s[i] == ' '
	}
	return !space || s == ""
}

func (r *resolver) badKey(e keys.Entry, want string) {
	r.fault("file/bad-value", e.Value.At, e.Key, strings.TrimSpace(e.Value.At.Text()), want)
}

// key reads one entry of the front matter.
func (r *resolver) key(e keys.Entry) {
	p := r.p
	if to := r.textKey(e.Key); to != nil {
		if e.Value.Kind != keys.Scalar {
			r.badKey(e, "one value")
			return
		}
		*to = textOf(e.Value)
		r.checkText(e)
		return
	}
	switch e.Key {
	case "conditions":
		p.Conditions = r.list(e)
	case "references":
		p.References = r.list(e)
	case "variants":
		p.Variants = r.list(e)
		if e.Value.Kind == keys.Scalar { // "small, large" on one line
			p.Variants = commaTexts(e.Value)
		}
		p.Variants = r.atMost(e, p.Variants, maxVariants)
	case "after":
		p.After = r.list(e)
	case "then":
		p.Then = r.list(e)
	case "time":
		r.timeKey(e)
	case "each":
		r.eachKey(e)
	case "starts", "leaves": // read when the parts are known
	default:
		r.fault("file/unknown-key", e.KeyAt, e.Key, verb.Near(e.Key, frontKeys))
	}
}

// textKey gives the text that a key with one value fills, nil for all other keys.
func (r *resolver) textKey(key string) *procedure.Text {
	p := r.p
	switch key {
	case "title":
		return &p.Title
	case "number":
		return &p.Number
	case "revision":
		return &p.Revision
	case "date":
		return &p.Date
	case "machine":
		return &p.Machine
	case "author":
		return &p.Author
	case "reviewer":
		return &p.Reviewer
	case "approved":
		return &p.Approved
	case "walked":
		return &p.Walked
	case "units":
		return &p.Units
	case "paper":
		return &p.Paper
	case "people":
		return &p.People
	}
	return nil
}

func (r *resolver) checkText(e keys.Entry) {
	p, text := r.p, e.Value.Text
	switch e.Key {
	case "number", "revision":
		if len(text) > 30 || strings.ContainsAny(text, "\n\t") {
			r.badKey(e, "a short number on one line")
		}
	case "date":
		if text != "" && !keys.Date(text) {
			r.badKey(e, "a day of the calendar such as 2026-11-20")
		}
	case "units":
		if text != "metric" && text != "us" {
			r.badKey(e, "metric or us")
			p.Units = procedure.Text{}
		}
	case "paper":
		name := strings.ReplaceAll(strings.ToLower(text), " ", "-")
		p.Paper.Value = name
		for _, known := range library.Papers {
			if known == name {
				return
			}
		}
		r.badKey(e, strings.Join(library.Papers, ", "))
		p.Paper = procedure.Text{}
	case "people":
		if p.Crew = crew(text); p.Crew == 0 {
			r.badKey(e, "a number, or trades such as 1 fitter, 1 slinger")
		}
	}
}

// crew counts people: "2", or "1 fitter, 1 slinger"; 0 when it is neither.
func crew(s string) int {
	total := 0
	for _, piece := range strings.Split(s, ",") {
		n, k := quantity.NumberPrefix(strings.TrimSpace(piece))
		if k == 0 || n.Decimals > 0 || !n.Rat.IsInt() || n.Rat.Sign() <= 0 || n.Rat.Num().BitLen() > 10 {
			return 0
		}
		total += int(n.Rat.Num().Int64())
	}
	return total
}

// list gives one value or a list as texts.
func (r *resolver) list(e keys.Entry) []procedure.Text {
	if e.Value.Kind == keys.Scalar {
		if e.Value.Text == "" {
			return nil
		}
		return []procedure.Text{textOf(e.Value)}
	}
	var all []procedure.Text
	for _, v := range e.Value.List {
		if v.Kind != keys.Scalar {
			r.fault("file/bad-value", v.At, e.Key, v.At.Text(), "a list of plain values")
			continue
		}
		all = append(all, textOf(v))
	}
	if e.Value.Kind == keys.Mapping {
		r.badKey(e, "one value, or a list with a line - for each")
	}
	return r.atMost(e, all, maxEntries)
}

// The limits on the lists of the front matter. The job is played through once for each variant.
const (
	maxVariants = 50
	maxEntries  = 200
)

// atMost cuts a list at its limit, and says so.
func (r *resolver) atMost(e keys.Entry, list []procedure.Text, limit int) []procedure.Text {
	if len(list) <= limit {
		return list
	}
	r.fault("file/too-large", e.KeyAt, "entries under "+e.Key).Counts = []int{len(list), limit}
	return list[:limit]
}

// commaTexts cuts a scalar at its commas, each piece with its place.
func commaTexts(v keys.Value) []procedure.Text {
	var all []procedure.Text
	raw := v.At.Text()
	for at := 0; at <= len(raw); {
		end := strings.IndexByte(raw[at:], ',')
		if end < 0 {
			end = len(raw) - at
		}
		piece := raw[at : at+end]
		if word := strings.Trim(piece, " \"'"); word != "" {
			from := v.At.Start + at + strings.Index(piece, word)
			all = append(all, procedure.Text{Value: word, At: source.Span{File: v.At.File, Start: from, End: from + len(word)}})
		}
		at += end + 1
	}
	return all
}

func (r *resolver) timeKey(e keys.Entry) {
	v, bad := quantity.Parse(e.Value.Text)
	if bad != nil || v.Unit.Kind != quantity.Time {
		r.badKey(e, "a time such as 55 min")
		return
	}
	r.p.Time, r.p.TimeAt = &v, e.Value.At
}

// eachKey reads "wheel, 2".
func (r *resolver) eachKey(e keys.Entry) {
	name, count, _ := strings.Cut(e.Value.Text, ",")
	n, err := strconv.Atoi(strings.TrimSpace(count))
	if err != nil || n < 1 || n > 1000 || strings.TrimSpace(name) == "" {
		r.badKey(e, "a name and a number such as wheel, 2")
		return
	}
	r.p.Each = procedure.Each{Name: strings.TrimSpace(name), Count: n, At: e.Value.At}
}

// states reads starts and leaves: tags without braces.
func (r *resolver) states(key string) []*procedure.Act {
	e, ok := r.in.Main.Front.Get(key)
	if !ok {
		return nil
	}
	var acts []*procedure.Act
	for _, text := range r.list(e) {
		tag, faults := syntax.ParseTag(r.in.Main.File, unquoted(text.At), r.verbs)
		r.faults = append(r.faults, faults...)
		if tag.Verb == nil {
			continue
		}
		if a := r.act(tag); a != nil {
			acts = append(acts, a)
		}
	}
	return acts
}

// unquoted is the place of a value without the quotation marks that a comma in it asks for.
func unquoted(at source.Span) source.Span {
	text := at.Text()
	if len(text) >= 2 && (text[0] == '"' || text[0] == '\'') && text[len(text)-1] == text[0] {
		at.Start++
		at.End--
	}
	return at
}
