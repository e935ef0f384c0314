package document_test

import (
	"bytes"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"refitcard/compiler"
	"refitcard/compiler/rules"
	"refitcard/render/document"
)

// blankFilled is what the page of a card saves before anything is typed.
func blankFilled(r *document.Record) *document.Filled {
	h := r.Header
	none := document.FilledValue{Verdict: document.NoReading}
	f := &document.Filled{
		Schema: document.FilledSchema, Kind: document.FilledKind, Saved: "2026-11-25 14:32",
		Card: document.FilledCard{Number: h.Number, Revision: h.Revision, Variant: h.Variant, Title: h.Title, Machine: h.Machine, Date: h.Date, Digest: h.Digest},
	}
	for _, b := range r.Boxes {
		f.Boxes = append(f.Boxes, document.FilledBox{Label: b.Label})
	}
	for _, x := range r.Lines.Readings {
		if x.Tick {
			f.Ticks = append(f.Ticks, document.FilledTick{Line: x.Line, Step: x.Step, Box: x.What})
			continue
		}
		limits, unit, _ := strings.Cut(x.Limits, " ")
		if strings.HasPrefix(limits, "≥") || strings.HasPrefix(limits, "≤") || strings.Contains(x.Limits, " ±") {
			i := strings.LastIndex(x.Limits, " ")
			limits, unit = x.Limits[:i], x.Limits[i+1:]
		}
		f.Readings = append(f.Readings, document.FilledReading{Line: x.Line, Step: x.Step, Act: x.What, Limits: limits, Unit: unit, Found: none, Left: none})
	}
	for _, x := range r.Lines.Holds {
		f.Holds = append(f.Holds, document.FilledHold{Line: x.Line, Step: x.Step, For: x.Who})
	}
	for _, x := range r.Lines.Torques {
		f.Written = append(f.Written, document.FilledWords{Line: x.Line, Column: document.WrenchSerial}, document.FilledWords{Line: x.Line, Column: document.CalibratedTo})
	}
	for _, x := range r.Lines.Parts {
		f.Written = append(f.Written, document.FilledWords{Line: x.Line, Column: document.Batch})
	}
	return f
}

// written gives a filled record as the page writes it, read again.
func written(t *testing.T, f *document.Filled) ([]byte, *document.Filled) {
	t.Helper()
	raw, err := json.MarshalIndent(f, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	again, err := document.ReadFilled(bytes.NewReader(raw))
	if err != nil {
		t.Fatalf("%v\n%s", err, raw)
	}
	return raw, again
}

// What is typed stands on the record sheet at its line, and nothing else does.
func TestWhatIsFilledInStandsOnItsLine(t *testing.T) {
	looked := 0
	eachJob(t, func(name string, r compiler.Result, in document.PickInput) {
		record := document.MakeRecord(in)
		f := blankFilled(record)
		if len(f.Boxes) > 0 {
			f.Boxes[0].Typed = "0210"
		}
		for i := range f.Readings {
			x := &f.Readings[i]
			x.Found.Typed = "0,5"
			x.Found.Verdict = document.Judge("0,5", x.Limits, x.Unit)
		}
		at := "2026-11-25 14:30"
		for i := range f.Ticks {
			f.Ticks[i].Ticked, f.Ticks[i].Settled = &at, true
		}
		_, f = written(t, f)
		if wrong := record.Fill(f); len(wrong) > 0 {
			t.Fatalf("%s: %q", name, wrong)
		}
		if record.Boxes[0].Typed != "0210" || record.Boxes[1].Typed != "" {
			t.Errorf("%s: boxes %+v", name, record.Boxes)
		}
		for _, x := range record.Lines.Readings {
			looked++
			_, unit, _ := strings.Cut(x.Limits, " ")
			switch {
			case x.Tick && (x.Ticked != at || x.Found.Words != ""):
				t.Errorf("%s: check %d: %+v", name, x.Line, x)
			case !x.Tick && (x.Found.Words == "" || unit == "" && x.Found.Words != "0,5" || x.Left.Words != "" || x.Ticked != ""):
				t.Errorf("%s: reading %d: %+v", name, x.Line, x)
			}
		}
		if n := record.Unread(); len(n) > 0 {
			t.Errorf("%s: lines %d are empty", name, n)
		}
		if !strings.Contains(record.Filled, "2026-11-25 14:32") {
			t.Errorf("%s: %q", name, record.Filled)
		}
	})
	if looked < 100 {
		t.Errorf("only %d lines were looked for", looked)
	}
}

// What no font has is named: the record comes onto paper whole.
func TestOddCharactersAreNamed(t *testing.T) {
	record := oneJob(t)
	f := blankFilled(record)
	f.Boxes[0].Typed, f.Remarks = "Łódź  0210", "Fine \U0001f44d\u0301.\n\n It\tholds. "
	if wrong := record.Fill(f); len(wrong) > 0 {
		t.Fatal(wrong)
	}
	if got := record.Boxes[0].Typed; got != "Łódź 0210" {
		t.Errorf("%q", got)
	}
	if got := record.Remarks; len(got) != 2 || !strings.HasPrefix(got[0], "Fine [U+1F44D]") || got[1] != "It holds." {
		t.Errorf("%q", got)
	}
}

// oneJob gives the record of the winch's end cover.
func oneJob(t *testing.T) *document.Record {
	t.Helper()
	var record *document.Record
	eachJob(t, func(name string, r compiler.Result, in document.PickInput) {
		if strings.HasPrefix(name, "rake-winch-end-cover") {
			record = document.MakeRecord(in)
		}
	})
	if record == nil || len(record.Lines.Readings) < 3 {
		t.Fatal("the record of the end cover is not there")
	}
	return record
}

// A record of another card, or one that was changed, is refused, and leaves the sheet as it was.
func TestARecordOfAnotherCardIsRefused(t *testing.T) {
	reading := func(f *document.Filled) *document.FilledReading { return &f.Readings[0] }
	for name, c := range map[string]struct {
		spoil func(*document.Filled)
		want  string
	}{
		"another card":       {func(f *document.Filled) { f.Card.Number = "FV-1" }, `it was filled in on card "FV-1", and the source makes "SD-114"`},
		"another revision":   {func(f *document.Filled) { f.Card.Revision = "B" }, `it was filled in on revision "B", and the source makes "C"`},
		"another source":     {func(f *document.Filled) { f.Card.Digest = "AAAA-AAAA" }, `it was filled in on digest "AAAA-AAAA"`},
		"another variant":    {func(f *document.Filled) { f.Card.Variant = "RW40" }, `it was filled in on variant "RW40", and the source makes ""`},
		"other limits":       {func(f *document.Filled) { reading(f).Limits = "0–99" }, `is no reading of step`},
		"another step":       {func(f *document.Filled) { reading(f).Step = "1" }, `is no reading of step "1"`},
		"a verdict changed":  {func(f *document.Filled) { reading(f).Found.Typed, reading(f).Found.Verdict = "99", document.Within }, `the file calls the reading "99" "within limits"`},
		"a verdict left out": {func(f *document.Filled) { reading(f).Left.Typed = "99" }, `and by the limits`},
		"an unknown line":    {func(f *document.Filled) { reading(f).Line = 99 }, `line 99 of the record sheet is no reading`},
		"an unknown box":     {func(f *document.Filled) { f.Boxes[0].Label = "Colour" }, `the record sheet has no box "Colour"`},
		"an unknown column":  {func(f *document.Filled) { f.Written[0].Column = "Signature" }, `has no column "Signature"`},
		"an unknown check":   {func(f *document.Filled) { f.Ticks[0].Line = 99 }, `line 99 of the record sheet is no check`},
	} {
		record := oneJob(t)
		f := blankFilled(record)
		c.spoil(f)
		wrong := record.Fill(f)
		if len(wrong) != 1 || !strings.Contains(wrong[0], c.want) {
			t.Errorf("%s: %q, want %q", name, wrong, c.want)
		}
		if record.Filled != "" {
			t.Errorf("%s: the sheet says %q", name, record.Filled)
		}
	}
}

// Nothing is read but what the page writes.
func TestOnlyWhatThePageWritesIsRead(t *testing.T) {
	raw, _ := written(t, blankFilled(oneJob(t)))
	text := string(raw)
	for name, c := range map[string]struct{ text, want string }{
		"nothing":           {"", "is not JSON"},
		"another text":      {"<html>", "is not JSON"},
		"another object":    {`{"schema": 1, "kind": "list"}`, "does not say that it is a"},
		"a later schema":    {strings.Replace(text, `"schema": 1`, `"schema": 2`, 1), `has the schema "2", and this program reads 1`},
		"a key too many":    {strings.Replace(text, `"schema": 1`, `"colour": "red", "schema": 1`, 1), "colour"},
		"a key twice":       {strings.Replace(text, `"schema": 1`, `"schema": 1, "schema": 1`, 1), `"schema" stands twice`},
		"a key in capitals": {strings.Replace(text, `"saved"`, `"Saved"`, 1), `"saved" is missing`},
		"a key missing":     {strings.Replace(text, `"unit": "mm",`, ``, 1), `"readings.unit" is missing`},
		"a list for a word": {strings.Replace(text, `"saved": "2026-11-25 14:32"`, `"saved": []`, 1), `"saved" has the kind "array"`},
		"two of them":       {text + text, "JSON"},
		"a control":         {strings.Replace(text, `14:32"`, `14:32\u001b[2J"`, 1), "control character"},
		"a new verdict":     {strings.Replace(text, `"no reading"`, `"fine"`, 1), `"fine" is no verdict`},
		"a long field":      {strings.Replace(text, `14:32"`, strings.Repeat("x", 300)+`"`, 1), "longer than a field"},
		"a long text":       {strings.Replace(text, `"remarks": ""`, `"remarks": "`+strings.Repeat("x", 5000)+`"`, 1), "a text of 5000 characters"},
		"no UTF-8":          {strings.Replace(text, "14:32", "\xff", 1), "not UTF-8"},
		"too large":         {text + strings.Repeat(" ", 5<<20), "larger than any filled record"},
	} {
		if c.text == text {
			t.Fatalf("%s: nothing was spoilt", name)
		}
		if _, err := document.ReadFilled(strings.NewReader(c.text)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

func TestReadingsAreJudged(t *testing.T) {
	for _, c := range []struct{ typed, limits, unit, want string }{
		{"", "12–18", "mm", document.NoReading},
		{" \u00a0", "12–18", "mm", document.NoReading},
		{"12", "12–18", "mm", document.Within},
		{"18,0", "12–18", "mm", document.Within},
		{"18,01", "12–18", "mm", document.TooHigh},
		{"12 1/2", "12–18", "mm", document.Within},
		{"−13", "12–18", "mm", document.TooLow},
		{"–5", "−5–5", "°C", document.Within},
		{".5", "≥ 0.5", "mm", document.Within},
		{"0.49", "≥ 0.5", "mm", document.TooLow},
		{"1/8", "≤ 1/8", "in", document.Within},
		{"3.11", "3.0 ±0.1", "mm", document.TooHigh},
		{"1/0", "12–18", "mm", document.NoFigure},
		{"1,234.5", "12–18", "mm", document.NoFigure},
		{"1e1", "12–18", "mm", document.NoFigure},
		{"14 mm", "12–18", "mm", document.NoFigure},
		{strings.Repeat("9", 41), "12–18", "mm", document.NoFigure},
		{"14", "", "mm", document.NotJudged},
		{"like new", "", "", document.NotJudged},
		{"like new", "", "mm", document.NoFigure},
	} {
		if got := document.Judge(c.typed, c.limits, c.unit); got != c.want {
			t.Errorf("%q of %q %s: %q, want %q", c.typed, c.limits, c.unit, got, c.want)
		}
		if !slices.Contains(document.Verdicts(), c.want) {
			t.Errorf("%q is not in the list", c.want)
		}
	}
}

// Whatever stands in a file: it is refused with a sentence, or it says the same when it is written again, and goes into a record
// sheet or is refused there.
func FuzzReadFilled(f *testing.F) {
	lib := compiler.Open(os.DirFS("../../procedures"), func(path string) string { return path })
	jobs := map[string]document.PickInput{}
	for _, name := range []string{"rake-winch-end-cover.md", "coupling-alignment.md"} {
		r, err := lib.Compile(name, rules.Options{})
		if err != nil {
			f.Fatal(err)
		}
		jobs[name] = document.PickInput{Proc: r.Proc, Plays: r.Plays, Settings: r.Settings}
		raw, err := json.Marshal(blankFilled(document.MakeRecord(jobs[name])))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(raw)
		f.Add(bytes.Replace(raw, []byte(`"typed":""`), []byte(`"typed":"12,5"`), 2))
	}
	f.Add([]byte(`{"schema":1,"kind":"filled record of a job card"}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		filled, err := document.ReadFilled(bytes.NewReader(raw))
		if err != nil {
			if err.Error() == "" || strings.HasSuffix(err.Error(), ".") {
				t.Errorf("the error is %q", err)
			}
			return
		}
		first, again := written(t, filled)
		second, _ := written(t, again)
		if !bytes.Equal(first, second) {
			t.Errorf("%s is written again as %s", first, second)
		}
		for _, in := range jobs {
			record := document.MakeRecord(in)
			if wrong := record.Fill(filled); len(wrong) == 0 && record.Filled == "" {
				t.Error("the record is neither filled nor refused")
			}
		}
	})
}
