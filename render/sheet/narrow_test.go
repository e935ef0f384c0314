package sheet

import (
	"testing"

	"refitcard/render/document"
)

// However little room there is, every letter is set, and nothing goes round in circles.
func TestWordsAreBrokenInNoRoom(t *testing.T) {
	for _, room := range []float64{-5, 0, 0.1, 1} {
		got := ""
		for _, l := range newParagraph([]document.Run{{Text: "cover gasket, M8"}}).lines(11, room) {
			for _, a := range l.atoms {
				got += a.text
			}
		}
		if got != "covergasket,M8" {
			t.Errorf("in %g mm: %q", room, got)
		}
	}
}

// A pick list can be made on every paper, its ink inside the margins.
func TestPickListsOnSmallPaper(t *testing.T) {
	row := document.PickRow{Bin: "S2-17", Draw: "2 × 1 L", Item: "gear oil", Detail: "ISO VG 220", Needs: "1.4 L", First: "12a"}
	list := &document.PickList{
		Header: document.Header{Kind: "Pick list", Number: "SD-1", Revision: "A", Title: "Ease the trash rake", Payload: "SD-1 A ABCDEFGH", Digest: "ABCD-EFGH"},
		Parts:  []document.PickRow{row}, Supplies: []document.PickRow{row, row},
		Tools: []document.PickRow{{Bin: "T1", Draw: "1", Item: "torque wrench", Detail: "5–50 N·m", Signed: true, First: "3"}}, ToolsInAll: 1,
		Bags: []document.Bag{{Letter: "A", Count: 12, Item: "cover bolt", Detail: "M8×30", Off: "2", On: "12"}},
	}
	for _, paper := range papers {
		for _, side := range []bool{false, true} {
			d, err := LayPick(list, Options{Paper: paper.name, Landscape: side})
			if err != nil {
				t.Errorf("%s, on its side %v: %v", paper.name, side, err)
				continue
			}
			for n, p := range d.Pages {
				for _, o := range p.Ops {
					x, ok := o.(Text)
					if !ok {
						continue
					}
					if right := x.X + textWidth(x.Face, x.String, x.Size); x.X < 9.99 || right > d.Width-9.99 && x.String[len(x.String)-1] != ' ' {
						t.Errorf("%s, on its side %v, page %d: %q stands from %.1f to %.1f of %.1f mm", paper.name, side, n+1, x.String, x.X, right, d.Width)
					}
				}
			}
		}
	}
}
