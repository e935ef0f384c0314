package keys_test

import (
	"strings"
	"testing"

	"refitcard/compiler/keys"
	"refitcard/compiler/source"
)

// read reads text that stands between the lines of a front matter.
func read(text string) (*source.File, *keys.Map, []source.Fault) {
	f := source.New("a.md", "a.md", []byte("---\n"+text+"---\n"))
	m, faults := keys.Read(f, f.At(4, 4+len(text)))
	return f, m, faults
}

func TestValuesStayAsTheyWereTyped(t *testing.T) {
	for typed, want := range map[string]string{
		"revision: 1.10":           `"1.10"`,
		"number: 012":              `"012"`,
		"number: 0x1F":             `"0x1F"`,
		"number: 1e3":              `"1e3"`,
		"ready: yes":               `"yes"`,
		"date: 2026-11-20":         `"2026-11-20"`,
		"title: ~":                 `"~"`,
		"title: \"a: \\\"b\\\"\"":  `"a: \"b\""`,
		"title: 'it''s off'":       `"it's off"`,
		"people: [1 fitter, 2]":    `["1 fitter", "2"]`,
		"after:\n  - SD-1\n  - Ü2": `["SD-1", "Ü2"]`,
		"bags: {a: 1, b: [x]}":     `{a: "1", b: ["x"]}`,
		"machine: Schöpfwerk № 3":  `"Schöpfwerk № 3"`,
	} {
		_, m, faults := read(typed + "\n")
		if len(faults) > 0 || len(m.Entries) != 1 {
			t.Errorf("%q: %d entries, faults %v", typed, len(m.Entries), faults)
			continue
		}
		if got := m.Entries[0].Value.String(); got != want {
			t.Errorf("%q reads as %s, want %s", typed, got, want)
		}
	}
}

func TestSpansAreWhatWasTyped(t *testing.T) {
	const text = "title: Ölwechsel am Pumpwerk  # once a year\nnumber: \"SD-1\"\nafter: ['x y', z]\nlong: >\n  two\n  lines\n"
	_, m, faults := read(text)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	want := map[string]string{
		"title": "Ölwechsel am Pumpwerk", "number": `"SD-1"`, "after": "['x y', z", "long": ">",
	}
	for _, e := range m.Entries {
		if e.KeyAt.Text() != e.Key {
			t.Errorf("key %q stands at %q", e.Key, e.KeyAt.Text())
		}
		if got := strings.TrimPrefix(e.Value.At.Text(), "["); got != strings.TrimPrefix(want[e.Key], "[") {
			t.Errorf("%s: the value stands at %q, want %q", e.Key, got, want[e.Key])
		}
	}
	if e, ok := m.Get("number"); !ok || e.Value.Text != "SD-1" {
		t.Errorf("number is %q", e.Value.Text)
	}
	if _, ok := m.Get("none"); ok {
		t.Error("a key that is not there was found")
	}
}

func TestARepeatedKeyIsKeptApart(t *testing.T) {
	_, m, _ := read("title: a\nnumber: 1\ntitle: b\n")
	if len(m.Entries) != 2 || len(m.Repeated) != 1 || m.Repeated[0].Value.Text != "b" {
		t.Errorf("%d entries, repeats %v", len(m.Entries), m.Repeated)
	}
	if e, _ := m.Get("title"); e.Value.Text != "a" {
		t.Errorf("the title is %q", e.Value.Text)
	}
}

func TestWhatIsRefusedIsNamedAtItsLine(t *testing.T) {
	for text, line := range map[string]int{
		"title: a: b\n":                        2,
		"title: a\nnumber: [1\nrevision: B\n":  3,
		"title: a\nnumber: \"1\nrevision: B\n": 3,
		"title: &x a\n":                        2,
		"title: a\nnumber: *x\n":               3,
		"title: !!int 3\n":                     2,
		"- a\n- b\n":                           2,
		"just words\n":                         2,
		"a: &a [1, 1]\nb: &b [*a, *a]\n":       2,
	} {
		f, m, faults := read(text)
		if m == nil || len(faults) == 0 {
			t.Errorf("%q was taken: %v", text, m)
			continue
		}
		if got := f.Line(faults[0].At.Start); got != line || faults[0].Name != "file/bad-value" {
			t.Errorf("%q: %s at line %d, want line %d", text, faults[0].Name, got, line)
		}
	}
}

func TestDaysOfTheCalendar(t *testing.T) {
	for s, want := range map[string]bool{
		"2026-11-20": true, "2024-02-29": true, "2025-02-29": false, "2025-02-30": false, "2026-13-01": false,
		"20261120": false, "2026-1-2": false, "20.11.2026": false, "": false,
	} {
		if keys.Date(s) != want {
			t.Errorf("%q is a day: %v, want %v", s, !want, want)
		}
	}
}

// FuzzRead holds that every span lies in the text that was read, and that a plain value stands where its span says.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"title: a\n", "a: [b, c]\n", "a: {b: c}\n", "a: |\n  b\n", "a: \"b\\\"\"\n", "a: 'b'''\n", "a:\n - b\n", "? a\n: b\n",
		"a: b\u2028c\nd: e\n", "a: b\u0085c\nd: e\n", "a: b\rc: d\n", "a: \U0001d11e\nb: c\n", "\ufeffa: b\n", "a: b\n---\nc: d\n",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		file := source.New("a.md", "a.md", []byte("x\n"+text))
		m, faults := keys.Read(file, file.At(2, len(file.Text)))
		for _, fault := range faults {
			if fault.At.File != file || fault.At.Start > fault.At.End || fault.At.End > len(file.Text) {
				t.Errorf("a fault at %d to %d", fault.At.Start, fault.At.End)
			}
		}
		var walk func(v keys.Value)
		walk = func(v keys.Value) {
			if v.At.Start < 2 || v.At.End < v.At.Start || v.At.End > len(file.Text) {
				t.Errorf("%s stands at %d to %d of %d", v, v.At.Start, v.At.End, len(file.Text))
			}
			for _, e := range v.List {
				walk(e)
			}
			if v.Map != nil {
				for _, e := range append(v.Map.Entries, v.Map.Repeated...) {
					walk(e.Value)
				}
			}
		}
		for _, e := range append(m.Entries, m.Repeated...) {
			walk(e.Value)
		}
	})
}
