// Package reference holds what is published: the tables of threads, strengths, widths, drives and friction, as CSV with their
// source, edition, unit and status at the head. It is the only home of such figures, and does no more than read them.
package reference

import (
	"crypto/sha256"
	"embed"
	"encoding/csv"
	"encoding/hex"
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"refitcard/compiler/quantity"
)

//go:embed *.csv
var files embed.FS

// Table is one published table as it stands in its file.
type Table struct {
	Name    string // of its file, without ".csv"
	Title   string
	Source  string
	Edition string
	Unit    string
	Status  string   // what the words of the status column mean
	Notes   []string // how it is to be read
	Differs []string // where published sources disagree, and what is done about it
	Columns []string
	Rows    [][]string
}

// Digest names a table and the first eight bytes of the SHA-256 of its file, in hexadecimal.
type Digest struct{ Name, Digest string }

// Names lists the tables in alphabetical order.
func Names() []string {
	entries, err := files.ReadDir(".")
	if err != nil {
		panic("reference: " + err.Error()) // impossible: the files are built in
	}
	var names []string
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), ".csv"))
	}
	return names
}

// Digests gives the digest of every table, in alphabetical order: two builds with equal digests judge by equal figures.
func Digests() []Digest {
	var all []Digest
	for _, name := range Names() {
		sum := sha256.Sum256(raw(name))
		all = append(all, Digest{name, hex.EncodeToString(sum[:8])})
	}
	return all
}

func raw(name string) []byte {
	b, err := files.ReadFile(name + ".csv")
	if err != nil {
		panic("reference: no table " + strconv.Quote(name)) // impossible: names are those of Names
	}
	return b
}

// Open reads a table of Names.
func Open(name string) Table {
	t, err := parse(name, string(raw(name)))
	if err != nil {
		panic("reference: " + err.Error()) // impossible: the tests read every table
	}
	return t
}

// parse reads the head, lines "# word: text", and the rows below it. Every word of the head but note and differs must stand
// there once.
func parse(name, text string) (Table, error) {
	t := Table{Name: name}
	single := map[string]*string{"title": &t.Title, "source": &t.Source, "edition": &t.Edition, "unit": &t.Unit, "status": &t.Status}
	for strings.HasPrefix(text, "# ") {
		line, rest, _ := strings.Cut(text[2:], "\n")
		text = rest
		word, words, _ := strings.Cut(line, ": ")
		switch field := single[word]; {
		case field != nil && *field == "":
			*field = words
		case word == "note":
			t.Notes = append(t.Notes, words)
		case word == "differs":
			t.Differs = append(t.Differs, words)
		default:
			return t, fmt.Errorf("%s: the head has %q", name, line)
		}
	}
	for word, field := range single {
		if *field == "" {
			return t, fmt.Errorf("%s: the head has no %s", name, word)
		}
	}
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return t, fmt.Errorf("%s: %w", name, err)
	}
	if len(rows) < 2 {
		return t, fmt.Errorf("%s: it has no rows", name)
	}
	t.Columns, t.Rows = rows[0], rows[1:]
	return t, nil
}

// cells gives what a column of a row holds, by the column's name.
func (t Table) cells(row []string) func(column string) string {
	return func(column string) string {
		for i, c := range t.Columns {
			if c == column {
				return row[i]
			}
		}
		panic("reference: " + t.Name + " has no column " + strconv.Quote(column)) // impossible: the tests read every column
	}
}

// number reads a figure or a fraction such as 1-1/8; an empty cell is 0.
func number(cell string) float64 {
	if cell == "" {
		return 0
	}
	sum := new(big.Rat)
	for _, piece := range strings.SplitN(cell, "-", 2) {
		r, ok := new(big.Rat).SetString(piece)
		if !ok {
			panic("reference: " + strconv.Quote(cell) + " is no number") // impossible: the tests read every cell
		}
		sum.Add(sum, r)
	}
	f, _ := sum.Float64()
	return f
}

// in converts a figure in a unit to the unit of reference of its kind (m, Pa).
func in(cell, unit string) float64 {
	u, ok := quantity.UnitNamed(unit)
	if !ok {
		panic("reference: no unit " + strconv.Quote(unit)) // impossible: the tests read every row
	}
	factor, _ := u.Factor()
	f, _ := factor.Float64()
	return number(cell) * f
}

func millimetres(cell, unit string) float64 {
	if unit == "mm" {
		return number(cell)
	}
	return in(cell, unit) * 1000
}
