package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"refitcard/render/document"
)

// benchRecord is the record of the job in the picture of the page description: three readings, two torques, a hold, two parts.
func benchRecord() *document.Record {
	return &document.Record{
		Header: document.Header{
			Kind: "Record sheet", Number: "SD-114", Revision: "C", Date: "20 November 2026", Title: "Reseal the end cover of the rake winch",
			Machine: "Rake winch RW40, serial 0210 and up", Digest: "4F7K-29QD", Payload: "SD-114 C 4F7K29QD",
		},
		Foot: document.Foot{Lead: "File this sheet.", Wrong: "The laminated card is no record.", Statement: "The maker's service information comes before this sheet."},
		Boxes: []document.RecordBox{
			{Label: "Serial number"},
			{Label: "Running hours"},
			{Label: "Work order"},
			{Label: "Place"},
			{Label: "Technician"},
			{Label: "Second person"},
			{Label: "Started, date and time"},
			{Label: "Finished, date and time"},
		},
		Again: []string{"Serial number", "Work order", "Technician", "Place"},
		Lines: document.RecordLines{
			Readings: []document.RecordReading{
				{Line: 1, Step: "1", What: "drum does not turn", Tick: true},
				{Line: 2, Step: "4", What: "both locating dowels in", Tick: true},
				{Line: 3, Step: "9", What: "oil level", Limits: "12–18 mm"},
			},
			Torques: []document.RecordTorque{
				{Line: 4, Step: "6", Count: "12", What: "cover bolts, M8×30", NewtonMetres: "22", PoundFeet: "16"},
				{Line: 5, Step: "8", Count: "1", What: "drain plug, M14×1.5", NewtonMetres: "25", PoundFeet: "18"},
			},
			Holds: []document.RecordHold{{Line: 6, Step: "7", Who: "supervisor", What: "cover bolts torqued"}},
			Parts: []document.RecordPart{
				{Line: 7, Step: "5", Count: "1", Name: "cover gasket", Number: "SD-G03"},
				{Line: 8, Step: "8", Count: "1", Name: "sealing washer", Number: "SD-W14"},
			},
		},
		Release: []document.Run{{Text: "Work done to card "}, {Text: "SD-114 revision C, 4F7K-29QD", Bold: true}, {Text: ". Tools counted in. All lines above filled."}},
		Signing: []string{"Name", "Certificate number", "Signature", "Date"},
	}
}

func laidRecord(t *testing.T, opt Options) *Document {
	t.Helper()
	d, err := LayRecord(benchRecord(), opt)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// "Record sheet: eight boxes 12 high on the grid; … write-in rows 8.6 high with uprights, holds 11; … ruled lines 7.8 apart down to a
// release box 24 high at the foot". The columns are those of the picture: 104, 130 and 156 mm from the margin on A4.
func TestRecordOnThePage(t *testing.T) {
	for _, c := range []struct {
		opt      Options
		left     float64
		col      float64
		live     float64
		uprights []float64 // of a row of readings
		hold     []float64
		height   float64
	}{
		{Options{Paper: "a4"}, 12, 43.5, 186, []float64{116.1, 142.1, 168.1}, []float64{90.2, 126, 168.1}, 297},
		{Options{Paper: "letter"}, 12, 45, 191.9, []float64{119.3, 146.2, 173.1}, []float64{92.6, 129.5, 173.1}, 279.4},
	} {
		t.Run(c.opt.Paper, func(t *testing.T) {
			d := laidRecord(t, c.opt)
			if len(d.Pages) != 1 {
				t.Fatalf("%d pages", len(d.Pages))
			}
			fields := boxes(d, "field")
			if len(fields) != 8 {
				t.Fatalf("%d boxes to fill in", len(fields))
			}
			for i, f := range fields {
				close2(t, f.Text+", left", f.X, c.left+float64(i%4)*(c.col+4))
				close2(t, f.Text+", width", f.W, c.col)
				close2(t, f.Text+", height", f.H, 12)
			}
			for _, b := range boxes(d, "line") {
				want := 8.6
				if strings.HasPrefix(b.Text, "supervisor") {
					want = 11
				}
				close2(t, b.Text+", height", b.H, want)
				close2(t, b.Text+", width", b.W, c.live)
			}
			placed := map[string]float64{}
			for _, b := range boxes(d, "write") {
				placed[b.Text] = b.X
			}
			for i, name := range []string{"3 As found", "3 As left", "3 Initials"} {
				close2(t, name, placed[name], c.uprights[i])
			}
			for i, name := range []string{"6 Name", "6 Signature", "6 Date and time"} {
				close2(t, name, placed[name], c.hold[i])
			}
			for _, b := range boxes(d, "tick") {
				close2(t, "tick under As left", b.X, c.uprights[1]+1.5)
			}
			ruled := boxes(d, "ruled")
			for i := 1; i < len(ruled); i++ {
				close2(t, "ruled line", ruled[i].Y-ruled[i-1].Y, 7.8)
			}
			if len(ruled) < 2 {
				t.Errorf("%d lines to write on", len(ruled))
			}
			release, foot := one(t, d, "release"), one(t, d, "foot")
			close2(t, "release box, height", release.H, 24)
			close2(t, "release box, bottom", release.Y+release.H, foot.Y-4.3)
			if gap := release.Y - ruled[len(ruled)-1].Y - ruled[len(ruled)-1].H; gap < 4 || gap > 4.8+7.8 {
				t.Errorf("%.1f mm between the last line and the release box", gap)
			}
		})
	}
}

// "the kind of sheet Bold 20 in the title's place, the job's title 13.5 Regular after it. Section heads Bold 13.5 … Body 10.5; heads
// 0.86 of it, least 9."
func TestRecordSizes(t *testing.T) {
	d := laidRecord(t, Options{})
	for words, want := range map[string]struct {
		face Face
		size float64
	}{
		"Record sheet ": {Bold, 20}, "Reseal the end cover of the rake winch": {Regular, 13.5}, "Torques": {Bold, 13.5},
		"oil level": {Regular, 10.5}, "As found": {Regular, 9}, "12–18 mm": {Bold, 10.5}, "22": {Bold, 10.5}, "16": {Regular, 10.5},
	} {
		found := false
		for _, o := range d.Pages[0].Ops {
			if x, ok := o.(Text); ok && x.String == words {
				found = true
				if x.Face != want.face || math.Abs(x.Size-want.size) > 0.05 {
					t.Errorf("%q in face %v, %.2f pt", words, x.Face, x.Size)
				}
			}
		}
		if !found {
			t.Errorf("%q is not on the sheet", words)
		}
	}
}

func TestRecordRefusesSmallPaper(t *testing.T) {
	for _, paper := range []string{"a5", "a6", "a6-landscape", "half-letter"} {
		if _, err := LayRecord(benchRecord(), Options{Paper: paper}); err == nil || !strings.Contains(err.Error(), "take a4, letter or a5-landscape") {
			t.Errorf("%s: %v", paper, err)
		}
	}
}

func said(t *rapid.T, label string, most int) string {
	var b strings.Builder
	for _, r := range sentence(t, label, most) {
		b.WriteString(r.Text)
	}
	return b.String()
}

// randomRecord draws a record. Each text begins with a mark of its own.
func randomRecord(t *rapid.T) *document.Record {
	r := benchRecord()
	l := document.RecordLines{}
	line := 0
	next := func() (int, string) { line++; return line, fmt.Sprintf("#%d#", line) }
	many := func(what string, most int) int { return rapid.IntRange(0, most).Draw(t, what) }
	for range many("readings", 30) {
		n, id := next()
		x := document.RecordReading{Line: n, Step: "12b", What: id + " " + said(t, "reading", 25), Tick: rapid.Bool().Draw(t, "tick")}
		if !x.Tick {
			x.Limits = rapid.SampledFrom([]string{"", "0.30–0.50 mm", "≤ 1750 mm"}).Draw(t, "limits")
		}
		if rapid.Bool().Draw(t, "if") {
			x.More = said(t, "only if", 12)
		}
		l.Readings = append(l.Readings, x)
	}
	for range many("torques", 12) {
		n, id := next()
		l.Torques = append(l.Torques, document.RecordTorque{Line: n, Step: "3", Count: "12", What: id + " " + said(t, "fastener", 9), More: said(t, "way", 7), NewtonMetres: "1500–1800", PoundFeet: rapid.SampledFrom([]string{"16", "111–133", "84–102 lbf·in"}).Draw(t, "second")})
	}
	for range many("gauges", 4) {
		n, id := next()
		l.Gauges = append(l.Gauges, document.RecordGauge{Line: n, Tool: id + " " + said(t, "gauge", 6), Steps: "3, 4, 12b"})
	}
	for range many("holds", 4) {
		n, id := next()
		l.Holds = append(l.Holds, document.RecordHold{Line: n, Step: "7", Who: id + " " + said(t, "who", 6), What: said(t, "why", 20)})
	}
	for range many("handovers", 2) {
		n, id := next()
		l.Handovers = append(l.Handovers, document.RecordHold{Line: n, Step: "8", Open: []string{id + " " + said(t, "off", 150), said(t, "isolated", 3)}})
	}
	for range many("parts", 12) {
		n, id := next()
		l.Parts = append(l.Parts, document.RecordPart{Line: n, Step: "9", Count: "up to 8", Name: id + " " + said(t, "part", 9), Number: rapid.SampledFrom([]string{"", "MD-G03", "MD-000-1234567890-1234567890-B"}).Draw(t, "number")})
	}
	for range many("remains", 3) {
		n, id := next()
		l.Remains = append(l.Remains, document.RecordRemain{Line: n, Lead: "After the job:", What: id + " " + said(t, "remains", 20)})
	}
	r.Lines = l
	if rapid.Bool().Draw(t, "references") {
		r.Rests = said(t, "rests on", 30)
	}
	if rapid.Bool().Draw(t, "filled in") {
		fillAtRandom(t, r)
	}
	return r
}

// fillAtRandom fills a record in: some of its places, with words that fit and words that don't.
func fillAtRandom(t *rapid.T, r *document.Record) {
	typed := func() string {
		return rapid.SampledFrom([]string{"", "", "W-12", "12,5 mm", "2026-11-25 14:32", strings.Repeat("X", 200), strings.TrimSpace(strings.Repeat("a long word ", 16)), "łódź"}).Draw(t, "typed")
	}
	r.Filled = "on a tablet, saved 2026-11-25 14:32; 40 of 40 boxes done."
	for i := range r.Boxes {
		r.Boxes[i].Typed = typed()
	}
	for range rapid.IntRange(0, 40).Draw(t, "remarks") {
		r.Remarks = append(r.Remarks, said(t, "remark", 30))
	}
	l := &r.Lines
	for i := range l.Readings {
		x := &l.Readings[i]
		switch {
		case rapid.IntRange(0, 9).Draw(t, "not needed") == 0:
			x.NotNeeded = true
		case x.Tick:
			x.Ticked = rapid.SampledFrom([]string{"", "2026-11-25 14:32"}).Draw(t, "ticked")
		default:
			x.Found.Words, x.Left.Words = typed(), typed()
			if x.Found.Words == "" {
				continue
			}
			x.Found.Verdict = rapid.SampledFrom([]string{"", "too high", "not a figure"}).Draw(t, "verdict")
		}
	}
	for i := range l.Torques {
		l.Torques[i].Written = document.Written{document.WrenchSerial: typed(), document.CalibratedTo: typed()}
	}
	for i := range l.Holds {
		l.Holds[i].Written = document.Written{document.SignerName: typed(), document.DateAndTime: typed()}
	}
	for i := range l.Parts {
		l.Parts[i].Written = document.Written{document.Batch: typed()}
	}
}

// Whatever is on a record: each line once and in order, each with the places to write in, nothing outside the margins, below the
// release box or in the foot, nothing on anything else, and on each page the machine that it is about.
func TestAnyRecordKeepsTheRulesOfThePage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := randomRecord(t)
		opt := Options{
			Paper: rapid.SampledFrom([]string{"a4", "a4-landscape", "letter", "a5-landscape"}).Draw(t, "paper"),
			Punch: rapid.SampledFrom([]string{"", "left"}).Draw(t, "punch"),
		}
		d, err := LayRecord(r, opt)
		if err != nil {
			t.Fatalf("refused: %v", err)
		}
		next, releases := 1, 0
		write := map[int]int{}
		for n, p := range d.Pages {
			where := fmt.Sprintf("%s page %d", opt.Paper, n+1)
			limit := d.Height
			for _, b := range p.Boxes {
				if b.Name == "foot" || b.Name == "continued" {
					limit = min(limit, b.Y)
				}
			}
			if p.Boxes == nil || !slices.ContainsFunc(p.Boxes, func(b Box) bool { return b.Name == "field" && strings.HasPrefix(b.Text, "Serial number") }) {
				t.Errorf("%s does not say which machine it is about", where)
			}
			for _, b := range p.Boxes {
				if b.Name != "foot" && b.Name != "continued" && b.Y+b.H > limit+0.01 {
					t.Errorf("%s: %s %q reaches %.1f, the end is at %.1f", where, b.Name, b.Text, b.Y+b.H, limit)
				}
				switch b.Name {
				case "line":
					if strings.Contains(b.Text, fmt.Sprintf("#%d#", next)) {
						next++
					} else if !strings.Contains(b.Text, fmt.Sprintf("#%d#", next-1)) {
						t.Fatalf("%s: line %q is not number %d", where, b.Text, next)
					}
				case "write", "typed":
					var line int
					fmt.Sscan(b.Text, &line)
					write[line]++
				case "release":
					releases++
				}
			}
			placesApart(t, p, where)
			textsApart(t, p, where)
			inkInside(t, d, n, where)
		}
		if next-1 != r.Lines.Count() || releases != 1 {
			t.Errorf("%d of %d lines, %d release boxes", next-1, r.Lines.Count(), releases)
		}
		for _, x := range r.Lines.Readings {
			want := 3
			if x.Tick {
				want = 1 // its initials
			}
			if x.Tick && (x.Ticked != "" || x.NotNeeded) {
				want = 2
			}
			if write[x.Line] != want {
				t.Errorf("line %d has %d places to write in, want %d", x.Line, write[x.Line], want)
			}
		}
		for _, x := range r.Lines.Torques {
			if write[x.Line] != 3 {
				t.Errorf("line %d, a torque, has %d places to write in", x.Line, write[x.Line])
			}
		}
		for _, x := range r.Lines.Holds {
			if write[x.Line] != 3 {
				t.Errorf("line %d, a hold, has %d places to write in", x.Line, write[x.Line])
			}
		}
		for _, x := range r.Lines.Parts {
			if write[x.Line] != 2 {
				t.Errorf("line %d, a part, has %d places to write in", x.Line, write[x.Line])
			}
		}
		var want, got []string // all figures, in order
		for _, x := range r.Lines.Readings {
			want = append(want, x.Limits)
		}
		for _, x := range r.Lines.Torques {
			want = append(want, x.NewtonMetres, x.PoundFeet)
		}
		for _, x := range r.Lines.Gauges {
			want = append(want, x.Steps)
		}
		want = slices.DeleteFunc(want, func(s string) bool { return s == "" })
		for _, b := range boxes(d, "value") {
			got = append(got, b.Text)
		}
		if !slices.Equal(got, want) {
			t.Errorf("figures %q, want %q", got, want)
		}
	})
}

// placesApart tests that no two places to fill in lie on each other, and that no words of the sheet stand in one that is empty.
func placesApart(t *rapid.T, p Page, where string) {
	var places, typed []Box
	for _, b := range p.Boxes {
		switch b.Name {
		case "tick":
			if !slices.ContainsFunc(typed, func(o Box) bool { return o.X < b.X && b.X < o.X+o.W && o.Y < b.Y && b.Y < o.Y+o.H }) {
				places = append(places, b) // else it is ticked, and its time stands beside it
			}
		case "value": // figures keep their distance
			places = append(places, Box{b.Name, b.X - 1.5, b.Y, b.W + 3, b.H, b.Text})
		case "field", "write", "sign", "ruled", "remark":
			places = append(places, b)
		case "typed":
			typed = append(typed, b)
		}
	}
	for i, a := range places {
		for _, b := range places[:i] {
			if a.X < b.X+b.W-0.01 && b.X < a.X+a.W-0.01 && a.Y < b.Y+b.H-0.01 && b.Y < a.Y+a.H-0.01 {
				t.Errorf("%s: %s %q lies on %s %q", where, a.Name, a.Text, b.Name, b.Text)
			}
		}
	}
	places = append(places, typed...)
	for _, o := range p.Ops {
		x, ok := o.(Text)
		if !ok {
			continue
		}
		r := inkOf(x)
		for _, b := range typed { // what is filled in keeps to its place
			if r.X > b.X && r.X < b.X+b.W && r.Y > b.Y && r.Y < b.Y+b.H && (r.X+r.W > b.X+b.W || r.Y+r.H > b.Y+b.H) {
				t.Errorf("%s: %q does not keep to the place of %q", where, x.String, b.Text)
			}
		}
		for _, b := range places {
			if (b.Name == "write" || b.Name == "ruled") && r.X < b.X+b.W-0.01 && b.X < r.X+r.W-0.01 && r.Y < b.Y+b.H-0.01 && b.Y < r.Y+r.H-0.01 {
				t.Errorf("%s: %q stands in the place for %q", where, x.String, b.Text)
			}
		}
	}
}

// inkOf is the box that the capitals of a text fill.
func inkOf(x Text) Box {
	cap := capHeight(x.Size)
	return Box{X: x.X, Y: x.Y - cap, W: textWidth(x.Face, strings.TrimRight(x.String, " "), x.Size), H: cap}
}

// textsApart tests that no two texts lie on each other.
func textsApart(t *rapid.T, p Page, where string) {
	var texts []Text
	for _, o := range p.Ops {
		if x, ok := o.(Text); ok && strings.TrimSpace(x.String) != "" && x.Angle == 0 {
			texts = append(texts, x)
		}
	}
	for i, x := range texts {
		a := inkOf(x)
		for _, y := range texts[:i] {
			b := inkOf(y)
			if a.X < b.X+b.W-0.01 && b.X < a.X+a.W-0.01 && a.Y < b.Y+b.H-0.01 && b.Y < a.Y+a.H-0.01 {
				t.Errorf("%s: %q lies on %q", where, x.String, y.String)
			}
		}
	}
}
