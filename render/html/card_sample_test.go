package html_test

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	nethtml "golang.org/x/net/html"

	"refitcard/compiler"
	"refitcard/compiler/rules"
	"refitcard/render/document"
	"refitcard/render/html"
)

// libraryCards gives the cards of the sample library by file and variant.
func libraryCards(t *testing.T) map[string]*document.JobCard {
	t.Helper()
	lib := compiler.Open(os.DirFS("../../procedures"), func(path string) string { return path })
	files, err := os.ReadDir("../../procedures")
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]*document.JobCard{}
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".md") {
			continue
		}
		r, err := lib.Compile(f.Name(), rules.Options{})
		if err != nil {
			t.Fatal(err)
		}
		variants := []string{""}
		for i, v := range r.Proc.Variants {
			variants = append(variants[:i], v.Value)
		}
		for _, v := range variants {
			all[strings.TrimSuffix(f.Name(), ".md")+v] = document.Card(r.Proc, r.Plays, r.Settings, document.Options{Variant: v})
		}
	}
	if len(all) < 15 {
		t.Fatalf("only %d cards were made", len(all))
	}
	return all
}

// full has every block, with everything in it that a block can say.
func full() *document.JobCard {
	words := func(s string) []document.Run {
		return []document.Run{{Text: s + " "}, {Text: "4 flap bolts", Bold: true, Keep: true}, {Text: "P-7", Mono: true}, {Text: " by hand.", Keep: true}}
	}
	plan := document.Layout{Part: "flap", Places: []document.Place{{X: 0, Y: 0, Order: 1}, {X: 8, Y: 0, Order: 3}, {X: 0, Y: 4, Order: 6}, {X: 8, Y: 4}}}
	picture := document.Figure{Key: "flap.svg", Type: "svg", Data: []byte(`<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`), Caption: "the flap"}
	danger := document.Panel{Signal: "DANGER", Hazard: words("Falling flap."), Consequence: words("It kills."), Avoid: words("Prop it.")}
	return &document.JobCard{
		Header:   document.Header{Number: "FV-1", Revision: "A", Title: "Change the flap", Machine: "Outfall 3", Date: "3 May 2026", Digest: "ABCD-EFGH", Variant: "DN300", Draft: true, Payload: "FV-1 A ABCDEFGH"},
		Foot:     document.Foot{Lead: "Card looks wrong?", Wrong: "Tell the foreman.", Statement: "The maker comes first."},
		Language: "en",
		Blocks: []document.Block{
			document.Heading{Text: "Before you start", Help: "read all of it"},
			document.Facts{Facts: []document.Fact{{Label: "People", Value: "2"}}},
			danger,
			document.Line{Lead: "Wear:", Runs: words("waders")},
			document.Glance{Lists: []document.GlanceList{{Head: "Tools", Wide: true, Items: []document.GlanceItem{{Name: "spanner"}}}, {Head: "New parts", Items: []document.GlanceItem{{Count: "4", Name: "bolts"}}}}},
			document.Stage{Title: "Strip", Range: "steps 1 to 2"},
			document.Note{Runs: words("The flap is heavy."), Head: true},
			picture,
			document.Step{
				Name: "1", Number: 1, Panels: []document.Panel{danger, {Signal: "NOTICE", Hazard: words("Paint scratches.")}},
				Condition: document.Condition{If: "the flap sticks", For: []string{"DN300"}, Repeat: "2 times", Times: 2, Takes: "4 min"},
				Before:    []document.Block{document.Note{Runs: words("Mind the tide.")}, picture, plan, document.Pile{Name: "pack", Layers: []string{"1 plate", "2 felts"}, Target: "9–11 mm"}},
				Acts: []document.Act{
					{Runs: words("Remove"), Tick: true, Check: 4, Lines: []string{"Else call."}, Figures: []document.Figure{picture}},
					{
						Runs: words("Torque"), Torque: &document.TorqueBox{Figure: "22", Unit: "N·m", Second: "16", SecondUnit: "lbf·ft", Angle: "then 90°", Set: "set 22", Dial: "dial 19.1"},
						Passes: &document.Passes{Unit: "N·m", SecondUnit: "lbf·ft", Rows: []document.Pass{{Name: "Pass 1", Figure: "11", Second: "8"}, {Name: "Pass 2", Figure: "22", Second: "16"}}, Layout: &plan, Below: "Same order in each pass; start at 1."},
					},
					{Runs: words("Measure"), Tick: true, Boxes: []document.MeasureBox{{Place: "1", Limits: "12–18", Unit: "mm", Lines: []int{1}}, {Limits: "≥ 3", Unit: "bar", Lines: []int{2}}, {Lines: []int{3}}}},
				},
			},
			document.Step{Name: "2", Number: 2, Condition: document.Condition{Otherwise: true}, Acts: []document.Act{
				{Runs: []document.Run{{Text: "Wait "}, {Text: "10 min", Bold: true}, {Text: "."}}, Tick: true},
				{Hold: &document.Hold{For: "the supervisor", Why: "to see the pins.", Line: 7, Next: "3"}},
				{Handover: &document.Handover{Lines: []document.HandoverLine{{Label: "Off", Words: "1 flap"}}}},
			}},
			plan,
			document.Pile{Name: "stack", Layers: []string{"shim"}},
			document.TorqueTable{Unit: "N·m", SecondUnit: "lbf·ft", Rows: []document.TorqueRow{{Step: "1", What: "flap bolts", Figure: "22", Unit: "N·m", Second: "16", SecondUnit: "lbf·ft", Then: "then 90°"}}},
			document.After{Lines: []document.Line{{Lead: "After the job:", Runs: words("look again")}}},
		},
		End: document.End{Steps: 2, Boxes: 8, Then: "Now finish the record sheet."},
		Record: &document.Record{
			Boxes: []document.RecordBox{{Label: "Serial number"}, {Label: "Technician"}, {Label: "Finished, date and time"}},
			Lines: document.RecordLines{
				Torques:   []document.RecordTorque{{Line: 5, Step: "1", Count: "4", What: "flap bolts, M10", NewtonMetres: "22", PoundFeet: "16"}},
				Gauges:    []document.RecordGauge{{Line: 6, Tool: "steel rule", Steps: "1, 2"}},
				Handovers: []document.RecordHold{{Line: 8, Step: "2"}},
				Parts:     []document.RecordPart{{Line: 9, Step: "1", Count: "4", Name: "flap bolts", Number: "P-7", More: "if renewed"}},
			},
		},
	}
}

func cardText(t *testing.T, c *document.JobCard) string {
	t.Helper()
	var b bytes.Buffer
	if err := html.Card(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// tree parses a page as a browser does.
func tree(t *testing.T, text string) *nethtml.Node {
	t.Helper()
	root, err := nethtml.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return root
}

// elementsOf lists the elements of a page in order; those named, or all.
func elementsOf(root *nethtml.Node, names ...string) []*nethtml.Node {
	var all []*nethtml.Node
	for n := range root.Descendants() {
		if n.Type == nethtml.ElementNode && (len(names) == 0 || slices.Contains(names, n.Data)) {
			all = append(all, n)
		}
	}
	return all
}

func attr(n *nethtml.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// told gives the words of an element, with single blanks, without style and script.
func told(n *nethtml.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == nethtml.TextNode && d.Parent.Data != "script" && d.Parent.Data != "style" {
			b.WriteString(d.Data)
		}
	}
	return oneLine(b.String())
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

func runsText(runs []document.Run) string {
	s := ""
	for _, r := range runs {
		s += r.Text
	}
	return oneLine(s)
}

// boxesOf gives the words beside each box to tick that the card asks for, in order.
func boxesOf(c *document.JobCard) []string {
	var want []string
	for _, b := range c.Blocks {
		s, ok := b.(document.Step)
		if !ok {
			continue
		}
		if s.Condition.If != "" {
			want = append(want, "not needed, step "+s.Name)
		}
		for i := range s.Condition.Times {
			want = append(want, fmt.Sprintf("step %s, time %d", s.Name, i+1))
		}
		for _, a := range s.Acts {
			if a.Tick {
				want = append(want, runsText(a.Runs))
			}
			if a.Passes != nil {
				for _, r := range a.Passes.Rows {
					want = append(want, r.Name)
				}
			}
		}
	}
	return want
}

func allCards(t *testing.T) map[string]*document.JobCard {
	cards := libraryCards(t)
	cards["full"] = full()
	return cards
}
