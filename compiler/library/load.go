package library

import (
	"encoding/csv"
	"fmt"
	"io/fs"
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

// Papers lists the papers by the names that settings and front matter use.
var Papers = []string{"a4", "a4-landscape", "a5", "a5-landscape", "a6", "a6-landscape", "letter", "letter-landscape", "half-letter", "half-letter-landscape"}

// Load reads the settings at the root of a library. Without a settings file it gives those of a procedure on its own.
func Load(fsys fs.FS) *Settings {
	s := &Settings{Distance: 600, Verbs: verb.Standard(), Severities: map[string]string{}}
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
		s.rows(fsys, e, []string{"tool", "crib", "serial", "calibrated_to"}, func(at source.Span, c []string) {
			s.Crib = append(s.Crib, CribLine{c[0], c[1], c[2], c[3], at})
		})
	case "stock":
		s.lists = append(s.lists, text)
		s.rows(fsys, e, []string{"item", "number", "bin", "pack"}, func(at source.Span, c []string) {
			s.Stock = append(s.Stock, StockLine{c[0], c[1], c[2], c[3], at})
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
		s.Severities[rule.Key] = rule.Value.Text
	}
}

// rows reads a CSV list of the library. Its head names the columns, in any order; columns not asked for are passed over.
func (s *Settings) rows(fsys fs.FS, e keys.Entry, columns []string, use func(source.Span, []string)) {
	name := e.Value.Text
	raw, err := ReadFile(fsys, name, maxList+1)
	if err != nil || len(raw) > maxList {
		s.bad(e, fmt.Sprintf("the name of a CSV file of the library, of %d MiB at most", maxList>>20))
		return
	}
	file := source.New(name, name, raw)
	r := csv.NewReader(strings.NewReader(string(file.Text)))
	r.Comment, r.FieldsPerRecord = '#', -1
	all, err := r.ReadAll()
	if err != nil || len(all) == 0 {
		s.bad(e, "a CSV file with the columns "+strings.Join(columns, ", "))
		return
	}
	place := map[string]int{}
	for i, h := range all[0] {
		place[strings.ToLower(strings.TrimSpace(h))] = i
	}
	for _, row := range all[1:] {
		cells := make([]string, len(columns))
		for i, c := range columns {
			if at, ok := place[c]; ok && at < len(row) {
				cells[i] = strings.TrimSpace(row[at])
			}
		}
		use(source.Span{File: file}, cells)
	}
}

// Files lists the files of the library that settings come from: the settings file and its lists.
func (s *Settings) Files() []string {
	if s.File == nil {
		return nil
	}
	return append([]string{File}, s.lists...)
}
