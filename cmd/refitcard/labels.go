package main

import (
	"fmt"

	"github.com/spf13/pflag"

	"refitcard/render/document"
	"refitcard/render/sheet"
)

func labelsTask() task {
	return task{
		name: "labels", args: "[options] FILE|FOLDER|- …",
		purpose: "make the labels of the hardware bags, PDF",
		example: `refitcard labels end-cover.md --first 4

end-cover.md -> SD-114-C-labels.pdf
`,
		options: func(set *pflag.FlagSet, o *options) {
			o.output(set, "`FILE`, FOLDER/ or - (else beside the source, named by number and revision)")
			o.formatOf(set, "pdf", "boxes")
			set.StringVar(&o.paper, "paper", "", "a4 or letter (else letter where the card is on it, else a4)")
			set.IntVar(&o.first, "first", 1, "the first free place `N` of a sheet already begun, counted along the rows")
			set.StringVar(&o.stock, "stock", "", "`MEASURES` of the label sheet in mm, such as \""+sheet.StockForm+"\"")
			set.StringVar(&o.units, "units", "", "which unit prints first: metric or us")
			set.StringVar(&o.variant, "variant", "", "one `VARIANT` only")
			o.common(set)
		},
		run: runLabels,
	}
}

func runLabels(s *session) (int, error) {
	opt, err := s.labelOptions()
	if err != nil {
		return 0, err
	}
	return s.makeEach(func(c compiled) ([]made, error) {
		return s.eachVariant(c, func(variant string) (made, error) { return s.labels(c, variant, opt) })
	})
}

// labelOptions reads how the sheet of labels is cut.
func (s *session) labelOptions() (sheet.LabelOptions, error) {
	opt := sheet.LabelOptions{Paper: s.opt.paper, First: s.opt.first}
	if s.opt.first < 1 {
		return opt, usageError{fmt.Sprintf("--first %d: places count from 1", s.opt.first), "--first 1"}
	}
	if s.opt.stock == "" {
		return opt, nil
	}
	stock, err := sheet.ParseStock(s.opt.stock)
	if err != nil {
		return opt, usageError{err.Error(), "--stock \"" + sheet.StockForm + "\""}
	}
	opt.Stock = &stock
	return opt, nil
}

// labels makes the labels of one variant.
func (s *session) labels(c compiled, variant string, opt sheet.LabelOptions) (made, error) {
	if opt.Paper == "" {
		opt.Paper = s.officePaper(c)
	}
	page, err := sheet.LayLabels(s.labelled(c, variant), opt)
	if err != nil {
		return made{}, err
	}
	return s.drawn(c, page, variant, "labels")
}

func (s *session) labelled(c compiled, variant string) *document.Labels {
	return document.MakeLabels(pickInput(c, variant), document.Options{Variant: variant, Units: s.opt.units})
}
