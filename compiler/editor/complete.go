package editor

import (
	"bytes"
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

// Offer is something that may be written at a place.
type Offer struct {
	Text   string // what is written
	Detail string // a few words on it
	Kind   OfferKind
	Note   string      // Markdown, empty for none
	At     source.Span // what it stands in place of: what was typed of it so far, and what follows of that word
}

// OfferKind tells what an offer is.
type OfferKind int

// The kinds of offers.
const (
	VerbOffer OfferKind = iota
	ThingOffer
	ValueOffer // a quantity, a word of a column
	UnitOffer
	KeyOffer
	SectionOffer
	FileOffer
	CheckOffer
)

// Complete lists what may be written at an offset of the file that is looked at, the likeliest first.
func (v *View) Complete(offset int) []Offer {
	c := v.cursor(min(max(offset, 0), len(v.File.Text)))
	// What goes over a line end can't be put in place of in one piece: editors want one line.
	return slices.DeleteFunc(c.offers(), func(o Offer) bool { return o.At.Start < c.line.Start || o.At.End > c.line.End })
}

func (c *cursor) offers() []Offer {
	switch {
	case c.inFront():
		return c.frontOffers()
	case c.tag >= 0:
		return c.tagOffers()
	case strings.HasPrefix(c.before, "## "):
		return c.sectionOffers()
	case strings.HasPrefix(c.before, ">"):
		return c.signalOffers()
	case strings.HasPrefix(c.before, "|"):
		return c.cellOffers()
	case c.section == "tools" && strings.HasPrefix(c.before, "- "):
		return c.toolOffers()
	}
	return nil
}

// cursor is a place in a file with what stands around it.
type cursor struct {
	v       *View
	offset  int
	line    source.Span
	before  string // the line up to the cursor, without its indent
	tag     int    // offset behind the "{" that is open here, -1 for none
	section string // title of the section it stands in, folded
}

// farthestTag is how many bytes a tag is looked for backwards.
const farthestTag = 2000

func (v *View) cursor(offset int) *cursor {
	line := v.File.LineSpan(v.File.Line(offset))
	offset = min(offset, line.End)
	text := string(v.File.Text[line.Start:max(offset, line.Start)])
	c := &cursor{v: v, offset: offset, line: line, before: strings.TrimLeft(text, " \t"), tag: -1}
	text = string(v.File.Text[max(0, offset-farthestTag):offset])
	for i := len(text) - 1; i >= 0; i-- {
		if text[i] == '}' || text[i] == '\n' && strings.TrimSpace(text[i+1:min(len(text), i+1+strings.IndexByte(text[i+1:]+"\n", '\n'))]) == "" && i+1 < len(text) {
			break
		}
		if text[i] == '{' && (i == 0 || text[i-1] != '\\') {
			c.tag = offset - len(text) + i + 1
			break
		}
	}
	for _, s := range v.tree().Sections {
		if s.TitleAt.Start <= offset {
			c.section = procedure.Fold(s.Title)
		}
	}
	return c
}

// inFront tells whether the cursor stands between the lines of hyphens at the head of the file.
func (c *cursor) inFront() bool {
	text := c.v.File.Text
	if !bytes.HasPrefix(text, []byte("---")) || c.v.File.Line(c.offset) < 2 {
		return false
	}
	end := bytes.Index(text[3:], []byte("\n---"))
	return end < 0 || c.offset <= 3+end
}

// word is what was typed from an offset on up to the cursor.
func (c *cursor) word(from int) string {
	return string(c.v.File.Text[min(max(from, 0), c.offset):c.offset])
}

// put makes an offer that stands in place of what was typed from an offset on, and of the rest of that word behind the cursor.
func (c *cursor) put(from int, o Offer) Offer {
	end := c.offset
	text := c.v.File.Text
	if end > from && isWord(text[end-1]) {
		for end < c.line.End && isWord(text[end]) {
			end++
		}
	}
	o.At = c.v.File.At(min(from, c.offset), end)
	return o
}

const letters = "abcdefghijklmnopqrstuvwxyz"

func isWord(b byte) bool {
	return 'a' <= b && b <= 'z' || 'A' <= b && b <= 'Z' || '0' <= b && b <= '9' || b >= 0x80
}

// begins tells whether an offer goes on from what was typed: it begins with it, or a word of it does.
func begins(offer, typed string) bool {
	offer, typed = strings.ToLower(offer), strings.ToLower(strings.TrimSpace(typed))
	return typed == "" || strings.HasPrefix(offer, typed) || strings.Contains(offer, " "+typed)
}

// fitting keeps the offers that go on from what was typed from an offset on, and puts each in its place.
func (c *cursor) fitting(from int, list []Offer) []Offer {
	typed := c.word(from)
	var all []Offer
	for _, o := range list {
		if begins(o.Text, typed) && !slices.ContainsFunc(all, func(x Offer) bool { return x.Text == o.Text }) {
			all = append(all, c.put(from, o))
		}
	}
	return all
}

// frontOffers lists the keys that are not there yet, or the words that a key takes.
func (c *cursor) frontOffers() []Offer {
	key, value, typed := strings.Cut(c.before, ":")
	if typed {
		from := c.offset - len(strings.TrimLeft(value, " "))
		return c.fitting(from, frontValues(strings.TrimSpace(key)))
	}
	if c.before != c.word(c.line.Start) { // indented: below a key
		return nil
	}
	colon := ": "
	if rest := strings.TrimLeft(string(c.v.File.Text[c.offset:c.line.End]), letters); strings.HasPrefix(rest, ":") {
		colon = ""
	}
	var list []Offer
	for _, k := range frontKeys {
		if e, there := c.v.tree().Front.Get(k.key); !there || c.v.at(e.KeyAt, c.offset) {
			list = append(list, Offer{Text: k.key + colon, Detail: k.about, Kind: KeyOffer})
		}
	}
	return c.fitting(c.line.Start, list)
}

// sectionOffers lists the sections of declarations that are missing, and the stages that most jobs have.
func (c *cursor) sectionOffers() []Offer {
	var list []Offer
	for _, s := range sections {
		if !slices.ContainsFunc(c.v.tree().Sections, func(x *syntax.Section) bool { return strings.EqualFold(x.Title, s.key) }) {
			list = append(list, Offer{Text: s.key, Detail: s.about, Kind: SectionOffer})
		}
	}
	return c.fitting(c.offset-len(c.before)+len("## "), list)
}

// signalOffers lists the signal words behind a ">".
func (c *cursor) signalOffers() []Offer {
	typed := strings.TrimLeft(strings.TrimPrefix(c.before, ">"), " ")
	if strings.ContainsAny(typed, " ") {
		return nil
	}
	lead := ""
	if strings.TrimPrefix(c.before, ">") == "" {
		lead = " "
	}
	from := c.offset - len(typed)
	var list []Offer
	for _, s := range signals {
		if begins(s.key, strings.TrimLeft(typed, "*")) {
			list = append(list, c.put(from, Offer{Text: lead + "**" + s.key + "** ", Detail: s.about, Kind: ValueOffer}))
		}
	}
	return list
}

// cellOffers lists what a cell of the parts table may hold.
func (c *cursor) cellOffers() []Offer {
	column := strings.Count(strings.ReplaceAll(c.before, `\|`, ""), "|") - 1
	head := c.headOf(column)
	from := c.offset - len(strings.TrimLeft(c.before[strings.LastIndexByte(c.before, '|')+1:], " "))
	switch strings.ToLower(head) {
	case "use":
		return c.fitting(from, offersOf(uses, ValueOffer))
	case "torque", "spec":
		if list := c.unitOffers(from); list != nil {
			return list
		}
		if head == "Spec" {
			return nil
		}
		return c.fitting(from, []Offer{{Text: "hand-tight", Kind: ValueOffer}, {Text: "by setting", Detail: "a measurement sets it", Kind: ValueOffer}})
	case "place":
		return c.placeOffers(from)
	case "layout":
		var list []Offer
		for _, l := range c.v.Result.Proc.Layouts {
			list = append(list, Offer{Text: l.Name.Value, Detail: "layout", Kind: ThingOffer})
		}
		return c.fitting(from, list)
	case "variant", "variants":
		return c.fitting(from, c.variantOffers())
	}
	return nil
}

// headOf gives the heading of a column of the table that the cursor stands in.
func (c *cursor) headOf(column int) (head string) {
	c.v.tree().EachBlock(func(_ *syntax.Section, b syntax.Block) {
		t, ok := b.(*syntax.Table)
		if ok && t.At.Start <= c.offset && c.v.File.Line(c.offset) <= c.v.File.Line(t.At.End)+1 && column >= 0 && column < len(t.Head) && c.offset > t.Head[len(t.Head)-1].At.End {
			head = t.Head[column].Text
		}
	})
	return head
}

// placeOffers lists the words of relations, and behind one the things that it may name.
func (c *cursor) placeOffers(from int) []Offer {
	typed := c.word(from)
	if i := strings.LastIndexByte(typed, ','); i >= 0 {
		from += i + 1
		from += len(c.word(from)) - len(strings.TrimLeft(c.word(from), " "))
	}
	word, _, named := strings.Cut(c.word(from), " ")
	if !named {
		return c.fitting(from, offersOf(relations, ValueOffer))
	}
	from += len(word) + 1
	switch strings.ToLower(word) {
	case "seals", "fills":
		return c.fitting(from, c.supplies())
	case "holds", "clamps", "behind", "under", "locks":
		return c.fitting(from, c.parts(false))
	}
	return nil
}
