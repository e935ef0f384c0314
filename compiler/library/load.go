package library

import (
	"encoding/csv"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strconv"
	"strings"

	"refitcard/compiler/keys"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// File is the name of a library's settings file, which stands at its root.
const File = "refitcard.yaml"

// The limits on what is read, in bytes.
const (
	maxSettings = 256 << 10
	maxList     = 8 << 20
)

// settingKeys lists the keys that a settings file may have.
var settingKeys = []string{"shop", "units", "paper", "distance", "statement", "wrong", "crib", "stock", "lift", "verbs", "severities"}

// SettingKeys lists the keys of a settings file.
func SettingKeys() []string { return slices.Clone(settingKeys) }

// The columns of the lists that settings name; the first has to be there.
var (
	cribColumns  = []string{"tool", "crib", "serial", "calibrated_to"}
	stockColumns = []string{"item", "number", "bin", "pack", "held"}
)

// CribColumns lists the columns of a tool crib's list.
func CribColumns() []string { return slices.Clone(cribColumns) }

// StockColumns lists the columns of a stock list.
func StockColumns() []string { return slices.Clone(stockColumns) }

// Papers lists the papers by the names that settings and front matter use.
var Papers = []string{"a4", "a4-landscape", "a5", "a5-landscape", "a6", "a6-landscape", "letter", "letter-landscape", "half-letter", "half-letter-landscape"}

// Load reads the settings at the root of a library. Without a settings file it gives those of a procedure on its own.
func Load(fsys fs.FS) *Settings {
	s := &Settings{Distance: 600, Verbs: verb.Standard(), Severities: map[string]string{}, SevereAt: map[string]source.Span{}}
	raw, err := ReadFile(fsys, File, maxSettings+1)
	if err != nil {
		return s
	}
	if len(raw) > maxSettings {
		s.File = source.New(File, File, nil)
		s.Faults = []source.Fault{{Name: "file/too-large", At: s.File.At(0, 0), Words: []string{"bytes in the settings"}, Counts: []int{len(raw), maxSettings}}}
		return s
	}
	s.File = source.New(File, File, raw)
	s.sources = append(s.sources, s.File)
	m, faults := keys.Read(s.File, s.File.At(0, len(s.File.Text)))
	s.Faults = faults
	for _, e := range m.Repeated {
		first, _ := m.Get(e.Key)
		s.Faults = append(s.Faults, source.Fault{Name: "file/repeated-key", At: e.KeyAt, Words: []string{e.Key}, Related: []source.Related{{At: first.KeyAt, Words: "first here"}}})
	}
	for _, e := range m.Entries {
		s.set(fsys, e)
	}
	return s
}

func (s *Settings) bad(e keys.Entry, want string) {
	s.Faults = append(s.Faults, source.Fault{Name: "file/bad-value", At: e.Value.At, Words: []string{e.Key, e.Value.At.Text(), want}})
}

func (s *Settings) set(fsys fs.FS, e keys.Entry) {
	text := e.Value.Text
	if e.Value.Kind != keys.Scalar && e.Key != "verbs" && e.Key != "severities" {
		s.bad(e, "one value")
		return
	}
	switch e.Key {
	case "shop":
		s.Shop = text
	case "statement":
		s.Statement = text
	case "wrong":
		s.Wrong = text
	case "units":
		if s.Units = text; text != "metric" && text != "us" {
			s.Units = ""
			s.bad(e, "metric or us")
		}
	case "paper":
		s.Paper = s.paper(e)
	case "distance":
		d, err := strconv.ParseFloat(strings.TrimSuffix(text, " mm"), 64)
		if err != nil || d < 200 || d > 3000 {
			s.bad(e, "millimetres from 200 to 3000")
			return
		}
		s.Distance = d
	case "lift":
		v, p := quantity.Parse(text)
		if p != nil || v.Unit.Kind != quantity.Mass {
			s.bad(e, "a mass, such as 25 kg")
			return
		}
		s.Lift = &v
	case "verbs":
		s.verbs(e)
	case "severities":
		s.severities(e)
	case "crib":
		s.lists = append(s.lists, text)
		s.rows(fsys, e, cribColumns, func(at source.Span, c []string) {
			if c[3] != "" && !keys.Date(c[3]) {
				s.badCell(at, "calibrated_to", c[3], "a day such as 2027-03-31")
				c[3] = ""
			}
			s.Crib = append(s.Crib, CribLine{c[0], c[1], c[2], c[3], at})
		})
	case "stock":
		s.lists = append(s.lists, text)
		s.rows(fsys, e, stockColumns, func(at source.Span, c []string) {
			s.Stock = append(s.Stock, StockLine{c[0], c[1], c[2], c[3], s.held(at, c[4]), at})
		})
	default:
		s.Faults = append(s.Faults, source.Fault{Name: "file/unknown-key", At: e.KeyAt, Words: []string{e.Key, verb.Near(e.Key, settingKeys)}})
	}
}

func (s *Settings) paper(e keys.Entry) string {
	name := strings.ReplaceAll(strings.ToLower(e.Value.Text), " ", "-")
	for _, p := range Papers {
		if p == name {
			return p
		}
	}
	s.bad(e, strings.Join(Papers, ", "))
	return ""
}

// verbs reads the shop's own pairs: a list of {verb: set up, undone: strike down}.
func (s *Settings) verbs(e keys.Entry) {
	var pairs [][2]string
	for _, v := range e.Value.List {
		open, _ := v.Map.Get("verb")
		shut, _ := v.Map.Get("undone")
		if v.Kind != keys.Mapping || open.Value.Text == "" || shut.Value.Text == "" {
			s.bad(keys.Entry{Key: "verbs", Value: v}, "a pair such as {verb: set up, undone: strike down}")
			continue
		}
		pairs = append(pairs, [2]string{open.Value.Text, shut.Value.Text})
	}
	made, refused := s.Verbs.With(pairs)
	s.Verbs = made
	for _, r := range refused {
		s.Faults = append(s.Faults, source.Fault{Name: "file/bad-value", At: e.Value.At, Words: []string{"verbs", r, "verbs that the program does not have yet"}})
	}
}

func (s *Settings) severities(e keys.Entry) {
	if e.Value.Kind != keys.Mapping {
		if e.Value.Text != "" {
			s.bad(e, "lines such as wording/long: advice")
		}
		return
	}
	for _, rule := range e.Value.Map.Entries {
		if t := rule.Value.Text; t != "error" && t != "warning" && t != "advice" {
			s.bad(rule, "error, warning or advice")
			continue
		}
		s.Severities[rule.Key], s.SevereAt[rule.Key] = rule.Value.Text, rule.KeyAt
	}
}

// rows reads a CSV list of the library. Its head names the columns, in any order; columns not asked for are passed over, but a
// name that is nearly that of one asked for is a slip. The first column has to be there, and filled in each line.
func (s *Settings) rows(fsys fs.FS, e keys.Entry, columns []string, use func(source.Span, []string)) {
	name := e.Value.Text
	raw, err := ReadFile(fsys, name, maxList+1)
	if err != nil || len(raw) > maxList {
		s.bad(e, fmt.Sprintf("the name of a CSV file of the library, of %d MiB at most", maxList>>20))
		return
	}
	file := source.New(name, name, raw)
	s.sources = append(s.sources, file)
	r := csv.NewReader(strings.NewReader(string(file.Text)))
	r.Comment, r.FieldsPerRecord = '#', -1
	head, err := r.Read()
	if err != nil {
		s.bad(e, "a CSV file with the columns "+strings.Join(columns, ", "))
		return
	}
	place := s.head(lineAt(file, r), head, columns)
	if _, ok := place[columns[0]]; !ok {
		s.badCell(lineAt(file, r), "", strings.Join(head, ","), "a head with the columns "+strings.Join(columns, ", "))
		return
	}
	for {
		row, err := r.Read()
		if err == io.EOF {
			return
		}
		if err != nil {
			s.bad(e, "a CSV file that can be read: "+err.Error())
			return
		}
		cells := make([]string, len(columns))
		for i, c := range columns {
			if at, ok := place[c]; ok && at < len(row) {
				cells[i] = strings.TrimSpace(row[at])
			}
		}
		if cells[0] == "" {
			s.badCell(lineAt(file, r), columns[0], strings.Join(row, ","), "a name in the column "+columns[0])
			continue
		}
		use(lineAt(file, r), cells)
	}
}

// head finds the columns of a list.
func (s *Settings) head(at source.Span, head, columns []string) map[string]int {
	place := map[string]int{}
	for i, h := range head {
		place[strings.ToLower(strings.TrimSpace(h))] = i
	}
	for h := range place {
		near := verb.Near(strings.ReplaceAll(h, " ", "_"), columns)
		if _, there := place[near]; near != "" && !there && !slices.Contains(columns, h) {
			s.Faults = append(s.Faults, source.Fault{Name: "file/unknown-key", At: at, Words: []string{h, near}})
		}
	}
	return place
}

// lineAt is the line of a list that was read last.
func lineAt(file *source.File, r *csv.Reader) source.Span {
	line, _ := r.FieldPos(0)
	return file.LineSpan(line)
}

func (s *Settings) badCell(at source.Span, column, text, want string) {
	s.Faults = append(s.Faults, source.Fault{Name: "file/bad-value", At: at, Words: []string{column, text, want}})
}

// held is how many lie there; -1 where the list does not say.
func (s *Settings) held(at source.Span, text string) int {
	if text == "" {
		return -1
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 {
		s.badCell(at, "held", text, "how many lie there: a whole number, of pieces or of packs")
		return -1
	}
	return n
}

// Show names the settings file and its lists as people are shown files.
func (s *Settings) Show(shown func(path string) string) {
	for _, f := range s.sources {
		f.Name = shown(f.Path)
	}
}

// Files lists the files of the library that settings come from: the settings file and its lists.
func (s *Settings) Files() []string {
	if s.File == nil {
		return nil
	}
	return append([]string{File}, s.lists...)
}
