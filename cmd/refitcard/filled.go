package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"refitcard/compiler/rules"
	"refitcard/render/document"
)

// filledRecord makes the record sheet of one procedure with what was filled in on a tablet. It is made only of the very card that
// was filled in: readings on another revision's sheet would be a false record.
func (s *session) filledRecord() (int, error) {
	filled, err := readFilled(s.opt.filled)
	if err != nil {
		return 0, err
	}
	if v := s.opt.variant; v != "" && v != filled.Card.Variant {
		on := "a card that has no variants"
		if filled.Card.Variant != "" {
			on = fmt.Sprintf("the card for %q", filled.Card.Variant)
		}
		return 0, usageError{s.opt.filled + " was filled in on " + on, "leave out --variant"}
	}
	jobs, err := s.jobs()
	if err != nil {
		return 0, err
	}
	if len(jobs) != 1 {
		return 0, usageError{fmt.Sprintf("%s named, and one filled record belongs to one", countOf(len(jobs), "procedure")), "refitcard record FILE --filled RECORD.json"}
	}
	to, err := s.outputs(false)
	if err != nil {
		return 0, err
	}
	code := done
	err = s.compileAll(jobs, rules.Options{}, func(c compiled) error {
		if c.err != nil {
			return fmt.Errorf("%s: %w", c.shown, rootCause(c.err))
		}
		if err := s.tell(c.Findings, 1); err != nil {
			return err
		}
		if c.Failed() {
			code = found
			return nil
		}
		code, err = s.putFilled(to, c, filled)
		return err
	})
	return code, err
}

// putFilled writes the sheet, named after the filled record and beside it, so that each record has a sheet of its own.
func (s *session) putFilled(to *outputs, c compiled, filled *document.Filled) (int, error) {
	variant, err := variantOf(c, filled.Card.Variant)
	if err != nil {
		return 0, err
	}
	record := document.MakeRecord(pickInput(c, variant))
	if wrong := record.Fill(filled); len(wrong) > 0 {
		for _, w := range wrong {
			fmt.Fprintf(s.Err, "refitcard: %s: %s\n", s.opt.filled, w)
		}
		fmt.Fprintf(s.Err, "  do  %s\n", otherSource(record, filled.Card))
		return found, nil
	}
	m, err := s.laidRecord(c, record, variant, s.plainPaper(c))
	if err != nil {
		return 0, fmt.Errorf("%s: %w", s.opt.filled, err)
	}
	base := strings.TrimSuffix(filepath.Base(s.opt.filled), filepath.Ext(s.opt.filled))
	name, err := to.put(filepath.Dir(s.opt.filled), base+"-sheet"+filepath.Ext(m.base), m.data)
	if err != nil {
		return 0, err
	}
	if name != "-" && !s.opt.quiet {
		fmt.Fprintf(s.Err, "%s and %s -> %s\n", c.shown, s.opt.filled, filepath.ToSlash(name))
		s.tellOpen(record)
	}
	return done, nil
}

// variantOf gives the variant that a record was filled in for.
func variantOf(c compiled, name string) (string, error) {
	var names []string
	for _, v := range c.Proc.Variants {
		names = append(names, v.Value)
	}
	switch {
	case name == "" || slices.Contains(names, name):
		return name, nil
	case len(names) == 0:
		return "", fmt.Errorf("the record was filled in for the variant %q, and %s has none", name, c.shown)
	}
	return "", fmt.Errorf("the record was filled in for the variant %q, and %s has %s", name, c.shown, strings.Join(names, ", "))
}

// otherSource says what to do with a record that does not belong to a source.
func otherSource(record *document.Record, card document.FilledCard) string {
	switch h := record.Header; {
	case card.Number != h.Number:
		return "name the procedure of card " + card.Number
	case card.Revision != h.Revision || card.Digest != h.Digest:
		return "take the source of the card that was filled in: refitcard source CARD.pdf gives it out of a printed one"
	}
	return "save the record again on the tablet: this file is not as its page writes it for this source"
}

// tellOpen says what a person still has to look at.
func (s *session) tellOpen(record *document.Record) {
	for _, n := range []struct {
		lines []int
		say   string
	}{
		{record.OutOfLimits(), "a reading is out of limits: the sheet says so"},
		{record.Unread(), "nothing was read or ticked: fill in or strike out by hand"},
	} {
		if len(n.lines) > 0 {
			lines := "line"
			if len(n.lines) > 1 {
				lines = "lines"
			}
			fmt.Fprintf(s.Err, "  %s %s: %s\n", lines, strings.ReplaceAll(strings.Trim(fmt.Sprint(n.lines), "[]"), " ", ", "), n.say)
		}
	}
}

// readFilled reads the file that a card's page saved.
func readFilled(name string) (*document.Filled, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, missing(name, err)
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return nil, usageError{fmt.Sprintf("%q is a folder", name), "name the file that the card's page saved"}
	}
	filled, err := document.ReadFilled(f)
	if err != nil {
		return nil, usageError{fmt.Sprintf("%s: %v", name, err), "name the file that the card's page saved, as it was saved"}
	}
	return filled, nil
}
