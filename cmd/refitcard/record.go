package main

import (
	"strings"

	"github.com/spf13/pflag"

	"refitcard/render/document"
	"refitcard/render/sheet"
)

func recordTask() task {
	return task{
		name: "record", args: "[options] FILE|FOLDER|- …",
		purpose: "make the record sheet, PDF, to fill in, sign and file; or with what was filled in on a tablet",
		example: `refitcard record end-cover.md --punch left

end-cover.md -> SD-114-C-record.pdf
`,
		options: func(set *pflag.FlagSet, o *options) {
			o.output(set, "`FILE`, FOLDER/ or - (else beside the source, named by number and revision)")
			o.formatOf(set, "pdf", "boxes")
			set.StringVar(&o.paper, "paper", "", "a4, letter, a5-landscape, … (else letter where the card is on it, else a4)")
			set.StringVar(&o.variant, "variant", "", "one `VARIANT` only")
			set.StringVar(&o.punch, "punch", "", "leave room for holes: left or top")
			set.StringVar(&o.filled, "filled", "", "with what was filled in on a tablet: `RECORD.json`, as the card's page saves it")
			o.common(set)
		},
		run: func(s *session) (int, error) {
			if s.opt.filled != "" {
				return s.filledRecord()
			}
			return s.makeEach(s.records)
		},
	}
}

// records makes the record sheets of one procedure, one a variant.
func (s *session) records(c compiled) ([]made, error) {
	return s.eachVariant(c, func(variant string) (made, error) { return s.record(c, variant, s.plainPaper(c)) })
}

// eachVariant makes one output for each variant asked for.
func (s *session) eachVariant(c compiled, make func(variant string) (made, error)) ([]made, error) {
	variants, err := s.variants(c)
	if err != nil {
		return nil, err
	}
	var all []made
	for _, v := range variants {
		m, err := make(v)
		if err != nil {
			return nil, err
		}
		all = append(all, m)
	}
	return all, nil
}

// record makes the record sheet of one variant on a paper.
func (s *session) record(c compiled, variant, paper string) (made, error) {
	in := pickInput(c, variant)
	in.Units = s.opt.units
	return s.laidRecord(c, document.MakeRecord(in), variant, paper)
}

// laidRecord draws a record sheet, blank or filled in.
func (s *session) laidRecord(c compiled, record *document.Record, variant, paper string) (made, error) {
	page, err := sheet.LayRecord(record, sheet.Options{Paper: paper, Punch: s.opt.punch})
	if err != nil {
		return made{}, err
	}
	return s.drawn(c, page, variant, "record")
}

// officePaper is the paper that an office prints on, whatever the card's is: Letter where that is on Letter or half of it.
func (s *session) officePaper(c compiled) string {
	if strings.Contains(s.paper(c.Proc, c.Settings), "letter") {
		return "letter"
	}
	return "a4"
}
