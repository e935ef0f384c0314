package editor

import (
	"slices"
	"strconv"
	"strings"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/verb"
)

// tagOffers lists what may stand at the cursor inside of a tag: the verb, or what its verb takes.
func (c *cursor) tagOffers() []Offer {
	typed := c.word(c.tag)
	lead := len(typed) - len(strings.TrimLeft(typed, " \n\r\t"))
	typed = typed[lead:]
	x, n := c.v.Result.Settings.Verbs.Longest(typed)
	if x == nil || n == len(typed) {
		return c.verbOffers(c.tag + lead)
	}
	body := c.tag + lead + n
	if list := c.unitOffers(body); list != nil {
		return list
	}
	return c.bodyOffers(x, body)
}

func (c *cursor) verbOffers(from int) []Offer {
	typed := c.word(from)
	var list []Offer
	table := c.v.Result.Settings.Verbs
	for _, x := range table.All() {
		for _, spelling := range append([]string{x.Name}, x.Also...) {
			if strings.HasPrefix(spelling, strings.ToLower(typed)) {
				text := spelling
				if typed != "" && 'A' <= typed[0] && typed[0] <= 'Z' {
					text = strings.ToUpper(text[:1]) + text[1:]
				}
				list = append(list, c.put(from, Offer{Text: text, Detail: meaning(x), Note: verbWords(x, table), Kind: VerbOffer}))
			}
		}
	}
	return list
}

// bodyOffers lists what a verb takes.
func (c *cursor) bodyOffers(x *verb.Verb, body int) []Offer {
	switch x.Takes {
	case verb.Parts, verb.Part:
		return c.objectOffers(body, c.parts(true))
	case verb.Torque:
		return append(c.valueOffers(body), c.objectOffers(body, c.parts(true))...)
	case verb.Fluids, verb.Supply:
		return c.objectOffers(body, c.supplies())
	case verb.Tool:
		return c.objectOffers(body, c.tools())
	case verb.Anything, verb.OneThing:
		return c.objectOffers(body, slices.Concat(c.parts(false), c.supplies()))
	case verb.Measure, verb.Limit, verb.Words:
		return c.objectOffers(body, slices.Concat(c.parts(false), c.supplies()))
	case verb.Variants:
		return c.objectOffers(body, c.variantOffers())
	case verb.Word:
		return c.labelOffers(x, body)
	case verb.Waive:
		return c.waiveOffers(body)
	case verb.Path:
		return c.fileOffers(body)
	case verb.Repeat:
		return c.objectOffers(body, []Offer{{Text: "3 times", Kind: ValueOffer}, {Text: "until ", Kind: ValueOffer}})
	}
	return nil
}

// objectOffers places names behind the words and marks that stand before them: articles, counts, "and", commas.
func (c *cursor) objectOffers(body int, list []Offer) []Offer {
	from, many, counted := c.objectStart(body)
	typed := c.word(from)
	var all []Offer
	for _, o := range list {
		if o.Kind == ThingOffer && many {
			o.Text = procedure.Plural(o.Text)
		}
		if count, ok := strings.CutPrefix(o.Detail, "×"); ok && !counted && o.Kind == ThingOffer {
			if n, _ := strconv.Atoi(count); n > 1 && begins(o.Text, typed) {
				all = append(all, c.put(from, Offer{Text: procedure.CountName(n, o.Text), Detail: o.Detail, Note: o.Note, Kind: o.Kind}))
				continue // a singular of several would be a finding
			}
		}
		if begins(o.Text, typed) && !slices.ContainsFunc(all, func(x Offer) bool { return x.Text == o.Text }) {
			all = append(all, c.put(from, o))
		}
	}
	return all
}

// objectStart finds where the name at the cursor begins; many tells that a count or another mark before it asks for the plural,
// counted that any count or article stands there.
func (c *cursor) objectStart(body int) (from int, many, counted bool) {
	typed := c.word(body)
	at := 0
	for i := range len(typed) {
		if typed[i] == ',' || typed[i] == ';' {
			at = i + 1
		}
	}
	if i := strings.LastIndex(typed, " and "); i >= at {
		at = i + len(" and ")
	}
	for {
		rest := strings.TrimLeft(typed[at:], " \n\r\t")
		at = len(typed) - len(rest)
		word, _, more := strings.Cut(rest, " ")
		if !more || !isMark(word) {
			return body + at, many, counted
		}
		switch n, err := strconv.Atoi(word); {
		case err == nil:
			many, counted = n > 1, true
		case slices.Contains([]string{"all", "both", "remaining", "other", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}, strings.ToLower(word)):
			many, counted = true, true
		case slices.Contains([]string{"a", "an", "one", "each", "every"}, strings.ToLower(word)):
			many, counted = false, true
		}
		at += len(word) + 1
	}
}

// marks lists the words that may stand before a name.
var marks = strings.Fields("the a an its new old all both each every other remaining of one two three four five six seven eight nine ten eleven twelve")

func isMark(w string) bool {
	_, err := strconv.Atoi(w)
	return err == nil || slices.Contains(marks, strings.ToLower(w))
}

// parts lists the declared parts; with their counts where a verb needs them.
func (c *cursor) parts(count bool) []Offer {
	var list []Offer
	for _, p := range c.v.Result.Proc.Parts {
		o := Offer{Text: p.Name.Value, Detail: "part " + p.Spec.Value, Note: c.v.partRow(p), Kind: ThingOffer}
		if count {
			o.Detail = "×" + strconv.Itoa(p.Qty)
		}
		list = append(list, o)
	}
	return list
}

func (c *cursor) supplies() []Offer {
	var list []Offer
	for _, s := range c.v.Result.Proc.Supplies {
		list = append(list, Offer{Text: s.Name.Value, Detail: "supply " + s.Detail, Note: c.v.supplyRow(s), Kind: ThingOffer})
	}
	return list
}

// tools lists the declared tools: those that turn the fastener of this step first, those that are sure not to at the end.
func (c *cursor) tools() []Offer {
	fasteners := c.fasteners()
	var best, rest, last []Offer
	for _, t := range c.v.Result.Proc.Tools {
		for _, choice := range t.Choices {
			o := Offer{Text: choice.Name, Detail: choice.Detail, Note: c.v.toolRow(t, choice), Kind: ThingOffer}
			if c.namesake(t, choice) && choice.Detail != "" {
				o.Text += ", " + choice.Detail
			}
			fits, fails := false, len(fasteners) > 0 && choice.Kind.Turns()
			for _, p := range fasteners {
				f := fit(choice, p)
				fits = fits || f == hardware.DoesFit
				fails = fails && f == hardware.DoesNotFit
			}
			switch {
			case fits:
				o.Detail = strings.TrimPrefix(o.Detail+", turns the "+fasteners[0].Name.Value, ", ")
				best = append(best, o)
			case fails:
				o.Detail = strings.TrimPrefix(o.Detail+", does not turn the "+fasteners[0].Name.Value, ", ")
				last = append(last, o)
			default:
				rest = append(rest, o)
			}
		}
	}
	return slices.Concat(best, rest, last)
}

// namesake tells whether another tool has the name, so that the details have to tell them apart.
func (c *cursor) namesake(t *procedure.Tool, choice procedure.Choice) bool {
	return slices.ContainsFunc(c.v.Result.Proc.Tools, func(o *procedure.Tool) bool {
		return o != t && slices.ContainsFunc(o.Choices, func(x procedure.Choice) bool {
			return procedure.Fold(x.Name) == procedure.Fold(choice.Name)
		})
	})
}

// fasteners lists the fasteners that the step at the cursor turns, those of the acts nearest before the cursor first.
func (c *cursor) fasteners() []*procedure.Part {
	step := c.v.stepAt(c.offset)
	if step == nil {
		return nil
	}
	var all []*procedure.Part
	for _, a := range slices.Backward(step.Acts) {
		for _, o := range a.Objects {
			if o.Part != nil && o.Part.Fastener() && a.Verb.Touches && a.At.Start < c.offset && len(all) == 0 {
				all = append(all, o.Part)
			}
		}
	}
	return all
}

// valueOffers offers the torque of the table behind "to".
func (c *cursor) valueOffers(body int) []Offer {
	typed := c.word(body)
	i := strings.LastIndex(typed, " to ")
	if i < 0 {
		return nil
	}
	var list []Offer
	for _, p := range c.v.Result.Proc.Parts {
		named := procedure.Fold(typed[:i])
		if p.Torque.Value != nil && (strings.Contains(named, procedure.Fold(p.Name.Value)) || strings.Contains(named, procedure.Fold(procedure.Plural(p.Name.Value)))) {
			list = append(list, Offer{Text: p.Torque.At.Text(), Detail: "the table's value for the " + p.Name.Value, Kind: ValueOffer})
		}
	}
	return c.fitting(body+i+len(" to "), list)
}

// unitOffers lists units behind a figure: nil where none stands before the cursor.
func (c *cursor) unitOffers(body int) []Offer {
	typed := c.word(body)
	unit := len(typed)
	for unit > 0 && !(typed[unit-1] == ' ' || '0' <= typed[unit-1] && typed[unit-1] <= '9') {
		unit--
	}
	figure := strings.TrimRight(typed[:unit], " ")
	if figure == "" || figure[len(figure)-1] < '0' || figure[len(figure)-1] > '9' {
		return nil
	}
	kinds := c.unitKinds(body)
	if len(kinds) == 0 {
		return nil
	}
	space := ""
	if figure == typed[:unit] {
		space = " "
	}
	var list []Offer
	for _, u := range quantity.Units() {
		if slices.Contains(kinds, u.Kind) && strings.HasPrefix(strings.ToLower(plain.Replace(u.Name)), strings.ToLower(plain.Replace(typed[unit:]))) {
			text := space + u.Name
			if u.Joined {
				text = u.Name
			}
			list = append(list, c.put(body+unit, Offer{Text: text, Kind: UnitOffer}))
		}
	}
	return list
}

// plain takes the point out of a unit: "Nm" is how "N·m" is typed.
var plain = strings.NewReplacer("·", "", "-", "")

// unitKinds tells which quantities make sense at the cursor: those of the verb, or of the column.
func (c *cursor) unitKinds(body int) []quantity.Kind {
	if c.tag < 0 {
		if strings.EqualFold(c.headOf(strings.Count(strings.ReplaceAll(c.before, `\|`, ""), "|")-1), "torque") {
			return []quantity.Kind{quantity.Torque}
		}
		return nil
	}
	x, _ := c.v.Result.Settings.Verbs.Longest(strings.TrimLeft(string(c.v.File.Text[c.tag:body]), " \n\r\t"))
	if x == nil {
		return nil
	}
	switch x.Takes {
	case verb.Torque:
		if !strings.Contains(c.word(body), " to ") && !strings.Contains(c.word(body), "passes") {
			return nil // a count
		}
		return []quantity.Kind{quantity.Torque}
	case verb.Duration, verb.OneThing:
		return []quantity.Kind{quantity.Time}
	case verb.Fluids, verb.Supply:
		return []quantity.Kind{quantity.Volume, quantity.Mass, quantity.Length}
	case verb.Measure, verb.Limit:
		return []quantity.Kind{
			quantity.Length, quantity.Pressure, quantity.Torque, quantity.Temperature, quantity.Voltage, quantity.Resistance, quantity.Current,
			quantity.Time, quantity.Rotation, quantity.Angle, quantity.Volume, quantity.Mass, quantity.Flow,
		}
	}
	return nil
}

func (c *cursor) variantOffers() []Offer {
	var list []Offer
	for _, t := range c.v.Result.Proc.Variants {
		list = append(list, Offer{Text: t.Value, Detail: "variant", Kind: ValueOffer})
	}
	return list
}

func (c *cursor) labelOffers(x *verb.Verb, body int) []Offer {
	if x.Effect != verb.Number {
		return nil
	}
	var list []Offer
	c.v.Result.Proc.EachStep(func(s *procedure.Step) {
		if s.Label.Set() {
			list = append(list, Offer{Text: s.Label.Value, Detail: "step " + s.Name() + " " + stepWords(s), Kind: ValueOffer})
		}
	})
	return c.objectOffers(body, list)
}

// waiveOffers lists the findings of this step that a waiver may let pass, then all such checks.
func (c *cursor) waiveOffers(body int) []Offer {
	if strings.Contains(c.word(body), ":") {
		return nil
	}
	step := c.v.stepAt(c.offset)
	var here, rest []Offer
	for _, f := range families() {
		for _, r := range f.Rules {
			if !r.Waivable {
				continue
			}
			o := Offer{Text: r.Name + ": ", Kind: CheckOffer}
			if t, err := f.Text(r.Name); err == nil {
				o.Detail = t.Title
			}
			found := false
			for _, x := range c.v.Result.Findings {
				found = found || x.Rule == r.Name && x.Step == step.Num()
			}
			if found {
				here = append(here, o)
			} else {
				rest = append(rest, o)
			}
		}
	}
	from := body + len(c.word(body)) - len(strings.TrimLeft(c.word(body), " "))
	return c.fitting(from, slices.Concat(here, rest))
}

func (c *cursor) fileOffers(body int) []Offer {
	from := body + len(c.word(body)) - len(strings.TrimLeft(c.word(body), " "))
	if c.v.Beside == nil {
		return nil
	}
	var list []Offer
	for _, name := range c.v.Beside() {
		if name != c.v.File.Path {
			list = append(list, Offer{Text: relative(c.v.File.Path, name), Kind: FileOffer})
		}
	}
	return c.fitting(from, list)
}

// relative gives a path of the library as a file names it.
func relative(from, to string) string {
	a, b := strings.Split(from, "/"), strings.Split(to, "/")
	for len(a) > 1 && len(b) > 1 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	return strings.Repeat("../", len(a)-1) + strings.Join(b, "/")
}

// toolOffers offers the tools that the fasteners of the table need and that are not in the list.
func (c *cursor) toolOffers() []Offer {
	var list []Offer
	for _, p := range c.v.Result.Proc.Parts {
		takes, _ := hardware.Fastener{Name: p.Name.Value, Spec: p.Hardware}.Takes()
		if !p.Fastener() || slices.ContainsFunc(c.v.Result.Proc.Tools, func(t *procedure.Tool) bool {
			return slices.ContainsFunc(t.Choices, func(x procedure.Choice) bool { return fit(x, p) == hardware.DoesFit })
		}) {
			continue
		}
		for _, x := range takes {
			if x.Sure {
				for _, name := range toolsOf(x.Size) {
					list = append(list, Offer{Text: name, Detail: "turns the " + p.Name.Value, Kind: ThingOffer})
				}
			}
		}
	}
	return c.fitting(c.offset-len(c.before)+len("- "), list)
}

// toolsOf names the tools of a size: one for the hand, one for a torque wrench.
func toolsOf(s hardware.Size) []string {
	switch s.System {
	case hardware.AcrossFlats:
		return []string{s.Typed + " socket", s.Typed + " ring spanner"}
	case hardware.HexKey:
		return []string{s.Typed + " hex key", s.Typed + " hex bit socket"}
	case hardware.Hexalobular:
		return []string{s.Typed + " bit socket"}
	case hardware.CrossRecess:
		return []string{s.Typed + " screwdriver"}
	}
	return nil
}
