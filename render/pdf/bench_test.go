package pdf_test

import (
	"io"
	"runtime"
	"testing"
	"time"

	"github.com/go-pdf/fpdf"

	"refitcard/render/pdf"
	"refitcard/render/sheet"
)

// bare puts the same words and boxes on pages with fpdf alone and a font that is not embedded: the least that a card can cost.
func bare(b *testing.B, d *sheet.Document) {
	b.Helper()
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: d.Width, Ht: d.Height}})
	for _, p := range d.Pages {
		f.AddPage()
		for _, o := range p.Ops {
			switch o := o.(type) {
			case sheet.Text:
				f.SetFont("Helvetica", "", o.Size)
				f.Text(o.X, o.Y, o.String)
			case sheet.Rect:
				f.SetLineWidth(o.Stroke * 25.4 / 72)
				f.Rect(o.X, o.Y, o.W, o.H, "D")
			case sheet.Line:
				f.SetLineWidth(o.Width * 25.4 / 72)
				f.Line(o.X1, o.Y1, o.X2, o.Y2)
			}
		}
	}
	if err := f.Output(io.Discard); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkWrite gives the time to draw a sheet as a multiple of bare fpdf's with the same words and boxes, in one run.
func BenchmarkWrite(b *testing.B) {
	d := sample(b)
	d.Pages[0].Ops = d.Pages[0].Ops[:16] // a card has words and lines, seldom pictures
	d.Pages[1].Ops = d.Pages[1].Ops[:2]
	for range 3 { // as much on a page as a card has
		for i := range d.Pages {
			d.Pages[i].Ops = append(d.Pages[i].Ops, d.Pages[i].Ops...)
		}
	}
	var ours, theirs time.Duration
	const row = 20 // one behind the other, so that each collects its own garbage and not the other's
	for b.Loop() {
		runtime.GC()
		begun := time.Now()
		for range row {
			if err := pdf.Write(io.Discard, d); err != nil {
				b.Fatal(err)
			}
		}
		ours += time.Since(begun)
		runtime.GC()
		begun = time.Now()
		for range row {
			bare(b, d)
		}
		theirs += time.Since(begun)
	}
	b.ReportMetric(float64(ours)/float64(theirs), "×bare-fpdf")
}
