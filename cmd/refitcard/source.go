package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"refitcard/compiler/source"
	"refitcard/render/pdf"
	"refitcard/render/sheet"
)

func sourceTask() task {
	return task{
		name: "source", args: "[options] CARD.pdf|-",
		purpose: "give back the exact source out of a card, and tell whether it has the digest printed there",
		example: `refitcard source SD-114-C-card.pdf

SD-114-C-card.pdf -> end-cover.md
SD-114 C: the source has the digest printed on the card, 4F7K-29QD
`,
		options: func(set *pflag.FlagSet, o *options) {
			o.output(set, "`FILE`, FOLDER/ or - (else beside the card; only a FILE named here is written over)")
			set.BoolVar(&o.quiet, "quiet", false, "say nothing when all is well")
		},
		run: runSource,
	}
}

// largestCard is how large a PDF file may be that is looked into, in bytes.
const largestCard = 256 << 20

// A held is one source file out of a card.
type held struct {
	place string // slash-separated, from the library's folder as it was then
	data  []byte
}

// cardInside is what a card holds.
type cardInside struct {
	files           []held // the procedure, then what it includes, in order
	number          string // number and revision, "SD-114 C"; empty when the card doesn't hold its content
	digest, printed string // of the files, and the one on the first page, "" for none; both as "4F7K-29QD"
}

func runSource(s *session) (int, error) {
	if len(s.args) != 1 {
		return 0, usageError{fmt.Sprintf("%s named, and one card is needed", countOf(len(s.args), "file")), "refitcard source CARD.pdf"}
	}
	name := s.args[0]
	raw, err := s.readCard(name)
	if err != nil {
		return 0, err
	}
	card, err := openCard(raw)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", name, err)
	}
	if len(card.files) == 0 {
		return 0, usageError{fmt.Sprintf("%s: there is no source in this file", name), "name a job card: no other sheet holds its source"}
	}
	if err := s.give(name, card.files); err != nil {
		return 0, err
	}
	if card.printed != card.digest {
		prints := "and the card prints " + card.printed
		if card.printed == "" {
			prints = "and the card prints none"
		}
		s.say("refitcard: %s: the source has the digest %s, %s\n  do  find out who changed which of the two, before anybody works by them\n", name, card.digest, prints)
		return found, nil
	}
	if !s.opt.quiet {
		s.say("%s: the source has the digest printed on the card, %s\n", card.number, card.digest)
	}
	return done, nil
}

// readCard reads the file that is named, or standard input.
func (s *session) readCard(name string) ([]byte, error) {
	in := s.In
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, missing(name, err)
		}
		defer f.Close()
		if info, err := f.Stat(); err == nil && info.IsDir() {
			return nil, usageError{fmt.Sprintf("%q is a folder", name), "name one card in it"}
		}
		in = f
	}
	raw, err := io.ReadAll(io.LimitReader(in, largestCard+1))
	if err != nil {
		return nil, fmt.Errorf("can't read %q: %w", name, rootCause(err))
	}
	if len(raw) > largestCard {
		return nil, fmt.Errorf("%s: the file is larger than any card", name)
	}
	return raw, nil
}

// openCard finds in a card its source, and the digest that stands on its first page.
func openCard(raw []byte) (cardInside, error) {
	attached, err := pdf.Attached(raw)
	if err != nil {
		return cardInside{}, err
	}
	strings, err := pdf.Printed(raw)
	if err != nil {
		return cardInside{}, err
	}
	card := cardInside{number: numberOf(attached), printed: printedDigest(strings)}
	var files []*source.File
	for _, a := range attached {
		at, ok := placeOf(a)
		if !ok {
			continue
		}
		card.files = append(card.files, held{at, a.Data})
		files = append(files, source.New(at, at, a.Data))
	}
	digest := source.Digest(files...)
	card.digest = digest[:4] + "-" + digest[4:]
	return card, nil
}

// placeOf gives where a file stood in the library; ok is false for one that is no source.
func placeOf(a sheet.Attachment) (place string, ok bool) {
	for _, said := range []string{theSource, theIncluded} {
		if place, ok = strings.CutPrefix(a.Description, said); ok {
			return place, true
		}
	}
	return "", false
}

// numberOf reads number and revision from the content that is held beside the source.
func numberOf(attached []sheet.Attachment) string {
	var content struct {
		Header struct{ Number, Revision string }
	}
	for _, a := range attached {
		if a.Description == theContent && json.Unmarshal(a.Data, &content) == nil {
			return strings.TrimSpace(content.Header.Number + " " + content.Header.Revision)
		}
	}
	return "a card without a number"
}

var digestShape = regexp.MustCompile(`^[A-Z2-7]{4}-[A-Z2-7]{4}$`)

// printedDigest finds the digest among the strings of a page.
func printedDigest(strings []string) string {
	for _, s := range strings {
		if digestShape.MatchString(s) {
			return s
		}
	}
	return ""
}

// give writes the files of a card: all of them, or none.
func (s *session) give(card string, files []held) error {
	to, err := s.outputs(len(files) > 1)
	if err != nil {
		return err
	}
	if s.opt.out == "-" {
		if len(files) > 1 {
			return usageError{fmt.Sprintf("standard output takes one file, and this card holds %d", len(files)), "-o FOLDER/"}
		}
		_, err := s.Out.Write(files[0].data)
		return err
	}
	names, err := s.placesFor(card, files)
	if err != nil {
		return err
	}
	first := map[string]int{}
	for i, name := range names { // a file that is taken in twice is held twice
		if k, twice := first[name]; twice && !bytes.Equal(files[k].data, files[i].data) {
			return fmt.Errorf("%s: two files in this card would both be %q", card, filepath.ToSlash(name))
		}
		first[name] = i
	}
	plainly := s.opt.out != "" && !to.many && !endsInSeparator(s.opt.out) && !isFolder(s.opt.out)
	var there []bool
	for i, name := range names {
		same, err := stands(name, files[i].data, plainly)
		if err != nil {
			return err
		}
		there = append(there, same)
	}
	return s.writeAll(card, names, files, there)
}

// writeAll writes what is not there yet. When one can't be written, those before it go again.
func (s *session) writeAll(card string, names []string, files []held, there []bool) error {
	var written []string
	for i, name := range names {
		if there[i] {
			continue
		}
		_, before := os.Lstat(name)
		var err error
		if strings.Contains(files[i].place, "/") && len(files) > 1 {
			err = os.MkdirAll(filepath.Dir(name), 0o755)
		}
		if err == nil {
			err = s.writeSource(name, files[i].data)
		}
		if err != nil {
			for _, w := range written {
				os.Remove(w)
			}
			return err
		}
		if errors.Is(before, fs.ErrNotExist) {
			written = append(written, name)
		}
	}
	if s.opt.quiet {
		return nil
	}
	for i, name := range names {
		state := ""
		if there[i] {
			state = ", which stood there already"
		}
		s.say("%s -> %s%s\n", card, filepath.ToSlash(name), state)
	}
	return nil
}

// writeSource writes to a name that was typed, or to one that the card gives.
func (s *session) writeSource(name string, data []byte) error {
	if name == s.opt.out {
		return s.writeNamed(name, data)
	}
	return s.writeWhole(name, data)
}

// placesFor gives the name to write each file to. Several keep their places to each other, so that the includes are found.
func (s *session) placesFor(card string, files []held) ([]string, error) {
	folder := "."
	if card != "-" {
		folder = filepath.Dir(card)
	}
	switch out := s.opt.out; {
	case out == "":
	case len(files) == 1 && !endsInSeparator(out) && !isFolder(out):
		a, err1 := os.Stat(card)
		b, err2 := os.Stat(out)
		if err1 == nil && err2 == nil && os.SameFile(a, b) {
			return nil, usageError{"the source can't be written over the card that it comes from", "-o another name"}
		}
		return []string{out}, nil
	default:
		folder = out
	}
	base := commonFolder(files)
	var names []string
	for _, f := range files {
		if !harmlessPlace(f.place) {
			return nil, usageError{fmt.Sprintf("the card calls its source %q, and nothing is written under such a name", f.place), "-o FILE.md"}
		}
		names = append(names, filepath.Join(folder, filepath.FromSlash(strings.TrimPrefix(f.place, base))))
		if err := staysIn(folder, path.Dir(strings.TrimPrefix(f.place, base))); err != nil {
			return nil, err
		}
	}
	return names, nil
}

// staysIn tells whether a place below a folder lies in it, whatever links stand on the way there.
func staysIn(folder, place string) error {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil // it is not there yet, and holds no links
	}
	defer root.Close()
	if _, err := root.Stat(filepath.FromSlash(place)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("can't write below %q: %w", filepath.ToSlash(filepath.Join(folder, place)), rootCause(err))
	}
	return nil
}

// commonFolder is the folder that all files lie below, with a slash at its end; empty for the library's own.
func commonFolder(files []held) string {
	base := path.Dir(files[0].place) + "/"
	for _, f := range files {
		for base != "./" && !strings.HasPrefix(f.place, base) {
			base = path.Dir(strings.TrimSuffix(base, "/")) + "/"
		}
	}
	return strings.TrimPrefix(base, "./")
}

// harmlessPlace tells whether a file may be written at a place that a card names: a card may come from anywhere. It has to lie
// below the folder, be Markdown, and be seen when the folder is listed.
func harmlessPlace(place string) bool {
	hidden := func(part string) bool { return part == "" || strings.HasPrefix(part, ".") }
	return filepath.IsLocal(filepath.FromSlash(place)) && !strings.ContainsFunc(place, func(r rune) bool { return r < ' ' || r == 0x7f || r == '\\' || r == ':' }) &&
		strings.EqualFold(path.Ext(place), ".md") && !slices.ContainsFunc(strings.Split(place, "/"), hidden)
}

// stands tells whether a file is there already, byte for byte. Another one in its place is an error, unless it was named
// plainly on the command line.
func stands(name string, data []byte, plainly bool) (bool, error) {
	before, err := os.ReadFile(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return false, nil
	case err == nil && bytes.Equal(before, data):
		return true, nil
	case plainly:
		return false, nil // what is no file fails when it is written
	case err != nil:
		return false, fmt.Errorf("can't write %q: %w", name, rootCause(err))
	}
	return false, usageError{fmt.Sprintf("%q stands there already, with other content: nothing was written", filepath.ToSlash(name)), "-o FOLDER/ for another place, or -o " + filepath.ToSlash(name) + " to write over it"}
}
