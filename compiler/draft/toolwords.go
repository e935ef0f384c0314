package draft

import (
	"strings"

	"refitcard/compiler/quantity"
)

// toolNouns end the name of a tool wherever it stands; weakNouns do so only behind "with", "using", "from", or with a size.
var (
	toolNouns = set(`spanner spanners wrench wrenches socket sockets skt screwdriver screwdrivers hammer mallet drift punch puller gauge micrometer jack hoist sling slings
		pliers grips tester multimeter thermometer boathook chisel tray bucket pan funnel crowbar straightedge torch scraper syringe vice brace trestle trestles allen crosshead pick`)
	weakNouns = set("key keys bar lever brush stand stands press driver rule ruler knife tool drill crane block blocks rope edge stick winch iron pump bit bits gun can meter hook")
	leadIn    = set("with using use from by on in")
	supplies  = set(`oil grease coolant fluid antifreeze threadlocker sealant rag rags cloth towel towels cleaner solvent diesel degreaser anti-seize paste paint
		water petrol wipe wipes`)
)

// machines are tools by their whole names.
var machines = map[string]bool{"vacuum cleaner": true, "pressure washer": true, "steam cleaner": true, "heat gun": true, "hot air gun": true}

// toolAt reads the tools at i, without the word before them. known are those that the notes listed.
func (d *drafter) toolAt(w []tok, i int, lead bool) (found []*tool, n int) {
	k := i
	for k < len(w) && (w[k].low == "a" || w[k].low == "an" || w[k].low == "the" || w[k].low == "your" || w[k].num > 0 && w[k].num <= 12 && lead) && w[k].stop == "" {
		k++
	}
	marked := k > i
	near := lead && (i == 0 || w[i-1].low == "with" || w[i-1].low == "using" || w[i-1].low == "use")
	var sizes, detail, words []string
	for ; k < len(w) && len(words) < 5; k++ {
		t := w[k]
		if k > i && w[k].open != "" && strings.Contains(w[k].open, "(") {
			return nil, 0
		}
		switch {
		case t.q && t.kind == quantity.Length && !t.limit && len(words) == 0:
			sizes = append(sizes, t.print)
			if k+2 < len(w) && w[k+1].low == "and" && (w[k+2].q || w[k+2].low == "a" && k+3 < len(w) && w[k+3].q) {
				k++
				if w[k+1].low == "a" {
					k++
				}
			}
			continue
		case t.q && len(words) == 0 && (t.kind == quantity.Volume || t.kind == quantity.Mass || t.kind == quantity.Torque):
			detail = append(detail, t.print)
			continue
		case t.q || t.num > 0 || preps.has(t.low) || halts.has(t.low) || t.low == "and" || pronouns.has(t.low) || marks.has(t.low):
			return nil, 0
		}
		words = append(words, spelled(t))
		sized := len(sizes) > 0
		if (t.low == "allen" || t.low == "crosshead") && k+1 < len(w) && t.stop == "" && (toolNouns.has(w[k+1].low) || weakNouns.has(w[k+1].low)) {
			continue
		}
		strong := toolNouns.has(t.low) && (lead || sized || marked) || weakNouns.has(t.low) && (near || lead && (t.low == "stand" || t.low == "stands") || sized || words[0] == "wire" || d.listed(words))
		if !strong && (d.listed(words) || machines[strings.Join(words, " ")]) {
			strong = true
		}
		if strong && k+1 < len(w) && t.stop == "" && (toolNouns.has(w[k+1].low) || weakNouns.has(w[k+1].low) || nouny.has(w[k+1].low) && !halts.has(w[k+1].low) && !preps.has(w[k+1].low)) {
			continue
		}
		if strong && k+1 < len(w) && w[k+1].low == "of" && t.stop == "" {
			return nil, 0 // "a little bit of oil"
		}
		if strong {
			return d.named(sizes, detail, words), k + 1 - i
		}
		if t.stop != "" {
			return nil, 0
		}
	}
	return nil, 0
}

// spelled keeps the letters of a name such as PH2.
func spelled(t tok) string {
	if strings.ContainsAny(t.print, "0123456789") {
		return t.print
	}
	return t.low
}

func (d *drafter) listed(words []string) bool {
	for _, t := range d.tools {
		if strings.EqualFold(t.name, strings.Join(words, " ")) {
			return true
		}
	}
	return false
}

// named makes the tools of a phrase, or finds them among those that the notes spoke of.
func (d *drafter) named(sizes, detail, words []string) []*tool {
	last := words[len(words)-1]
	if last == "skt" {
		words[len(words)-1] = "socket"
	}
	words[len(words)-1] = singular(words[len(words)-1])
	name := strings.Join(words, " ")
	if strings.HasSuffix(name, "allen key") {
		name = strings.TrimSuffix(name, "allen key") + "hex key"
	}
	if name == "allen" {
		name = "hex key"
	}
	if name == "crosshead" {
		name = "crosshead screwdriver"
	}
	if name == "key" && len(sizes) > 0 {
		name = "hex key"
	}
	if len(sizes) == 0 {
		sizes = []string{""}
	}
	var all []*tool
	for _, s := range sizes {
		all = append(all, d.tool(strings.TrimSpace(s+" "+name), detail))
	}
	return all
}

// tool finds a tool by its name, or by the end of it where only one ends so; else it is a new one.
func (d *drafter) tool(name string, detail []string) *tool {
	var ends []*tool
	for _, t := range d.tools {
		if strings.EqualFold(t.name, name) {
			if len(t.detail) == 0 {
				t.detail = detail
			}
			return t
		}
		if strings.HasSuffix(strings.ToLower(t.name), " "+strings.ToLower(name)) {
			ends = append(ends, t)
		}
	}
	if len(ends) == 1 {
		return ends[0]
	}
	t := &tool{name: name, detail: detail}
	d.tools = append(d.tools, t)
	return t
}

// list takes in an item of a list of what is needed: a tool, a supply, or a part.
func (d *drafter) list(text, kind string) {
	w := tokens(text)
	if len(w) == 0 {
		return
	}
	for from := 0; from < len(w); {
		to := from
		for to < len(w) && !strings.ContainsAny(w[to].stop, ",;.") && !(to > from && to+1 < len(w) && (w[to+1].low == "and" || w[to+1].low == "with")) {
			to++
		}
		piece := w[from:min(to+1, len(w))]
		if piece[0].low == "and" || piece[0].low == "with" {
			piece = piece[1:]
		}
		from = to + 1
		// A size or a load behind the comma belongs to the tool before it.
		var detail []string
		for from < len(w) && w[from].q && (from+1 == len(w) || w[from].stop != "") {
			detail = append(detail, w[from].print)
			from++
		}
		d.listItem(piece, detail, kind)
	}
}

var timesN = pattern(`^(?:x\d{1,2}|\d{1,2}x)$`)

func (d *drafter) listItem(piece []tok, detail []string, kind string) {
	if n := len(piece); n > 1 && timesN().MatchString(piece[n-1].low) {
		piece = piece[:n-1] // "pipe clamps x2"
	}
	if len(piece) == 0 {
		return
	}
	for k := len(piece) - 1; k > 0 && piece[k].q; k-- {
		detail = append([]string{piece[k].print}, detail...)
		piece = piece[:k]
	}
	if piece[0].low == "new" {
		if o, _ := phrase(piece, 0); o.name != "" && nameable().MatchString(o.name) && !noName(o.name) {
			d.thing(&o, false).use = "replace"
		}
		return
	}
	if found, n := d.toolAt(piece, 0, true); n == len(piece) && kind != "parts" {
		for _, t := range found {
			if len(t.detail) == 0 {
				t.detail = detail
			}
		}
		return
	}
	o, n := phrase(piece, 0)
	if o.name == "" || n < len(piece) {
		return
	}
	switch {
	case kind == "parts":
		d.thing(&o, false)
	case supplies.has(lastWord(o.name)) && !(kind == "tools" && lastWord(o.name) == "cleaner") || kind == "supplies":
		s := d.thing(&o, true)
		s.amount = append(s.amount, detail...)
	case kind == "tools":
		words := []string{}
		for _, t := range piece {
			if !marks.has(t.low) {
				words = append(words, t.low)
			}
		}
		if len(words) > 0 {
			d.tool(strings.Join(words, " "), detail)
		}
	}
}
