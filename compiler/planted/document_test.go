// Package planted_test writes procedures at random, correct by the way they are made, and compiles them: they must be silent. Then it
// plants one fault in each and knows the one finding that must come. What it knows of machines is its own: it shares
// nothing with the ledger but the language.
package planted_test

import (
	"fmt"
	"slices"
	"strings"
)

// document is a procedure before it is printed.
type document struct {
	front    []entry
	intro    []string // paragraphs and messages
	columns  []string // of the parts table, in the order of printing
	parts    []*row
	tools    []*tool
	supplies []*supply
	stages   []*stage
	wholly   func(string) string // a change of the printed text that no model can show
}

type entry struct {
	key, value string
	line       int
}

// row is a row of the parts table.
type row struct {
	name, plural            string
	qty                     int
	upTo                    bool // "up to": an add part fitted as needed
	spec, number, use       string
	place                   []string
	torque, layout, variant string
	typedQty                string // stands in place of qty where set
	line                    int
}

type tool struct {
	name, detail string
	line         int
}

type supply struct {
	name, plural string
	qty, detail  string
	spent        int // what the steps spend so far, in unit
	unit         string
	line         int
}

type stage struct {
	name  string
	items []any // *step, string (a paragraph), *drawing
	line  int
}

// drawing is a layout block.
type drawing struct {
	name  string
	lines []string
	line  int
}

type step struct {
	lead   []*tag // for, if or otherwise, repeat
	sents  []*sentence
	subs   []*step
	notes  []string
	before string // a message at its head
	wrap   int    // the source goes to a new line before this sentence; 0: it does not
	line   int
}

// sentence is one clause, or several with a joint between each two. It begins with a capital and ends with a stop.
type sentence struct {
	clauses []clause
	joints  []string
}

// clause is text and tags in turn.
type clause []frag

type frag struct {
	text string
	tag  *tag
}

// tag is one act, as it will be typed.
type tag struct {
	kind string // the verb of the table
	verb string // as typed
	objs []*object
	tail string // all that follows the objects
	raw  string // printed in place of everything, braces too, where set
	tool *tool
	long bool // the tool with its details
	sup  *supply
	line int
}

// object is a part or any thing in a tag.
type object struct {
	row    *row
	free   string // a thing that nobody declares
	plural string
	n, of  int    // 0: no count
	style  string // digits, words, both, all, each, other, remaining, bare
	mark   string // "the ", "a "
	fresh  bool   // new
	old    bool
}

var numbers = []string{"", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

func (o *object) words() string {
	name, plural, qty := o.free, o.plural, 1
	if o.row != nil {
		name, plural, qty = o.row.name, o.row.plural, o.row.qty
	}
	age := ""
	switch {
	case o.fresh:
		age = "new "
	case o.old:
		age = "old "
	}
	if qty == 1 && o.n == 0 {
		return o.mark + age + name
	}
	if o.n == 1 {
		plural = name
	}
	switch o.style {
	case "all":
		return "all " + age + plural
	case "both":
		return "both " + age + plural
	case "each":
		return "each " + age + name
	case "remaining":
		return "the remaining " + age + plural
	case "other":
		return fmt.Sprintf("the other %d %s%s", o.n, age, plural)
	case "of":
		return fmt.Sprintf("%d of %d %s%s", o.n, o.of, age, o.row.plural)
	case "of the":
		return fmt.Sprintf("%d of the %d %s%s", o.n, o.of, age, o.row.plural)
	case "bare":
		return o.mark + age + plural
	case "words":
		if o.n < len(numbers) {
			return numbers[o.n] + " " + age + plural
		}
	}
	return fmt.Sprintf("%d %s%s", o.n, age, plural)
}

// text is the tag as it is printed.
func (t *tag) text() string {
	if t.raw != "" {
		return t.raw
	}
	var words []string
	for _, o := range t.objs {
		words = append(words, o.words())
	}
	body := ""
	switch len(words) {
	case 0:
	case 1:
		body = " " + words[0]
	default:
		body = " " + strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
	}
	switch {
	case t.tool != nil && t.long && t.tool.detail != "":
		body = " " + t.tool.name + ", " + t.tool.detail
	case t.tool != nil:
		body = " " + t.tool.name
	}
	return "{" + t.verb + body + t.tail + "}"
}

// acts counts the acts of a step: what a technician ticks.
func (s *step) acts() int {
	n := 0
	for _, t := range s.tags() {
		if t.isAct() {
			n++
		}
	}
	return n
}

func (t *tag) isAct() bool {
	return !slices.Contains([]string{"tool", "supply", "part", "takes", "label", "number", "waive", "if", "otherwise", "for", "repeat"}, t.kind)
}

// tags gives the tags of a step, not those of its sub-steps.
func (s *step) tags() []*tag {
	all := slices.Clone(s.lead)
	for _, x := range s.sents {
		all = append(all, x.tags()...)
	}
	return all
}

func (x *sentence) tags() []*tag {
	var all []*tag
	for _, c := range x.clauses {
		for _, f := range c {
			if f.tag != nil {
				all = append(all, f.tag)
			}
		}
	}
	return all
}

// steps gives all steps in order, sub-steps behind their parent.
func (d *document) steps() []*step {
	var all []*step
	for _, st := range d.stages {
		for _, it := range st.items {
			if s, ok := it.(*step); ok {
				all = append(append(all, s), s.subs...)
			}
		}
	}
	return all
}

// tags gives all tags in order.
func (d *document) tags() []*tag {
	var all []*tag
	for _, s := range d.steps() {
		all = append(all, s.tags()...)
	}
	return all
}

// settle takes out tools that no step came to use, writes a tool with its details wherever its name alone would fit two, and the quantities of supplies that have none.
func (d *document) settle() {
	used := map[*tool]bool{}
	for _, t := range d.tags() {
		used[t.tool] = true
	}
	d.tools = slices.DeleteFunc(d.tools, func(t *tool) bool { return !used[t] })
	for _, t := range d.tags() {
		if t.tool == nil {
			continue
		}
		for _, other := range d.tools {
			if other != t.tool && other.name == t.tool.name {
				t.long = true
			}
		}
	}
	for _, s := range d.supplies {
		if s.qty == "" && s.unit == "" {
			s.qty = fmt.Sprint(s.spent)
		} else if s.qty == "" {
			s.qty = fmt.Sprintf("%d %s", s.spent, s.unit)
		}
	}
}

// page prints line by line and knows where it is.
type page struct {
	b    strings.Builder
	line int
}

func (p *page) put(text string) {
	p.b.WriteString(text + "\n")
	p.line += 1 + strings.Count(text, "\n")
}

// next is the number of the line that put will write.
func (p *page) next() int { return p.line + 1 }

// String prints the procedure and sets the lines of all that stands in it.
func (d *document) String() string {
	p := &page{}
	p.put("---")
	for i := range d.front {
		d.front[i].line = p.next()
		p.put(strings.TrimRight(d.front[i].key+": "+d.front[i].value, " "))
	}
	p.put("---\n")
	for _, s := range d.intro {
		p.put(s + "\n")
	}
	d.printParts(p)
	p.put("## Tools\n")
	for _, t := range d.tools {
		t.line = p.next()
		p.put("- " + join(", ", t.name, t.detail))
	}
	none(p, len(d.tools))
	p.put("## Supplies\n")
	for _, s := range d.supplies {
		s.line = p.next()
		p.put("- " + join(", ", s.name, s.qty, s.detail))
	}
	none(p, len(d.supplies))
	for _, st := range d.stages {
		st.print(p)
	}
	text := p.b.String()
	if d.wholly != nil {
		text = d.wholly(text)
	}
	return text
}

func none(p *page, n int) {
	if n == 0 {
		p.put("- none")
	}
	p.put("")
}

func join(sep string, words ...string) string {
	return strings.Join(slices.DeleteFunc(words, func(w string) bool { return w == "" }), sep)
}

func (r *row) cell(column string) string {
	switch column {
	case "Part":
		return r.name
	case "Qty":
		switch {
		case r.typedQty != "":
			return r.typedQty
		case r.upTo:
			return fmt.Sprintf("up to %d", r.qty)
		}
		return fmt.Sprint(r.qty)
	case "Spec":
		return r.spec
	case "Number":
		return r.number
	case "Use":
		return r.use
	case "Place":
		return strings.Join(r.place, ", ")
	case "Torque":
		return r.torque
	case "Layout":
		return r.layout
	}
	return r.variant
}

func (d *document) printParts(p *page) {
	p.put("## Parts\n")
	if len(d.parts) == 0 {
		p.put("- none\n")
		return
	}
	var columns []string
	for _, c := range d.columns {
		used := c == "Part" || c == "Qty" || c == "Spec"
		for _, r := range d.parts {
			used = used || r.cell(strings.TrimSuffix(c, "?")) != ""
		}
		if used {
			columns = append(columns, c)
		}
	}
	p.put("| " + strings.Join(columns, " | ") + " |")
	p.put(strings.Repeat("|:--", len(columns)) + "|")
	for _, r := range d.parts {
		r.line = p.next()
		var cells []string
		for _, c := range columns {
			cells = append(cells, r.cell(strings.TrimSuffix(c, "?")))
		}
		p.put("| " + strings.Join(cells, " | ") + " |")
	}
	p.put("")
}

func (st *stage) print(p *page) {
	st.line = p.next()
	p.put("## " + st.name + "\n")
	n := 0
	for _, it := range st.items {
		switch x := it.(type) {
		case string:
			if n > 0 {
				p.put("")
			}
			p.put(x + "\n")
		case *drawing:
			if n > 0 {
				p.put("")
			}
			x.line = p.next()
			p.put("```layout " + x.name + "\n" + strings.Join(x.lines, "\n") + "\n```\n")
		case *step:
			n++
			x.print(p, fmt.Sprintf("%d. ", n), "")
		}
	}
	p.put("")
}

func (s *step) print(p *page, head, indent string) {
	in := indent + strings.Repeat(" ", len(head))
	if s.before != "" {
		p.put(indent + head + "> " + s.before + "\n")
		head = strings.Repeat(" ", len(head))
	}
	s.line = p.next()
	for i, x := range s.sents {
		for _, t := range x.tags() {
			t.line = s.line
			if s.wrap > 0 && i >= s.wrap {
				t.line++
			}
		}
	}
	for _, t := range s.lead {
		t.line = s.line
	}
	p.put(indent + head + strings.ReplaceAll(s.text(), "\n", "\n"+in))
	for i, sub := range s.subs {
		sub.print(p, fmt.Sprintf("%d. ", i+1), in)
	}
	for _, n := range s.notes {
		p.put(in + "- " + n)
	}
}

func (s *step) text() string {
	var b strings.Builder
	for i, t := range s.lead {
		sep := ", "
		if i+1 == len(s.lead) && (t.kind == "for" || t.kind == "repeat") {
			sep = ": "
		}
		words := t.text()
		if i == 0 {
			words = capital(words)
		}
		b.WriteString(words + sep)
	}
	for i, x := range s.sents {
		words := x.text()
		if i > 0 || len(s.lead) == 0 {
			words = capital(words)
		}
		switch {
		case i > 0 && i == s.wrap:
			b.WriteString("\n")
		case i > 0:
			b.WriteString(" ")
		}
		b.WriteString(words)
	}
	return b.String()
}

func (x *sentence) text() string {
	var b strings.Builder
	for i, c := range x.clauses {
		for _, f := range c {
			words := f.text
			if f.tag != nil {
				words = f.tag.text()
			}
			b.WriteString(words)
		}
		if i+1 < len(x.clauses) {
			b.WriteString(x.joints[i])
		}
	}
	return b.String() + "."
}

// capital raises the first letter, that of a verb behind its brace too.
func capital(s string) string {
	i := 0
	if strings.HasPrefix(s, "{") {
		i = 1
	}
	if i < len(s) {
		return s[:i] + strings.ToUpper(s[i:i+1]) + s[i+1:]
	}
	return s
}
